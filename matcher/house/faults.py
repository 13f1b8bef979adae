"""What is wrong with a planner's rule file: unknown keys with the nearest right one, values of the wrong kind."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from difflib import get_close_matches
from itertools import pairwise
from typing import Any, TypeAlias

from matcher.records import GoalName

Tables: TypeAlias = Mapping[str, Any]
RuleFault: TypeAlias = tuple[str, str, str]
"""Key, value, what was expected."""

GOAL_NAMES: tuple[GoalName, ...] = ("together", "drawers", "order", "neighbors", "recut", "reach")
FREE_KEYS = ("depth_share.", "depth_max_mm.")
"""Tables whose keys are kinds of tools, plus ``default``."""
HEIGHT_EDGES = ("lower_leg_mm", "knuckle_mm", "elbow_mm", "shoulder_mm")
"""Keys of ``[height]`` that must not descend."""
CHOICES = {
    "goals.fill": ("spread", "pack"),
    "lengths.unit": ("as given", "mm", "in"),
    "pocket.estimates": ("likely", "high"),
    "pocket.corner_relief": ("none", "dog-bone"),
    "layout.left": ("inch", "metric"),
    "layout.outermost": ("largest", "smallest"),
    "lift.grip": ("good", "fair", "poor"),
    "together.divide": ("needed", "no"),
    "together.mix": ("needed", "free", "no"),
}
WEIGHTS = ("together.part", "together.cut", "together.mixed")
LARGEST = {"work.seed": 2**31 - 1, "lift.hours": 8, "goals.parts_weight": 1000, **dict.fromkeys(WEIGHTS, 1000)}
LEAST_NUMBER, LARGEST_NUMBER = Decimal("0.000001"), 1_000_000_000
"""Numbers but 0 lie between these: others would take forever to be told exactly; own choice."""
LONGEST_SHOWN = 60
CUTTING = ("cut.feed_mm_min", "cut.pass_depth_mm", "cutter.diameter_mm", "cutter.reach_mm")
ABOVE_ZERO = (*WEIGHTS, "notch.width_mm", "measure.doubt_readings", *CUTTING)


def faults_in(given: Tables, defaults: Tables, path: str = "") -> Iterator[RuleFault]:
    """Yield every key that is unknown or of the wrong kind."""
    for key, value in given.items():
        name = f"{path}{key}"
        if path.endswith(FREE_KEYS):
            like: Any = defaults["default"]
        elif key in defaults:
            like = defaults[key]
        else:
            near = get_close_matches(key, defaults, n=1, cutoff=0.0)
            yield name, _shown(value), f"a known key (nearest: {near[0]})"
            continue
        if isinstance(like, dict) and isinstance(value, dict):
            yield from faults_in(value, like, f"{name}.")
        elif key == "cutter" and isinstance(value, list) and all(isinstance(row, dict) for row in value):
            for row in value:
                yield from faults_in(row, like[0], f"{name}.")
                yield from ((f"{name}.{lost}", "", "to be given") for lost in like[0] if lost not in row)
        else:
            wanted = _wrong(name, value, like)
            if wanted:
                yield name, _shown(value), wanted


def _shown(value: Any) -> str:
    """A value as it is told, cut off where it is long."""
    text = str(value)
    return text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}..."


def _wrong(name: str, value: Any, like: Any) -> str:
    """What was expected instead of ``value``, or nothing if it is of the right kind and range."""
    if isinstance(like, bool):
        return "" if isinstance(value, bool) else "true or false"
    if isinstance(like, int | Decimal):
        return _wrong_number(name, value)
    if name in CHOICES:
        return "" if value in CHOICES[name] else " or ".join(CHOICES[name])
    if name in ("goals.order", "goals.off"):
        known = isinstance(value, list) and all(goal in GOAL_NAMES for goal in value)
        if not known or len(set(value)) != len(value):
            return f"a list of goal names: {', '.join(GOAL_NAMES)}"
        if name == "goals.order" and [goal for goal in value if goal != "together"][:1] != ["drawers"]:
            return "a list that begins with drawers; only the goals after it may change places"
        if "together" in value[int(name == "goals.order") :]:
            return "a list without together, which always comes first"
        return ""
    if name == "order.swap":
        pairs = isinstance(value, list) and all(
            isinstance(pair, list) and len(pair) == 2 and all(type(tier) is int for tier in pair) for pair in value
        )
        return "" if pairs else "a list of pairs of tiers, e.g. [[4, 5]]"
    if name == "pocket.stock_mm":
        lengths = isinstance(value, list) and value and not any(_wrong_number(name, thick) for thick in value)
        return "" if lengths and min(value) > 0 else "a list of thicknesses above 0"
    if name == "cutter":
        return "tables, each [[cutter]] with diameter_mm and reach_mm"
    if isinstance(like, list):
        texts = isinstance(value, list) and all(isinstance(item, str) for item in value)
        return "" if texts else "a list of texts"
    return "a table" if isinstance(like, dict) else f"a value like {like}"


def _wrong_number(name: str, value: Any) -> str:
    if isinstance(value, bool) or not isinstance(value, int | Decimal) or not Decimal(value).is_finite():
        return "a number"
    if value < 0:
        return "a number of at least 0"
    if value == 0 and (name in ABOVE_ZERO or (name.startswith("work.") and name != "work.seed")):
        return "a number above 0"
    if name.endswith("_mm") and value > 10_000:
        return "at most 10000 mm"
    if ("share" in name) and value > 1:
        return "a share from 0 to 1"
    if value > LARGEST.get(name, value):
        return f"at most {LARGEST[name]}"
    if value and not LEAST_NUMBER <= value <= LARGEST_NUMBER:
        return f"a number from {LEAST_NUMBER} to {LARGEST_NUMBER:,}, or 0"
    whole = name in ("work.seed", "offer.max_new_sizes", "goals.parts_weight", "measure.doubt_readings", *WEIGHTS)
    return "a whole number" if whole and not isinstance(value, int) else ""


def edges_out_of_order(height: Tables) -> Iterator[RuleFault]:
    """Yield every edge of the height bands that lies below the one before it."""
    for lower, upper in pairwise(HEIGHT_EDGES):
        if height[lower] > height[upper]:
            yield f"height.{upper}", str(height[upper]), f"at least height.{lower} ({height[lower]})"


def base_unfit(pocket: Tables, cutters: Sequence[Tables]) -> Iterator[RuleFault]:
    """Yield why no pocket's floor can be the base: the base is too thin, or no sheet in stock may be cut through."""
    base, floor, off = pocket["base_mm"], pocket["floor_mm"], pocket["stock_tolerance_mm"]
    if base <= 0:
        return
    if base < floor + 2 * off:
        wanted = f"0, or at least {floor + 2 * off}: floor_mm, and twice stock_tolerance_mm for two thin sheets"
        yield "pocket.base_mm", str(base), wanted
    reach = max((row["reach_mm"] for row in cutters), default=10_000)
    limits = {f"depth_max_mm of {kind}": depth for kind, depth in pocket["depth_max_mm"].items()}
    least, name = min((depth, name) for name, depth in {"the longest reach_mm": reach, **limits}.items())
    if least < min(pocket["stock_mm"]):
        thinnest = f"the thinnest in stock_mm is {min(pocket['stock_mm'])}, {name} is {least}"
        yield "pocket.base_mm", str(base), f"0, or a sheet that every pocket may be cut through: {thinnest}"
