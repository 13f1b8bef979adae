"""Matches hand-tool sets to drawer cabinets: organizers laid out, groups assigned to drawers, verdicts with proofs.

The names below are loaded when first used, so that importing the package stays cheap.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"

if TYPE_CHECKING:
    from matcher.catalogue import read_catalogue
    from matcher.cutting import cut
    from matcher.house import default_house, read_house
    from matcher.offer import limits_of, plan_offer
    from matcher.planning import DoesNotFit, Fits, Undecided, plan
    from matcher.records import Memory, forget
    from matcher.report import (
        bundle_table,
        caution_table,
        comparison_table,
        pairs_frame,
        plan_table,
        size_table,
        step_table,
        trade_off_table,
    )
    from matcher.screening import crew_of, screen
    from matcher.studies import compare, measure, steps

_HOMES = {
    "forget": "matcher.records",
    "Memory": "matcher.records",
    "Undecided": "matcher.planning",
    "Fits": "matcher.planning",
    "DoesNotFit": "matcher.planning",
    "bundle_table": "matcher.report",
    "caution_table": "matcher.report",
    "compare": "matcher.studies",
    "comparison_table": "matcher.report",
    "crew_of": "matcher.screening",
    "cut": "matcher.cutting",
    "default_house": "matcher.house",
    "limits_of": "matcher.offer",
    "measure": "matcher.studies",
    "pairs_frame": "matcher.report",
    "plan": "matcher.planning",
    "plan_offer": "matcher.offer",
    "plan_table": "matcher.report",
    "read_catalogue": "matcher.catalogue",
    "read_house": "matcher.house",
    "screen": "matcher.screening",
    "size_table": "matcher.report",
    "step_table": "matcher.report",
    "steps": "matcher.studies",
    "trade_off_table": "matcher.report",
}
__all__ = [
    "DoesNotFit",
    "Fits",
    "Memory",
    "Undecided",
    "bundle_table",
    "caution_table",
    "compare",
    "comparison_table",
    "crew_of",
    "cut",
    "default_house",
    "forget",
    "limits_of",
    "measure",
    "pairs_frame",
    "plan",
    "plan_offer",
    "plan_table",
    "read_catalogue",
    "read_house",
    "screen",
    "size_table",
    "step_table",
    "steps",
    "trade_off_table",
]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
