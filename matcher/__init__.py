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
    from matcher.report.pair_files import pairs_frame
    from matcher.screening import screen
    from matcher.spreading import crew_of

__all__ = [
    "compare",
    "comparison_table",
    "crew_of",
    "default_house",
    "pairs_frame",
    "plan",
    "plan_table",
    "read_catalogue",
    "read_house",
    "screen",
]

_HOMES = {
    "compare": "matcher.comparison",
    "comparison_table": "matcher.report.frames",
    "crew_of": "matcher.spreading",
    "default_house": "matcher.house",
    "pairs_frame": "matcher.report.pair_files",
    "plan": "matcher.planning",
    "plan_table": "matcher.report.frames",
    "read_catalogue": "matcher.catalogue",
    "read_house": "matcher.house",
    "screen": "matcher.screening",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
