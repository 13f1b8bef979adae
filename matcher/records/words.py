"""Words that take one of a few values."""

from __future__ import annotations

from typing import Literal, TypeAlias

System: TypeAlias = Literal["metric", "inch", ""]
Basis: TypeAlias = Literal["measured", "from standard", "estimated"]
Bound: TypeAlias = Literal["low", "likely", "high"]
"""Which value of something that is estimated."""
Slot: TypeAlias = Literal["foam", "no foam", "blocked"]
DrawerSize: TypeAlias = Literal["small", "medium", "large"]
HandReach: TypeAlias = Literal[
    "",
    "below the lower leg",
    "between lower leg and knuckle",
    "between knuckle and elbow",
    "between elbow and shoulder",
    "above the shoulder",
]
"""Where the hand is, by the house's heights of the body; blank if the drawer's height is not known."""
Fill: TypeAlias = Literal["spread", "pack"]
Verdict: TypeAlias = Literal["fits", "does not fit", "undecided"]
Scope: TypeAlias = Literal["any layout", "house layout", ""]
How: TypeAlias = Literal["as is", "shim", "trim", "re-cut", "new", "unordered", "cased"]
Wish: TypeAlias = Literal["near", "beside", "below", "left_of"]
PinRule: TypeAlias = Literal["in", "not in", "apart", "together", "keep free"]
By: TypeAlias = Literal["drive", "system"]
GoalName: TypeAlias = Literal["together", "drawers", "moves", "order", "neighbors", "recut", "reach"]
Grip: TypeAlias = Literal["good", "fair", "poor"]
Level: TypeAlias = Literal["info", "caution", "error"]
Last: TypeAlias = Literal["", "none left", "none found"]
"""After the alternatives: nothing more was looked for, there is no other plan, none was found."""

HOWS: tuple[How, ...] = ("as is", "shim", "trim", "re-cut", "new", "unordered")
"""From the least work to the most; the worse of two axes decides. Cased equipment is outside the scale."""
EVERY_HOW: tuple[How, ...] = (*HOWS, "cased")
"""All ways in, in the order in which tables count them."""
