"""House rules: the defaults, a file that overrides them key by key, and the records that hold them.

Reading order, from what is called first to what it stands on: `reading`, `faults`, `rules`.
"""

from matcher.house.reading import default_house, read_house
from matcher.house.rules import (
    CutRules,
    Cutter,
    HeightRules,
    House,
    LayoutRules,
    NotchRules,
    PocketRules,
    SideRules,
    WorkBudgets,
)

__all__ = [
    "CutRules",
    "Cutter",
    "HeightRules",
    "House",
    "LayoutRules",
    "NotchRules",
    "PocketRules",
    "SideRules",
    "WorkBudgets",
    "default_house",
    "read_house",
]
