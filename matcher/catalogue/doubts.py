"""What is sound in a catalogue and yet unlikely: pieces too large for their kind, the same piece twice, odd boxes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from matcher.catalogue.box_doubts import RowDoubt, box_doubts
from matcher.catalogue.places import PlaceKey
from matcher.catalogue.trade import piece_doubts, size_that_tells
from matcher.records import Catalogue, Piece


def doubtful(catalogue: Catalogue, places: Mapping[PlaceKey, str] | None = None) -> tuple[str, ...]:
    """A sentence for each piece, drawer or sheet that a person should look at again; none of them is a fault.

    Each begins with its place in the files, where ``places`` has it.
    """
    told = dict.fromkeys([*_unlikely(catalogue), *_twice(catalogue), *_renamed(catalogue), *box_doubts(catalogue)])
    known = places or {}
    return tuple(f"{known[key]}: {sentence}" if key in known else sentence for key, sentence in told)


def _of_piece(piece: Piece, doubt: str) -> RowDoubt:
    return ("tools", piece.set, piece.tool), f"{piece.set}, {piece.tool} ({piece.kind}): {doubt}"


def _unlikely(catalogue: Catalogue) -> Iterator[RowDoubt]:
    for piece in catalogue.pieces:
        for doubt in piece_doubts(piece):
            yield _of_piece(piece, doubt)


def _twice(catalogue: Catalogue) -> Iterator[RowDoubt]:
    """Rows of one set that say the same tool by name, kind, size and drive."""
    rows = Counter(map(_said, catalogue.pieces))
    for piece in catalogue.pieces:
        count = rows[_said(piece)]
        if count > 1:
            yield _of_piece(piece, f"stands in {count} rows; is it in the set so often?")


def _renamed(catalogue: Catalogue) -> Iterator[RowDoubt]:
    """Tools of one set with two names and nothing else that tells them apart, of kinds that their size tells."""
    first: dict[tuple[object, ...], Piece] = {}
    for piece in catalogue.pieces:
        size = size_that_tells(piece)
        if size is None:
            continue
        given = piece.length, piece.width, piece.height, piece.outline
        other = first.setdefault((piece.set, piece.group, piece.kind, size, piece.drive, given), piece)
        if other.tool != piece.tool:
            alike = "size and drive" if piece.drive else "size"
            yield _of_piece(piece, f"same {alike} as {other.tool}; is it in the set twice?")


def _said(piece: Piece) -> tuple[object, ...]:
    return piece.set, piece.group, piece.kind, piece.tool, piece.system, piece.size, piece.drive
