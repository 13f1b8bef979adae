"""How freely the lines of a layout may lie, from what a person would lay by hand to all that the house allows.

Common practice, no source: where there is room, long tools lie one way in straight lines, heads one way; next a series
is broken into stretches, then tools are set back, then directions are mixed, then heads lie end for end. That drives
lie in two bands comes last, with heads one way first, and is a choice of our own.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from matcher.house import LayoutRules

Stance: TypeAlias = Literal["along", "across", "standing"]
"""Lying with the long axis from front to back, lying with it from left to right, standing on end."""
EITHER: tuple[Stance, ...] = ("along", "across")


@dataclass(frozen=True, slots=True)
class Style:
    """Ways in which tools may lie; whether lines of a series may lie in stretches side by side; whether every line has
    its heads on the same side; whether heads may lie end for end in a line; whether tools, and rows of standing
    ones, may be set back; whether drives may lie in two bands."""

    lying: tuple[Stance, ...] = EITHER
    stretched: bool = True
    alike: bool = False
    alternate: bool = False
    stagger: bool = False
    banded: bool = False


ORDERLY = Style()
"""Lines of any direction in stretches, heads one way in each, nothing set back."""


def freest(layout: LayoutRules) -> Style:
    """All that the house allows."""
    return Style(alternate=layout.alternate_heads, stagger=layout.stagger, banded=layout.bands)


def styles(layout: LayoutRules) -> tuple[Style, ...]:
    """The styles that the house allows, the plainest first, the freest last."""
    plain = Style(stretched=False, alike=True)
    columns = replace(freest(layout), banded=False)
    ladder = (
        *_each_way(plain),
        *_each_way(replace(plain, stretched=True)),
        *_each_way(replace(plain, stretched=True, stagger=layout.stagger)),
        replace(plain, stretched=True),
        *_each_way(columns),
        replace(columns, alternate=False),
        columns,
        *_each_way(replace(plain, stretched=True, banded=layout.bands)),
        freest(layout),
    )
    return tuple(dict.fromkeys(ladder))


def _each_way(style: Style) -> tuple[Style, Style]:
    return replace(style, lying=("along",)), replace(style, lying=("across",))
