"""CurvePoints of shape curves kept from earlier runs, named by a hash of what they were asked by and of the program."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import fields
from typing import TypeAlias

import numpy as np

from matcher.layout.poses import Rules
from matcher.records import SizedPiece, kept_name, program_hash, remembered, store_in_force

CurvePoints: TypeAlias = Sequence[tuple[int, int, int]]

ROOMS = ("house", "layout", "packing", "records", "tools")
"""The rooms whose code and tables curves come from."""
LIBRARIES = ("numpy", "shapely")
NEVER_ASKED = {"piece", "mass_low", "mass_high", "basis", "source"}
"""Fields of a sized piece that its place in a layout does not depend on, or that are told one by one."""
NEVER_ASKED_OF_ROWS = {"set", "mass", "group", "use", "two_hands"}
"""Fields of a row of the tools table that a layout does not depend on."""
COORDINATE = np.dtype("<i4")


def recalled_points(pieces: tuple[SizedPiece, ...], rules: Rules, made: Callable[[], CurvePoints]) -> CurvePoints:
    """The points (width, depth, height) of the curve of these pieces: kept by the store in force, or else ``made``.

    Tools drawn in a file are never kept: the file may change.
    """
    store = store_in_force()
    if store is None or any(piece.piece.outline for piece in pieces):
        return made()
    name = _name(_rules_in_words(rules), *map(_in_words, pieces))
    held = store.read(name)
    if held is not None and len(held) % (3 * COORDINATE.itemsize) == 0:
        return [(w, d, h) for w, d, h in np.frombuffer(held, COORDINATE).reshape(-1, 3).tolist()]
    points = made()
    store.write(name, np.array(points, COORDINATE).tobytes())
    return points


def _name(*words: str) -> str:
    return kept_name(program_hash(ROOMS, LIBRARIES), *words)


@remembered(64)
def _rules_in_words(rules: Rules) -> str:
    return repr(rules)


@remembered(16384)
def _in_words(piece: SizedPiece) -> str:
    own = [getattr(piece, one.name) for one in fields(piece) if one.name not in NEVER_ASKED]
    row = [getattr(piece.piece, one.name) for one in fields(piece.piece) if one.name not in NEVER_ASKED_OF_ROWS]
    return repr((own, row))
