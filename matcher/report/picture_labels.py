"""What is written in a drawing of an organizer: every tool's size, drive and system as headings over their columns.

Writing on foam that is cut stands where the layout has it; a drawing is looked at smaller than it is, so its writing is
larger and stands where `row_labels` has room for it. Where sizes and headings would not tell every tool from all
others, words are longer: with the unit, the drive or the kind. Paper, which is as large as it is, has numbers instead
where such words have no room, and a key beside the drawing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import Polygon

from matcher.records import Drawer, Group, Piece, Placement, Pocket, SizedPiece, remembered, to_mm
from matcher.report.lying_tools import lying_tool
from matcher.report.row_labels import LabelSeat, LabelSheet, row_labels

SIZES = (9.0, 8.0, 7.0, 6.0, 5.0, 4.0, 3.0, 2.5)
"""Heights of the writing in a drawer 560 mm wide, the best first, in millimeters; larger in a wider one; own choice."""
USED, USUAL = 4, 560.0
"""How many of them are large enough for words that may be left out; width of a usual drawer in millimeters."""
AT_BACK = 60.0
"""Headings stand behind the drawer, over organizers that end no further from its back, in millimeters; own choice."""
SYSTEMS = {"inch": "inch", "metric": "mm"}
"""What stands over the tools of a system."""
UNITS = {"inch": " in", "metric": " mm"}
UNNAMED = ("other", "cased")
"""Kinds that are no nouns."""


@dataclass(frozen=True, slots=True)
class PictureHeading:
    """Words over a column of tools, behind the drawer: how far it reaches from the organizer's left, in millimeters.

    It says a drive, or inch or mm; ``level`` 0 stands next to the drawer, 1 over it.
    """

    text: str
    left: float
    right: float
    level: int


@dataclass(frozen=True, slots=True)
class PictureLabel:
    """A text in a drawing: its middle from the front left corner of the organizer and its height, in millimeters.

    ``kind`` is size or number; ``inside`` says that it stands on its tool.
    """

    kind: str
    text: str
    x: float
    y: float
    height: float
    inside: bool = False


def picture_labels(group: Group, placement: Placement, drawer: Drawer) -> tuple[PictureLabel, ...]:
    """A text for every tool of an organizer in its drawer, in the largest height that all have room in."""
    growth = max(1.0, to_mm(drawer.inside_width) / USUAL)
    heights = tuple(growth * size for size in SIZES)
    texts = _texts(group, placement, drawer)
    return (
        _all_placed(group, placement, _with_kinds(group, placement, texts), heights[:USED])
        or _all_placed(group, placement, texts, heights)
        or _crowded(group, placement, texts, heights[-1])
    )


def paper_labels(
    group: Group, placement: Placement, drawer: Drawer, heights: tuple[float, ...], numbers: Mapping[str, int]
) -> tuple[PictureLabel, ...]:
    """The same in heights that paper has, if all have room; else the tools' ``numbers``, by name, those with room."""
    texts = _texts(group, placement, drawer)
    if _all_placed(group, placement, texts, heights[-1:]):
        kinds = _all_placed(group, placement, _with_kinds(group, placement, texts), heights)
        return kinds or _all_placed(group, placement, texts, heights)
    told = _numbered(group, placement, numbers)
    return _all_placed(group, placement, told, heights, kind="number") or _some(group, placement, told, heights[-1])


def needs_numbers(group: Group, placement: Placement, drawer: Drawer, height: float) -> bool:
    """Whether not every tool has room for its text at that height; no where no tool has a place."""
    if placement.layout is None or group.cased:
        return False
    return not _all_placed(group, placement, _texts(group, placement, drawer), (height,))


def takes_numbers(group: Group, placement: Placement, height: float, numbers: Mapping[str, int]) -> bool:
    """Whether every tool has room for its number at that height."""
    return bool(_all_placed(group, placement, _numbered(group, placement, numbers), (height,), kind="number"))


def picture_headings(group: Group, placement: Placement, drawer: Drawer) -> tuple[PictureHeading, ...]:
    """Drives over their columns and inch or mm over their halves, where these lie side by side."""
    behind = drawer.inside_depth - placement.front - placement.depth
    return _headings(group, placement) if to_mm(behind) <= AT_BACK else ()


@remembered(1024)
def _headings(group: Group, placement: Placement) -> tuple[PictureHeading, ...]:
    layout = placement.layout
    if layout is None or group.cased:
        return ()
    left = to_mm(placement.field_left)
    sized = [(group.pieces[pocket.piece].piece, pocket) for pocket in layout.pockets]
    systems = _columns(((piece.system,), pocket) for piece, pocket in sized if piece.system)
    drives = _columns(((piece.drive, piece.system), pocket) for piece, pocket in sized if piece.drive and piece.size)
    over = 1 if drives else 0
    return (
        *(PictureHeading(f"{drive} drive", left + low, left + top, 0) for (drive, _), (low, top) in drives.items()),
        *(PictureHeading(SYSTEMS[system], left + low, left + top, over) for (system,), (low, top) in systems.items()),
    )


def _columns(found: Iterable[tuple[tuple[str, ...], Pocket]]) -> dict[tuple[str, ...], tuple[float, float]]:
    """What lies between a left and a right of its own, by name; nothing if two of them lie over each other."""
    spans: dict[tuple[str, ...], tuple[float, float]] = {}
    for name, pocket in found:
        xs = [to_mm(x) for x, _ in pocket.ring]
        low, top = spans.get(name, (min(xs), max(xs)))
        spans[name] = min(low, *xs), max(top, *xs)
    ordered = sorted(spans.values())
    return {} if any(end > begin for (_, end), (begin, _) in pairwise(ordered)) else spans


# --------------------------------------------------------------------------------------------------------------- texts


def _texts(group: Group, placement: Placement, drawer: Drawer) -> tuple[str, ...]:
    """What tells each pocket's tool from all others, beside the headings over it."""
    layout = placement.layout
    if layout is None:
        return ()
    headings = picture_headings(group, placement, drawer)
    united = any(heading.text in SYSTEMS.values() for heading in headings)
    driven = any(heading.text not in SYSTEMS.values() for heading in headings)
    pieces = [group.pieces[pocket.piece].piece for pocket in layout.pockets]
    several = len({piece.system for piece in pieces if piece.size and piece.system}) > 1
    drives = len({piece.drive for piece in pieces if piece.size and piece.drive}) > 1
    texts = [_told(piece, unit=several and not united, drive=drives and not driven) for piece in pieces]
    columns = [(text, piece.system * united, piece.drive * driven) for text, piece in zip(texts, pieces, strict=True)]
    kinds: dict[tuple[str, str, str], Counter[str]] = {}
    for column, piece in zip(columns, pieces, strict=True):
        kinds.setdefault(column, Counter())[piece.kind] += 1
    common = Counter(piece.kind for piece in pieces)
    for number, (column, piece) in enumerate(zip(columns, pieces, strict=True)):
        usual = max(kinds[column], key=lambda kind: (common[kind], kind))
        if piece.kind != usual:
            texts[number] = f"{texts[number]} {piece.kind}"
    return tuple(texts)


def _with_kinds(group: Group, placement: Placement, texts: tuple[str, ...]) -> tuple[str, ...]:
    """The texts with the kinds of their tools, where that is worth saying.

    It is not where it is said already, or where more than half of the group's tools are of that kind.
    """
    counts = Counter[str]()
    for sized in group.pieces:
        counts[sized.piece.kind] += sized.piece.count
    told = []
    for text, pocket in zip(texts, placement.layout.pockets if placement.layout else (), strict=True):
        piece = group.pieces[pocket.piece].piece
        said = piece.kind in UNNAMED or piece.kind in text or piece.mark == piece.tool
        told.append(text if said or 2 * counts[piece.kind] > counts.total() else f"{text} {piece.kind}")
    return tuple(told)


def _told(piece: Piece, *, unit: bool, drive: bool) -> str:
    """A size, with its unit and its drive where no heading says them."""
    if not piece.size:
        return piece.mark
    united = UNITS.get(piece.system, "") if unit and piece.size[-1:].isdigit() else ""
    return f"{piece.size}{united}{f' ({piece.drive})' if drive and piece.drive else ''}"


def _numbered(group: Group, placement: Placement, numbers: Mapping[str, int]) -> tuple[str, ...]:
    layout = placement.layout
    pockets = layout.pockets if layout else ()
    return tuple(str(numbers[group.pieces[pocket.piece].piece.tool]) for pocket in pockets)


# -------------------------------------------------------------------------------------------------------------- places


@remembered(1024)
def _sheet(group: Group, placement: Placement, texts: tuple[str, ...], on_tools: bool) -> LabelSheet:
    layout = placement.layout
    assert layout is not None
    seats = tuple(
        _seat(group.pieces[pocket.piece], pocket, text, placement)
        for pocket, text in zip(layout.pockets, texts, strict=True)
    )
    notches = tuple(_polygon(notch.ring, placement) for notch in layout.notches)
    return LabelSheet(to_mm(placement.width), to_mm(placement.depth), seats, notches, on_tools)


def _seat(sized: SizedPiece, pocket: Pocket, text: str, placement: Placement) -> LabelSeat:
    ring, lying = _polygon(pocket.ring, placement), lying_tool(sized, pocket)
    tool = _polygon(lying.rings[0], placement, lying.rings[1:]) if lying else ring
    return LabelSeat(
        ring, tool if tool.is_valid else ring, (sized.piece.kind, sized.piece.drive, sized.piece.system), text
    )


def _polygon(
    ring: Sequence[tuple[int, int]], placement: Placement, holes: Sequence[Sequence[tuple[int, int]]] = ()
) -> Polygon:
    left, front = placement.field_left, placement.field_front
    shell, *inner = ([(to_mm(left + x), to_mm(front + y)) for x, y in one] for one in (ring, *holes))
    return Polygon(shell, inner)


@remembered(4096)
def _all_placed(
    group: Group, placement: Placement, texts: tuple[str, ...], heights: tuple[float, ...], kind: str = "size"
) -> tuple[PictureLabel, ...]:
    """All texts in the first of the heights in which all have room; none where that is none of them."""
    if placement.layout is None or group.cased:
        return ()
    sheet = _sheet(group, placement, texts, on_tools=kind == "number")
    for height in heights:
        spots = row_labels(sheet, height, whole=True)
        if all(spots):
            return _labels(sheet, spots, height, kind)
    return ()


def _some(group: Group, placement: Placement, texts: tuple[str, ...], height: float) -> tuple[PictureLabel, ...]:
    """Those of the numbers that have room at a height."""
    if placement.layout is None or group.cased:
        return ()
    sheet = _sheet(group, placement, texts, on_tools=True)
    return _labels(sheet, row_labels(sheet, height), height, "number")


def _labels(
    sheet: LabelSheet, spots: Sequence[tuple[float, float] | None], height: float, kind: str
) -> tuple[PictureLabel, ...]:
    return tuple(
        PictureLabel(kind, seat.text, *spot, height) for seat, spot in zip(sheet.seats, spots, strict=True) if spot
    )


def _crowded(group: Group, placement: Placement, texts: tuple[str, ...], height: float) -> tuple[PictureLabel, ...]:
    """Every text at a height: those that have no room stand on their tools."""
    if placement.layout is None or group.cased:
        return ()
    sheet = _sheet(group, placement, texts, on_tools=True)
    spots = row_labels(sheet, height)
    middles = [seat.pocket.representative_point() for seat in sheet.seats]
    places = [spot or (middle.x, middle.y) for spot, middle in zip(spots, middles, strict=True)]
    return tuple(
        PictureLabel("size", seat.text, x, y, height, inside=spot is None)
        for seat, spot, (x, y) in zip(sheet.seats, spots, places, strict=True)
    )
