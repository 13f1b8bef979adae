"""The plainest layout that goes where an organizer was put: what a person would lay by hand where there is room.

Of the styles from plain to free the first in which anything goes in; of its layouts, for tools that only lie, the
narrowest of those with the fewest lines, and for tools that may stand the one that leaves the most room. Whether
anything goes in at all is for `admission` to say, by all that the house allows.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from matcher.fitting import Opening, fitting, roominess
from matcher.house import House
from matcher.layout import Style, styles
from matcher.records import Footprint, Group, Rectangle, remembered

Fitted: TypeAlias = tuple[Rectangle, Footprint]


@remembered(10_000)
def plainest(group: Group, place: Rectangle, space: Opening, house: House) -> tuple[Footprint, Style]:
    """Footprint and style of the plainest layout in a place of an opening, below its height.

    Raises
    ------
    ValueError
        No ordered layout goes into it.
    """
    for style in styles(house.layout):
        found = fitting(group, (place,), space, house, style)
        if found:
            best = min(_fewest_lines(group, found, style), key=lambda fit: (roominess(fit, group, house), fit))
            return best[1], style
    raise ValueError(f"no ordered layout of {group.name!r} goes in")


def _fewest_lines(group: Group, found: Sequence[Fitted], style: Style) -> list[Fitted]:
    """Of layouts whose tools all lie one way the most compact of those that have the fewest lines, else all.

    Lines behind one another add up: a field less deep than the least one and a shortest tool has no more of them.
    """
    if len(style.lying) > 1 or any(piece.diameter is not None for piece in group.pieces):
        return list(found)
    along = style.lying == ("along",)
    shortest = min(piece.length for piece in group.pieces)

    def across_lines(fit: Fitted) -> int:
        return fit[1].depth if along else fit[1].width

    def along_lines(fit: Fitted) -> int:
        return fit[1].width if along else fit[1].depth

    least = min(map(across_lines, found))
    few = [fit for fit in found if across_lines(fit) < least + shortest]
    return [min(few, key=lambda fit: (along_lines(fit), across_lines(fit), fit))]
