"""Pieces that are longer than drawers on either side: they could lie there only at an angle."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from matcher.fitting import opening
from matcher.planning.posing import Case


def only_at_an_angle(case: Case, groups: Iterable[int], drawers: Sequence[int]) -> tuple[str, ...]:
    """The tools of these groups that lie along neither side of any of these drawers; by index, each tool once."""
    spaces = [opening(case.drawers[d], case.house) for d in drawers]
    longest = max(max(space.width, space.depth) for space in spaces) - 2 * case.house.pocket.margin
    found = (
        piece.piece.tool
        for g in groups
        for piece in case.groups[g].pieces
        if not case.groups[g].cased and max(piece.length, piece.width) + 2 * case.house.pocket.fit > longest
    )
    return tuple(dict.fromkeys(found))
