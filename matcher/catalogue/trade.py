"""What the tables must know of the trade: words for kinds, sizes, drives, and whether a piece can be sized."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from matcher.records import Piece
from matcher.tools.dates import Spoiled, spoiled
from matcher.tools.dimensions import sized
from matcher.tools.kinds import KINDS
from matcher.tools.reading import SizingError, tidy
from matcher.tools.sizes import drive_name, parse_drive, parse_size

__all__ = ["KIND_WORDS", "Spoiled", "drive_word", "piece_faults", "spoiled", "tidy", "with_system"]

KIND_WORDS = tuple(KINDS)


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


def piece_faults(piece: Piece) -> Iterator[tuple[str, str]]:
    """(column, what was expected) of everything that a piece's row lacks for its kind, or why it cannot be sized."""
    needs = [need for need in KINDS[piece.kind].needs if need != "system"]  # the size says whether it needs one
    lacking = [need for need in needs if not any(getattr(piece, column) for column in need.split(" or "))]
    for need in lacking:
        yield need.split(" or ")[0], f"a {need}, which this kind needs ({piece.kind})"
    if not lacking:
        try:
            sized(piece)
        except SizingError as wrong:
            yield wrong.column, wrong.expected
