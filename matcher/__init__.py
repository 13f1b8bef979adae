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
    from matcher.variants import steps

__all__ = [
    "bundle_table",
    "compare",
    "comparison_table",
    "cut",
    "default_house",
    "limits_of",
    "measure",
    "plan",
    "plan_offer",
    "plan_table",
    "read_catalogue",
    "read_house",
    "size_table",
    "step_table",
    "steps",
    "trade_off_table",
]

_HOMES = {
    "bundle_table": "matcher.report.frames",
    "compare": "matcher.comparison",
    "comparison_table": "matcher.report.frames",
    "cut": "matcher.cutting",
    "default_house": "matcher.house",
    "limits_of": "matcher.offer",
    "measure": "matcher.measuring.applying",
    "plan": "matcher.planning",
    "plan_offer": "matcher.offer",
    "plan_table": "matcher.report.frames",
    "read_catalogue": "matcher.catalogue",
    "read_house": "matcher.house",
    "size_table": "matcher.report.frames",
    "step_table": "matcher.report.frames",
    "steps": "matcher.variants",
    "trade_off_table": "matcher.report.frames",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
