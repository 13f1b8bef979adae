"""Drawings of outlines as raw text, sound or spoiled in one place: what no drawing program would write."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

CORNERS = [(0, 0), (60, 0), (60, 200), (0, 200)]
PAGE = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
BOX = '<rect width="60" height="200"/>'


def svg_text(inside: str, before: str = "", size: str = 'width="100mm" height="250mm" viewBox="0 0 100 250"') -> str:
    """An SVG file."""
    return f"{before}<svg {PAGE} {size}>{inside}</svg>"


def tags(*pairs: object) -> str:
    """Group codes and values of a DXF file, a line each."""
    return "".join(f"{one}\n" for one in pairs)


def dxf_text(entities: str, unit: object = 4, blocks: str = "") -> str:
    """A DXF file (R2000) with these entities in its model space."""
    return (
        tags(0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1015", 9, "$INSUNITS", 70, unit, 0, "ENDSEC")
        + (tags(0, "SECTION", 2, "BLOCKS") + blocks + tags(0, "ENDSEC") if blocks else "")
        + tags(0, "SECTION", 2, "ENTITIES")
        + entities
        + tags(0, "ENDSEC", 0, "EOF")
    )


def polyline(corners: Iterable[tuple[object, object]] = CORNERS, bulge: object = None) -> str:
    """A closed LWPOLYLINE; ``bulge`` is that of its first corner."""
    listed = list(corners)
    made = tags(0, "LWPOLYLINE", 8, "0", 100, "AcDbEntity", 100, "AcDbPolyline", 90, len(listed), 70, 1)
    for number, (x, y) in enumerate(listed):
        made += tags(10, x, 20, y) + (tags(42, bulge) if number == 0 and bulge is not None else "")
    return made


def block(name: str, entities: str) -> str:
    """A block."""
    return tags(0, "BLOCK", 8, "0", 2, name, 70, 0, 10, 0, 20, 0, 30, 0, 3, name) + entities + tags(0, "ENDBLK", 8, "0")


def insert(name: str, *more: object) -> str:
    """A copy of a block, with further tags."""
    return tags(0, "INSERT", 8, "0", 100, "AcDbEntity", 100, "AcDbBlockReference", 2, name, 10, 0, 20, 0, 30, 0, *more)


def circle(radius: object, *more: object) -> str:
    """A circle, with further tags."""
    return tags(0, "CIRCLE", 8, "0", 10, 0, 20, 0, 40, radius, *more)


def ellipse(major: object, ratio: object) -> str:
    """A full ellipse."""
    return tags(
        0, "ELLIPSE", 8, "0", 10, 0, 20, 0, 30, 0, 11, major, 21, 0, 31, 0, 40, ratio, 41, 0, 42, 6.283185307179586
    )


def spline(degree: object, knots: Iterable[object], through: Iterable[tuple[object, object]]) -> str:
    """A spline by control points."""
    listed, ends = list(knots), list(through)
    made = tags(0, "SPLINE", 8, "0", 100, "AcDbEntity", 100, "AcDbSpline", 70, 8, 71, degree)
    made += tags(72, len(listed), 73, len(ends), 74, 0)
    return made + "".join(tags(40, knot) for knot in listed) + "".join(tags(10, x, 20, y, 30, 0) for x, y in ends)


def doubled(text: str, name: str, copy: str, levels: int) -> str:
    """Ten copies of a thing within ten copies of it, ``levels`` times; ``text`` and ``copy`` are patterns."""
    return "".join(text.format(f"{name}{at + 1}", 10 * copy.format(f"{name}{at}")) for at in range(levels))


def written(folder: Path, name: str, content: str | bytes) -> Path:
    """The file with this content."""
    (folder / name).write_bytes(content.encode() if isinstance(content, str) else content)
    return folder / name
