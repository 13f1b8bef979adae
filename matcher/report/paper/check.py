"""The full-size paper check: an organizer in tiles to print at 100 %, tape together and lay the tools on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from matcher.planning import Fits, Outcome
from matcher.records import Group, NothingToShowError, Placement, counted, to_mm
from matcher.report.drawing import placed_group
from matcher.report.paper.shapes import ShapePart, organizer_shapes, size_words
from matcher.report.paper.sheets import FAINT, INK, MARGIN, POINT, Paper, Sheets, turned
from matcher.report.paper.surfaces import Point

EDGE, OVERLAP, RIM, MARK, SQUARE = 10.0, 12.0, 5.0, 4.0, 100.0
"""Left free round a tile; shared by neighbors; paper round the organizer; half a mark; side of the check square: mm."""
PENS: dict[ShapePart, float] = {"foam": 0.3, "pocket": 0.3, "notch": 0.2, "tool": 0.15, "hole": 0.15, "seam": 0.1}
"""Widths of lines in mm: what is cut is seen first."""
STEPS = (
    "Print at 100 % (actual size): no fitting to the page, no scaling.",
    "Measure the square below: both sides must be 100 mm. If not, nothing on the other pages is true to size.",
    "Cut each tile along its dashed frame where it meets a neighbor, lay it over the neighbor so that the marks with "
    "the same letters meet, and tape it.",
    "Lay every tool into its outline. A pocket is wider than its tool by the fit on each side; what does not go in or "
    "rattles is measured again before foam is cut. The thin lines in it show which tool is meant and how it lies.",
    "A check on paper shows the outline from above only: not the depth of a pocket, nor how it lifts out.",
)


@dataclass(frozen=True, slots=True)
class Tiling:
    """A grid of tiles over the organizer with its rim; ``width`` x ``height`` is what one page shows."""

    landscape: bool
    width: float
    height: float
    columns: int
    rows: int

    def corner(self, column: int, row: int) -> Point:
        """Front left corner of a tile, from the organizer's own; row 0 is at the front."""
        return column * (self.width - OVERLAP) - RIM, row * (self.height - OVERLAP) - RIM


def check_pdf(outcome: Outcome, group: str, paper: Paper) -> bytes:
    """The paper check of one group's organizer in an outcome's plan.

    Raises
    ------
    NothingToShowError
        There is no plan, or nothing of the group lies in pockets.
    UnknownNameError
        There is no group of that name in the plan.
    """
    if not isinstance(outcome, Fits):
        raise NothingToShowError("no full-size check, there is no plan")
    placed, placement = placed_group(outcome.plan, group)
    if placement.layout is None:
        raise NothingToShowError(f"no full-size check, the catalogue does not say where the pockets of {group!r} lie")
    tiling = tiling_of(to_mm(placement.width), to_mm(placement.depth), paper)
    title = f"{group}: full-size check"
    sheets = Sheets(paper, title)
    sheets.page()
    _cover(sheets, outcome, placement, tiling)
    for row in range(tiling.rows):
        for column in range(tiling.columns):
            sheets.page(landscape=tiling.landscape)
            _tile(sheets, placed, placement, tiling, column, row)
    return sheets.output()


def tiling_of(width: float, depth: float, paper: Paper) -> Tiling:
    """The grid with fewest tiles for an organizer of ``width`` x ``depth``, upright pages where both need as many."""
    upright = _grid(width, depth, paper.width, paper.height, landscape=False)
    across = _grid(width, depth, paper.height, paper.width, landscape=True)
    return min(upright, across, key=lambda tiling: (tiling.columns * tiling.rows, tiling.landscape))


def _grid(width: float, depth: float, page_width: float, page_height: float, *, landscape: bool) -> Tiling:
    shown = (page_width - 2 * EDGE, page_height - 2 * EDGE)
    columns, rows = (
        max(1, ceil((length + 2 * RIM - OVERLAP) / (side - OVERLAP)))
        for length, side in zip((width, depth), shown, strict=True)
    )
    return Tiling(landscape, *shown, columns, rows)


def marks_of(tiling: Tiling) -> Iterator[tuple[str, Point]]:
    """Alignment marks in the overlaps, two a seam: letters, and the place from the organizer's front left corner."""
    number = 0
    for row in range(tiling.rows):
        for column in range(tiling.columns):
            x, y = tiling.corner(column, row)
            seams = []
            if column + 1 < tiling.columns:
                at = x + tiling.width - OVERLAP / 2
                seams += [(at, y + share * tiling.height) for share in (0.2, 0.8)]
            if row + 1 < tiling.rows:
                at = y + tiling.height - OVERLAP / 2
                seams += [(x + share * tiling.width, at) for share in (0.2, 0.8)]
            for place in seams:
                yield _letters(number), place
                number += 1


def _letters(number: int) -> str:
    """A, B, ..., Z, AA, AB, ..."""
    first, last = divmod(number, 26)
    return (_letters(first - 1) if first else "") + chr(ord("A") + last)


# --------------------------------------------------------------------------------------------------------------- pages


def _cover(sheets: Sheets, outcome: Outcome, placement: Placement, tiling: Tiling) -> None:
    room = sheets.width - 2 * MARGIN
    sheets.write(MARGIN, MARGIN + 6, f"Full-size check: {placement.group}", 16, room=room)
    sheets.write(MARGIN, MARGIN + 13, f"{outcome.set} in {outcome.cabinet}, drawer {placement.drawer}", 11, room=room)
    size = f"{to_mm(placement.width):.1f} x {to_mm(placement.depth):.1f} mm"
    pages = tiling.columns * tiling.rows
    sheets.write(MARGIN, MARGIN + 19, f"outside {size}, {counted(pages, 'tile')} on {sheets.paper.name}", 10, room=room)
    y = MARGIN + 29
    for number, step in enumerate(STEPS, 1):
        sheets.write(MARGIN, y, f"{number}.", 9.5)
        y = sheets.paragraph(MARGIN + 7, y, step, 9.5, room - 7) + 1.5
    sheets.box(MARGIN, y + 2, SQUARE, SQUARE, pen=0.2)
    sheets.write(MARGIN + SQUARE / 2, y + 2 + SQUARE / 2, "100 mm x 100 mm", 10, align="C")
    _map(sheets, placement, tiling, MARGIN + SQUARE + 8, y + 2)


def _map(sheets: Sheets, placement: Placement, tiling: Tiling, left: float, top: float) -> None:
    """How the tiles lie, seen from above with the front at the bottom."""
    width, depth = to_mm(placement.width) + 2 * RIM, to_mm(placement.depth) + 2 * RIM
    scale = max(width / (sheets.width - MARGIN - left), depth / 60, 1)
    bottom = top + depth / scale
    sheets.ring(turned([(RIM, RIM), (width - RIM, RIM), (width - RIM, depth - RIM), (RIM, depth - RIM)], left, bottom,
                       scale), pen=0.4)  # fmt: skip
    for row in range(tiling.rows):
        for column in range(tiling.columns):
            x, y = (at + RIM for at in tiling.corner(column, row))
            right, back = min(x + tiling.width, width), min(y + tiling.height, depth)
            frame = turned([(x, y), (right, y), (right, back), (x, back)], left, bottom, scale)
            sheets.ring(frame, color=FAINT, dash=1)
            middle = turned([((x + right) / 2, (y + back) / 2)], left, bottom, scale)[0]
            sheets.write(*middle, _name(tiling, column, row), 8, align="C")
    sheets.write(left + width / scale / 2, bottom + 4, "FRONT", 8, align="C")


def _name(tiling: Tiling, column: int, row: int) -> str:
    return str(row * tiling.columns + column + 1)


def _tile(sheets: Sheets, group: Group, placement: Placement, tiling: Tiling, column: int, row: int) -> None:
    x, y = tiling.corner(column, row)
    left, bottom = EDGE - x, EDGE + tiling.height + y
    with sheets.within(EDGE, EDGE, tiling.width, tiling.height):
        for shape in organizer_shapes(group, placement):
            points, cut = turned(shape.ring, left, bottom), shape.part in ("foam", "pocket")
            if shape.part == "seam":
                sheets.trace(points, color=FAINT, pen=PENS[shape.part])
            else:
                sheets.ring(points, color=INK if cut else FAINT, pen=PENS[shape.part])
        for word in size_words(group, placement):
            at = turned([(word.x, word.y)], left, bottom)[0]
            _size(sheets, word.text, at, word.height, upright=word.upright)
        middle = turned([(to_mm(placement.width) / 2, 0)], left, bottom)[0]
        sheets.write(middle[0], middle[1] + 4.2, "FRONT", 9, align="C")
        for letters, place in marks_of(tiling):
            _mark(sheets, letters, turned([place], left, bottom)[0])
    sheets.box(EDGE, EDGE, tiling.width, tiling.height, color=FAINT, pen=0.15, dash=2)
    told = f"{placement.group}, tile {_name(tiling, column, row)} of {tiling.columns * tiling.rows}"
    where = f"column {column + 1} of {tiling.columns} from the left, row {row + 1} of {tiling.rows} from the front"
    sheets.write(EDGE, sheets.height - EDGE + 4, f"{told}: {where}; print at 100 %", 8, room=tiling.width)


def _size(sheets: Sheets, text: str, at: Point, height: float, *, upright: bool) -> None:
    points = height / POINT
    if upright:
        sheets.write_up(at[0] + 0.35 * height, at[1], text, points)
    else:
        sheets.write(at[0], at[1] + 0.35 * height, text, points, align="C")


def _mark(sheets: Sheets, letters: str, at: Point) -> None:
    x, y = at
    sheets.line((x - MARK, y), (x + MARK, y), pen=0.15)
    sheets.line((x, y - MARK), (x, y + MARK), pen=0.15)
    sheets.write(x + 0.8, y - 0.8, letters, 7)
