"""Points of shape curves kept from earlier runs: what they are asked by, in words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields

import numpy as np
from numpy.typing import NDArray

from matcher.layout.poses import Rules
from matcher.records import SizedPiece, remembered
from matcher.store import name_of, recalled_array

NEVER_ASKED = {"piece", "mass_low", "mass_high", "basis", "source"}
"""Fields of a sized piece that its place in a layout does not depend on, or that are told one by one."""
NEVER_ASKED_OF_ROWS = {"set", "mass", "group", "use", "two_hands"}
"""Fields of a row of the tools table that a layout does not depend on."""


def recalled_points(
    pieces: tuple[SizedPiece, ...], rules: Rules, made: Callable[[], NDArray[np.int64]]
) -> NDArray[np.int64]:
    """The points (width, depth, height) of the curve of these pieces, kept or ``made``.

    Tools drawn in a file are never kept: the file may change.
    """
    if any(piece.piece.outline for piece in pieces):
        return made()
    return recalled_array(lambda: name_of("curve", _rules_in_words(rules), *map(_in_words, pieces)), made)


@remembered(64)
def _rules_in_words(rules: Rules) -> str:
    return repr(rules)


@remembered(16384)
def _in_words(piece: SizedPiece) -> str:
    own = [getattr(piece, one.name) for one in fields(piece) if one.name not in NEVER_ASKED]
    row = [getattr(piece.piece, one.name) for one in fields(piece.piece) if one.name not in NEVER_ASKED_OF_ROWS]
    return repr((own, row))
