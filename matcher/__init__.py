"""Matches hand-tool sets to drawer cabinets: organizers laid out, groups assigned to drawers, verdicts with proofs.

The names below are loaded when first used, so that importing the package stays cheap.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matcher.catalogue import read_catalogue
    from matcher.comparison import compare
    from matcher.house import default_house, read_house
    from matcher.planning import plan
    from matcher.report.frames import comparison_table, plan_table

__all__ = ["compare", "comparison_table", "default_house", "plan", "plan_table", "read_catalogue", "read_house"]

_HOMES = {
    "compare": "matcher.comparison",
    "comparison_table": "matcher.report.frames",
    "default_house": "matcher.house",
    "plan": "matcher.planning",
    "plan_table": "matcher.report.frames",
    "read_catalogue": "matcher.catalogue",
    "read_house": "matcher.house",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
