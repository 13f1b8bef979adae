"""House rules: defaults from ``defaults/house.toml``, overridden key by key from a planner's ``house.toml``."""

from matcher.house.reading import default_house, read_house
from matcher.house.rules import HeightRules, House, LayoutRules, PocketRules, Work

__all__ = ["HeightRules", "House", "LayoutRules", "PocketRules", "Work", "default_house", "read_house"]
