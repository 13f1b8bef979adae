"""Numbers and lists as a planner reads them."""

from __future__ import annotations

from collections.abc import Sequence

from matcher.records import NEWTONS_PER_LBF, PER_INCH, Drawer, to_mm


def listed(things: Sequence[str]) -> str:
    """``1``, ``1 and 2``, ``1, 2 and 5``."""
    return " and ".join(filter(None, (", ".join(things[:-1]), *things[-1:])))


def drawers(names: Sequence[str]) -> str:
    """``drawer 3``, ``drawers 3 and 4``."""
    return f"drawer{'s' * (len(names) > 1)} {listed(names)}"


def in_order(boxes: Sequence[Drawer]) -> tuple[str, ...]:
    """Names of drawers by bank, row and name."""
    return tuple(box.name for box in sorted(boxes, key=lambda box: (box.bank, box.row, box.name)))


def force(newtons: float) -> str:
    """``887 N (199 lbf)``."""
    return f"{newtons:.0f} N ({newtons / NEWTONS_PER_LBF:.0f} lbf)"


def height(length: int) -> str:
    """``1219 mm (48 in)``."""
    return f"{to_mm(length):.0f} mm ({length / PER_INCH:.0f} in)"


def lowered(sentence: str) -> str:
    """A sentence to go on with after a colon."""
    return sentence[:1].lower() + sentence[1:]
