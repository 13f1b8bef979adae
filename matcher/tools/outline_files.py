"""Reads a piece's own outline from a DXF or SVG drawing: scaled, closed, one simple shape, never smaller than drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from pathlib import Path

from numpy import errstate
from shapely import GEOSException, LineString, Polygon, STRtree, affinity, polygonize_full, set_precision, union_all

from matcher.records import PER_MM, Piece, mm, remembered, show_mm
from matcher.tools.drawing_limits import SAGITTA_MM, Stroke, within_limits
from matcher.tools.dxf_lines import dxf_lines
from matcher.tools.notation import SizingError
from matcher.tools.svg_lines import svg_lines

GROWN_MM = 0.05  # added all round a curved shape before its corners are thinned out by as much
JOINT_MM = 0.01  # ends this near to each other meet
AGREES = mm(1)
"""How far a drawing may differ from the columns length and width, plus one part in a hundred."""

_LARGEST_FILE = 10_000_000
_MOST_MEETINGS, _AT_ONCE = 2_000_000, 100  # of straight pieces with each other, at most, and how many are tried at once


@dataclass(frozen=True, slots=True)
class OutlineReading:
    """What a drawing of an outline was read as.

    ``shape`` is in 1/320 mm, its lower left at (0, 0), as it was drawn; ``unit`` says in words what a unit of the
    drawing is. ``corners_drawn`` are those of the line before curves were thinned out to the corners of ``shape``;
    ``filled`` counts areas that lines inside enclose, which belong to the shape.
    """

    shape: Polygon
    unit: str
    corners_drawn: int
    filled: int

    @property
    def corners(self) -> int:
        """Corners of the shape."""
        return len(self.shape.exterior.coords) - 1

    @property
    def lies(self) -> bool:
        """Whether it lies on its side, so that it is turned a quarter left."""
        _, _, width, length = self.shape.bounds
        return bool(width > length)


def own_outline(piece: Piece) -> Polygon:
    """The outline in the file ``piece.outline`` in 1/320 mm, its lower left at (0, 0), long side up.

    A drawing that lies on its side is turned a quarter left: its right end becomes the working head.

    Raises
    ------
    SizingError
        The file cannot be read, holds no single closed simple shape, or differs from the columns length and width.
    """
    read = outline_reading(Path(piece.outline))
    wanted_wide = piece.width is not None and piece.length is not None and piece.width > piece.length
    shape = read.shape if read.lies == wanted_wide else turned(read.shape)
    _agree(shape, piece)
    return shape


def outline_reading(path: Path) -> OutlineReading:
    """What the drawing in a file is read as.

    Raises
    ------
    SizingError
        The file cannot be read or holds no single closed simple shape.
    """
    try:
        stamp = path.stat()
    except OSError:
        raise SizingError("outline", f"a DXF or SVG file; there is no {path.name}") from None
    if stamp.st_size > _LARGEST_FILE:
        raise SizingError("outline", "a drawing of at most 10 MB")
    return _read(path, stamp.st_mtime_ns)


@remembered(256)
def _read(path: Path, _changed: int) -> OutlineReading:
    reader = _READERS.get(path.suffix.lower().removeprefix("."))
    if reader is None:
        raise SizingError("outline", "a DXF or SVG file")
    with errstate(all="ignore"):  # what is no number is refused, and needs no warning besides
        unit, lines = reader(path)
        whole, filled = _one_shape(lines)
    thinned = _thinned(whole)
    left, low, right, high = thinned.bounds
    if max(right - left, high - low) > 10_000:
        raise SizingError("outline", "a drawing of at most 10 m")
    shape = affinity.scale(affinity.translate(Polygon(thinned.exterior), -left, -low), PER_MM, PER_MM, origin=(0, 0))
    return OutlineReading(shape, unit, len(whole.exterior.coords) - 1, filled)


def _one_shape(lines: Iterable[Stroke]) -> tuple[Polygon, int]:
    """What the lines enclose; the areas that lines inside it enclose, such as the hole of a box wrench, are counted."""
    read = [line for line in within_limits(lines) if len(set(line)) > 1]
    if not read:
        raise SizingError("outline", "a drawing with a closed line in it")
    _check_meetings(read)
    drawn = [LineString(line) for line in read]
    if not all(line.is_simple for line in drawn):
        raise SizingError("outline", "a line that does not cross itself")
    try:
        noded = union_all([set_precision(line, JOINT_MM) for line in drawn])
        faces, _cuts, dangles, _invalid = polygonize_full([noded])
    except GEOSException:
        raise SizingError("outline", "one simple closed line") from None
    if not dangles.is_empty:
        x, y = dangles.geoms[0].coords[0]
        raise SizingError("outline", f"a closed line; it is open near ({x:.1f}, {y:.1f}) mm")
    whole = union_all(list(faces.geoms))
    if whole.is_empty or whole.geom_type != "Polygon":
        raise SizingError("outline", f"one closed shape; there are {len(getattr(whole, 'geoms', ()))}")
    return Polygon(whole.exterior), len(faces.geoms) - 1


def _check_meetings(lines: Iterable[list[tuple[float, float]]]) -> None:
    """Refuse lines that cross each other so often that finding what they enclose would not end."""
    pieces = [LineString(ends) for line in lines for ends in pairwise(line)]
    tree, met = STRtree(pieces), 0
    for start in range(0, len(pieces), _AT_ONCE):
        met += tree.query(pieces[start : start + _AT_ONCE]).shape[1]
        if met > _MOST_MEETINGS:
            raise SizingError("outline", "lines that hardly cross each other; this is no outline")


def _thinned(shape: Polygon) -> Polygon:
    """Fewer corners along curves, grown first by what thinning may cut off; a straight-sided shape stays as drawn."""
    if len(shape.simplify(GROWN_MM).exterior.coords) == len(shape.exterior.coords):
        return shape
    return shape.buffer(GROWN_MM + SAGITTA_MM, join_style="mitre").simplify(GROWN_MM)


def turned(shape: Polygon) -> Polygon:
    """A shape turned a quarter left, its lower left at (0, 0) again."""
    _, _, _, length = shape.bounds
    return affinity.translate(affinity.rotate(shape, 90, origin=(0, 0)), length, 0)


def _agree(shape: Polygon, piece: Piece) -> None:
    _, _, width, length = shape.bounds
    for axis, drawn, given in (("length", length, piece.length), ("width", width, piece.width)):
        if given is not None and abs(drawn - given) > AGREES + given / 100:
            found = f"{show_mm(given)} as in its column; it measures {show_mm(ceil(drawn))}"
            raise SizingError("outline", f"a drawing of {axis} {found}")


_READERS: Mapping[str, Callable[[Path], tuple[str, Iterator[Stroke]]]] = {"dxf": dxf_lines, "svg": svg_lines}
