"""What the tables must know of the trade: words for kinds, sizes, drives, and whether a piece can be sized."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeAlias

from matcher.records import Piece, System, remembered
from matcher.tools import (
    KINDS,
    SizingError,
    ToolSize,
    doubts,
    drive_name,
    parse_drive,
    parse_size,
    sized,
    spoiled,
    tidy,
    unknown_kind,
)

__all__ = [
    "KIND_WORDS",
    "drive_word",
    "kind_word",
    "needs_of",
    "piece_doubts",
    "piece_faults",
    "size_that_tells",
    "spoiled",
    "tidy",
    "with_system",
]

Dimensions: TypeAlias = tuple[int | None, int | None, int | None, int | None]
"""Length, width, height and mass as far as given."""

KIND_WORDS = tuple(KINDS)
_LOWER = {kind.lower(): kind for kind in KINDS}


def kind_word(text: str) -> str:
    """A kind of tool, capitals aside.

    Raises
    ------
    ValueError
        No kind is called so; the text names those that may be meant.
    """
    if text.lower() not in _LOWER:
        raise ValueError(unknown_kind(text))
    return _LOWER[text.lower()]


def needs_of(kind: str) -> tuple[str, ...]:
    """The columns that a kind of tool needs."""
    return KINDS[kind].needs


def size_that_tells(piece: Piece) -> ToolSize | None:
    """The size of a piece by which, with its drive, it is the same tool as another one, however both are written.

    Nothing where it is not, as of punches, which of one size may be pin or center punches.
    """
    if not KINDS[piece.kind].has_system:
        return None
    try:
        return parse_size(piece.size, piece.system, piece.kind)
    except SizingError:
        return None


def drive_word(text: str) -> str:
    """A square drive by its inch name.

    Raises
    ------
    ValueError
        It is none of the five; the text is what was expected.
    """
    return drive_name(parse_drive(text))


def with_system(piece: Piece) -> Piece:
    """The piece, metric or inch by its size where the system was left blank and matters for its kind."""
    if piece.system or not piece.size or not KINDS[piece.kind].has_system:
        return piece
    try:
        return replace(piece, system=parse_size(piece.size, "", piece.kind).system)
    except SizingError:
        return piece


def piece_faults(piece: Piece) -> tuple[tuple[str, str], ...]:
    """(column, what was expected) of everything that a piece's row lacks for its kind, or why it cannot be sized."""
    dimensions = (piece.length, piece.width, piece.height, piece.mass)
    return _faults(piece.kind, piece.system, piece.size, piece.drive, dimensions, piece.outline)


@remembered(65_536)
def _faults(
    kind: str, system: System, size: str, drive: str, dimensions: Dimensions, outline: str
) -> tuple[tuple[str, str], ...]:
    """Equal tools of many sets are looked at once."""
    piece = Piece("", "", kind, 1, system, size, drive, *dimensions, outline=outline)
    needs = [need for need in KINDS[kind].needs if need != "system"]  # the size says whether it needs one
    lacking = [need for need in needs if not any(getattr(piece, column) for column in need.split(" or "))]
    if lacking:
        return tuple((need.split(" or ")[0], f"a {need}, which this kind needs ({kind})") for need in lacking)
    try:
        sized(piece)
    except SizingError as wrong:
        return ((wrong.column, wrong.expected),)
    return ()


def piece_doubts(piece: Piece) -> tuple[str, ...]:
    """What is unlikely about a piece that can be sized; of an outline of its own nothing is asked."""
    dimensions = (piece.length, piece.width, piece.height, piece.mass)
    return () if piece.outline else _doubts(piece.kind, piece.system, piece.size, piece.drive, dimensions)


@remembered(65_536)
def _doubts(kind: str, system: System, size: str, drive: str, dimensions: Dimensions) -> tuple[str, ...]:
    """Equal tools of many sets are looked at once."""
    return tuple(doubts(Piece("", "", kind, 1, system, size, drive, *dimensions)))
