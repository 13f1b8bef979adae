"""Matches hand-tool sets to drawer cabinets: organizers laid out, groups assigned to drawers, verdicts with proofs.

The names below are loaded when first used, so that importing the package stays cheap.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matcher.catalogue import read_catalogue
    from matcher.comparison import compare
    from matcher.cutting import cut
    from matcher.house import default_house, read_house
    from matcher.measuring.applying import measure
    from matcher.offer import limits_of, plan_offer
    from matcher.planning import plan
    from matcher.report.frames import (
        bundle_table,
        comparison_table,
        plan_table,
        size_table,
        step_table,
        trade_off_table,
    )
    from matcher.report.pair_files import pairs_frame
    from matcher.screening import screen
    from matcher.spreading import crew_of
    from matcher.variants import steps

__all__ = [
    "bundle_table",
    "compare",
    "comparison_table",
    "crew_of",
    "cut",
    "default_house",
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

_HOMES = {
    "bundle_table": "matcher.report.frames",
    "compare": "matcher.comparison",
    "comparison_table": "matcher.report.frames",
    "crew_of": "matcher.spreading",
    "cut": "matcher.cutting",
    "default_house": "matcher.house",
    "limits_of": "matcher.offer",
    "measure": "matcher.measuring.applying",
    "pairs_frame": "matcher.report.pair_files",
    "plan": "matcher.planning",
    "plan_offer": "matcher.offer",
    "plan_table": "matcher.report.frames",
    "read_catalogue": "matcher.catalogue",
    "read_house": "matcher.house",
    "screen": "matcher.screening",
    "size_table": "matcher.report.frames",
    "step_table": "matcher.report.frames",
    "steps": "matcher.variants",
    "trade_off_table": "matcher.report.frames",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
