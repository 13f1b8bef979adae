"""Tools with their sizes, groups of them, and organizers laid out for them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from matcher.records.given import Organizer, Piece
from matcher.records.words import Basis, Bound, System


@dataclass(frozen=True, slots=True)
class Range:
    """A size in 1/320 mm or a mass in 10 micrograms: the least, the likely and the greatest that it may be.

    All three are equal where it was given.
    """

    low: int
    likely: int
    high: int


@dataclass(frozen=True, slots=True)
class Spread:
    """How far each size and the mass of a piece may be off."""

    length: Range
    width: Range
    height: Range
    mass: Range


@dataclass(frozen=True, slots=True)
class SizedPiece:
    """A piece with every dimension known.

    Lying on its back: ``length`` along its axis, ``width`` across, ``height`` up from the floor. ``diameter`` is the
    footprint of a piece that may stand on end (then ``length`` is what rises above the floor), else ``None``.
    ``rank`` orders sizes within a series. ``features`` are named lengths from which the outline is drawn. ``spread`` is
    how far sizes and mass may be off, ``None`` where nothing is; ``mass_low`` and ``mass_high`` are its bounds.
    """

    piece: Piece
    length: int
    width: int
    height: int
    diameter: int | None
    mass_low: int
    mass_high: int
    rank: int
    basis: Basis
    source: str
    features: tuple[tuple[str, int], ...] = ()
    spread: Spread | None = None

    def __hash__(self) -> int:
        """Of a few fields that tell pieces apart: answers are looked up by them all the time."""
        return hash((self.piece.tool, self.piece.count, self.length))

    @property
    def listed(self) -> tuple[str, str, str, int, str]:
        """Its place in a list for a person: by kind, drive and system, sizes ascending."""
        return self.piece.kind, self.piece.drive, self.piece.system, self.rank, self.piece.tool


def widest(pieces: Iterable[SizedPiece], bound: Bound) -> float:
    """The largest share by which a length, width or height of the pieces may be off, down to or up to ``bound``."""
    spans = [span for one in pieces if one.spread for span in (one.spread.length, one.spread.width, one.spread.height)]
    return max((abs(getattr(span, bound) / span.likely - 1) for span in spans), default=0.0)


def use_of(pieces: Iterable[SizedPiece]) -> float | None:
    """Uses a week of all pieces together, added up as written; ``None`` where no piece has a use."""
    uses = [Decimal(str(one.piece.use)) * one.piece.count for one in pieces if one.piece.use is not None]
    return float(sum(uses)) if uses else None


@dataclass(frozen=True, slots=True)
class Group:
    """Pieces that share one organizer (or the ready-made organizer itself, or both).

    ``also`` are other names that mean it: of the groups that were joined to it, or of the group that it is the tools
    of one drive or system of.
    """

    name: str
    family: str
    tier: int
    system: System
    share: bool
    split: bool
    cased: bool
    pieces: tuple[SizedPiece, ...]
    organizer: Organizer | None
    mass_low: int
    mass_high: int
    use: float | None
    part_of: str = ""
    also: tuple[str, ...] = ()

    def __hash__(self) -> int:
        """Of a few fields that tell groups apart: pieces are many, and groups are looked up all the time."""
        return hash((self.name, self.part_of, len(self.pieces), self.mass_low, self.mass_high))

    @property
    def tools(self) -> int:
        """How many tools it holds: pieces with their counts."""
        return sum(piece.piece.count for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class Pocket:
    """A pocket seen from above in the coordinates of its pocket field (origin front left, x right, y back).

    ``ring`` is the closed outline without the repeated first corner. ``piece`` indexes the group's pieces.
    ``depth`` is cut into the foam; ``rise`` is how high the piece stands above the drawer floor, and the foam round it.
    """

    piece: int
    ring: tuple[tuple[int, int], ...]
    depth: int
    rise: int
    standing: bool = False


@dataclass(frozen=True, slots=True)
class Notch:
    """Room for a finger beside pieces, as deep as the deepest of the ``pockets`` (indices) that it opens into."""

    ring: tuple[tuple[int, int], ...]
    depth: int
    pockets: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """Where the size of a pocket's piece is written: middle of the text, its height, whether it reads from bottom to
    top, and whether it stands on foam (else in the pocket)."""

    x: int
    y: int
    height: int
    upright: bool
    on_foam: bool


@dataclass(frozen=True, slots=True)
class Layout:
    """Pockets of one organizer. ``width`` x ``depth`` is the pocket field; the margin goes round it.

    ``thickness`` is that of the stock foam, 0 where nothing is known of it; ``base`` is how much of it is a contrasting
    sheet bonded underneath, 0 where the foam is one sheet. ``labels`` has one entry a pocket or none.
    """

    width: int
    depth: int
    height: int
    pockets: tuple[Pocket, ...]
    ordered: bool = True
    notches: tuple[Notch, ...] = ()
    thickness: int = 0
    labels: tuple[Label, ...] = ()
    base: int = 0


@dataclass(frozen=True, slots=True, order=True)
class Footprint:
    """A point of a shape curve: pocket field width and depth, and the clear height needed before top clearance."""

    width: int
    depth: int
    height: int
