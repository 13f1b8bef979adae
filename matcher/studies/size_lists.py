"""Every piece of a set with its sizes, in the order in which it is worth measuring them.

Estimates come first, and of these the ones that leave the most room in doubt: how much more area from above the
greatest length and width take than the least, times count; where that is equal, the height that may be off by more.
Then come sizes from standard in the same order, measured ones last.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from matcher.planning import member_sets
from matcher.records import Basis, Bound, Catalogue, PieceCounts, Range, SizedPiece, UsageError, basis_counts
from matcher.tools import sized

RULE = (
    "order: estimated sizes first, those that leave the most room in doubt at the top (greatest less least length x "
    "width, times count), then sizes from standard, measured ones last"
)
FIRST: tuple[Basis, ...] = ("estimated", "from standard", "measured")


@dataclass(frozen=True, slots=True)
class SizeList:
    """The pieces of a set, what is worth measuring first; ``estimates`` says which sizes pockets take."""

    set: str
    estimates: Bound
    pieces: tuple[SizedPiece, ...]

    @property
    def basis(self) -> PieceCounts:
        """Pieces by the basis of their sizes."""
        return basis_counts(self.pieces)


def sizes_of(catalogue: Catalogue, set_name: str, estimates: Bound) -> SizeList:
    """The list of a set, or of several (``A+B``).

    Raises
    ------
    UnknownNameError
        There is no such set.
    UsageError
        It has ready-made organizers only.
    """
    names = member_sets(catalogue, set_name)
    pieces = [sized(piece) for piece in catalogue.pieces if piece.set in names]
    if not pieces:
        raise UsageError(f"the set {set_name} has no pieces in the table tools, only ready-made organizers")
    return SizeList(set_name, estimates, worth_measuring(pieces))


def worth_measuring(pieces: Iterable[SizedPiece]) -> tuple[SizedPiece, ...]:
    """Pieces in the order in which it is worth measuring them."""

    def place(piece: SizedPiece) -> tuple[object, ...]:
        spread = piece.spread
        high = _off(spread.height) * piece.piece.count if spread else 0
        return FIRST.index(piece.basis), -in_doubt(piece), -high, piece.listed, piece.piece.set

    return tuple(sorted(pieces, key=place))


def in_doubt(piece: SizedPiece) -> int:
    """The room seen from above that is in doubt for all tools of a row, in (1/320 mm)²; 0 where nothing is."""
    if piece.spread is None:
        return 0
    length, width = piece.spread.length, piece.spread.width
    return (length.high * width.high - length.low * width.low) * piece.piece.count


def _off(span: Range) -> int:
    return span.high - span.low
