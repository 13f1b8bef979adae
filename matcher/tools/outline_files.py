"""Reads a piece's own outline from a DXF or SVG drawing: scaled, closed, one simple shape, never smaller than drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from math import ceil
from pathlib import Path
from typing import TypeAlias

from shapely import GEOSException, LineString, Polygon, affinity, polygonize_full, set_precision, union_all

from matcher.records import PER_MM, Piece, mm, remembered, show_mm
from matcher.tools.notation import SizingError

Stroke: TypeAlias = list[tuple[float, float]]

SAGITTA_MM = 0.02  # farthest that a straight piece may lie from the curve it stands for
GROWN_MM = 0.05  # added all round a curved shape before its corners are thinned out by as much
JOINT_MM = 0.01  # ends this near to each other meet
AGREES = mm(1)
"""How far a drawing may differ from the columns length and width, plus one part in a hundred."""

_LARGEST_FILE = 10_000_000
_PX_MM = 25.4 / 96  # a pixel of a drawing that says no unit
_CURVES = 48  # straight pieces per SVG curve
_DRAWN = frozenset(("LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE"))


def own_outline(piece: Piece) -> Polygon:
    """The outline in the file ``piece.outline`` in 1/320 mm, its lower left at (0, 0), long side up.

    A drawing that lies on its side is turned a quarter left: its right end becomes the working head.

    Raises
    ------
    SizingError
        The file cannot be read, holds no single closed simple shape, or differs from the columns length and width.
    """
    path = Path(piece.outline)
    try:
        stamp = path.stat()
    except OSError:
        raise SizingError("outline", f"a DXF or SVG file; there is no {path.name}") from None
    if stamp.st_size > _LARGEST_FILE:
        raise SizingError("outline", "a drawing of at most 10 MB")
    shape = _upright(_read(path, stamp.st_mtime_ns), piece)
    _agree(shape, piece)
    return shape


@remembered(256)
def _read(path: Path, _changed: int) -> Polygon:
    reader = _READERS.get(path.suffix.lower().removeprefix("."))
    if reader is None:
        raise SizingError("outline", "a DXF or SVG file")
    thinned = _thinned(_one_shape(reader(path)))
    left, low, right, high = thinned.bounds
    if max(right - left, high - low) > 10_000:
        raise SizingError("outline", "a drawing of at most 10 m")
    return affinity.scale(affinity.translate(Polygon(thinned.exterior), -left, -low), PER_MM, PER_MM, origin=(0, 0))


def _one_shape(lines: Iterable[Stroke]) -> Polygon:
    """What the lines enclose; lines inside it, such as the hole of a box wrench, do not count."""
    drawn = [LineString(line) for line in lines if len(set(line)) > 1]
    if not drawn:
        raise SizingError("outline", "a drawing with a closed line in it")
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
    return Polygon(whole.exterior)


def _thinned(shape: Polygon) -> Polygon:
    """Fewer corners along curves, grown first by what thinning may cut off; a straight-sided shape stays as drawn."""
    if len(shape.simplify(GROWN_MM).exterior.coords) == len(shape.exterior.coords):
        return shape
    return shape.buffer(GROWN_MM + SAGITTA_MM, join_style="mitre").simplify(GROWN_MM)


def _upright(shape: Polygon, piece: Piece) -> Polygon:
    _, _, width, length = shape.bounds
    wanted_wide = piece.width is not None and piece.length is not None and piece.width > piece.length
    if (width > length) == wanted_wide:
        return shape
    return affinity.translate(affinity.rotate(shape, 90, origin=(0, 0)), length, 0)


def _agree(shape: Polygon, piece: Piece) -> None:
    _, _, width, length = shape.bounds
    for axis, drawn, given in (("length", length, piece.length), ("width", width, piece.width)):
        if given is not None and abs(drawn - given) > AGREES + given / 100:
            found = f"{show_mm(given)} as in its column; it measures {show_mm(ceil(drawn))}"
            raise SizingError("outline", f"a drawing of {axis} {found}")


def _dxf_lines(path: Path) -> Iterator[Stroke]:
    """Every drawn line of the model space in mm; a drawing without a unit is taken to be in mm."""
    from ezdxf import filemanagement, units
    from ezdxf.disassemble import recursive_decompose
    from ezdxf.enums import InsertUnits
    from ezdxf.lldxf.const import DXFError
    from ezdxf.path import make_path

    try:
        document = filemanagement.readfile(path)
    except (DXFError, OSError, UnicodeDecodeError, ValueError):
        raise SizingError("outline", "a DXF file; this one cannot be read") from None
    unit = document.units or units.MM
    scale = units.conversion_factor(InsertUnits(unit), InsertUnits.Millimeters)
    for entity in recursive_decompose(item for item in document.modelspace() if item.dxftype() in _DRAWN | {"INSERT"}):
        if entity.dxftype() in _DRAWN:
            yield [(point.x * scale, point.y * scale) for point in make_path(entity).flattening(SAGITTA_MM / scale)]


def _svg_lines(path: Path) -> Iterator[Stroke]:
    """Every drawn path in mm, the page's y turned up; what says no unit is in pixels of 1/96 in."""
    from svgelements import SVG, Shape  # type: ignore[import-untyped]
    from svgelements import Path as Curve

    try:
        elements = list(SVG.parse(str(path)).elements())
    except (OSError, ValueError, SyntaxError, KeyError, TypeError):
        raise SizingError("outline", "an SVG file; this one cannot be read") from None
    for element in elements:
        if isinstance(element, Shape):
            for stroke in Curve(element).as_subpaths():
                yield [(x * _PX_MM, -y * _PX_MM) for x, y in _points(Curve(stroke))]


def _points(stroke: Iterable[object]) -> Iterator[tuple[float, float]]:
    from svgelements import Close, Line, Move

    for segment in stroke:
        steps = 1 if isinstance(segment, Line | Close) else 0 if isinstance(segment, Move) else _CURVES
        if steps == 0 and segment.end is not None:  # type: ignore[attr-defined]
            yield segment.end.x, segment.end.y  # type: ignore[attr-defined]
        for step in range(1, steps + 1):
            point = segment.point(step / steps)  # type: ignore[attr-defined]
            yield point.x, point.y


_READERS: Mapping[str, Callable[[Path], Iterator[Stroke]]] = {"dxf": _dxf_lines, "svg": _svg_lines}
