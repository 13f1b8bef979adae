"""Reads the lines of a DXF drawing; what cannot be drawn as it stands is refused."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Iterator
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING

from matcher.tools.drawing_limits import SAGITTA_MM, Holding, Stroke, check_near, check_placed
from matcher.tools.notation import SizingError

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dxfentity import DXFEntity

_DRAWN = frozenset(("LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE"))
_WHOLE = "whole drawing"
_SURVEY_FOOT_MM = 1_200_000 / 3937  # 1200/3937 m (from memory)
_MORE_UNITS = {
    8: ("microinches", 25.4e-6),
    9: ("mils", 0.0254),
    21: ("survey feet", _SURVEY_FOOT_MM),
    22: ("survey inches", _SURVEY_FOOT_MM / 12),
    23: ("survey yards", _SURVEY_FOOT_MM * 3),
    24: ("survey miles", _SURVEY_FOOT_MM * 5280),
}
"""Units of $INSUNITS that the library of DXF knows no length of."""


def dxf_lines(path: Path) -> tuple[str, Iterator[Stroke]]:
    """The unit in words, and every drawn line of the model space; a drawing without a unit is taken to be in mm.

    Raises
    ------
    SizingError
        The file cannot be read, has a unit or numbers that are none, blocks that are not there, or too many copies.
    """
    from ezdxf import filemanagement

    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)  # what it would mend in passing is no message of ours
    try:
        document = filemanagement.readfile(path)
    except Exception:  # a damaged file raises nearly anything: structure, key, value and type errors
        raise SizingError("outline", "a DXF file; this one cannot be read") from None
    told, scale = _unit(document)
    _check_numbers(document)
    _check_blocks(document)
    return told, _lines(document, scale)


def _unit(document: Drawing) -> tuple[str, float]:
    """The unit in words and its millimeters."""
    from ezdxf import units
    from ezdxf.enums import InsertUnits

    code = document.units
    if not code:
        return "no unit, taken as millimeters", 1.0
    if code in _MORE_UNITS:
        return _MORE_UNITS[code]
    if code not in {unit.value for unit in InsertUnits}:
        raise SizingError("outline", f"a unit that DXF knows, $INSUNITS from 0 to 24; this drawing has {code}")
    return InsertUnits(code).name.lower(), units.conversion_factor(InsertUnits(code), InsertUnits.Millimeters)


def _check_numbers(document: Drawing) -> None:
    """Refuse what is infinite or no number: some of it would be drawn without end."""
    for layout in (document.modelspace(), *document.blocks):
        for entity in layout:
            if not all(map(isfinite, _numbers(entity))):
                raise SizingError("outline", f"numbers; a {entity.dxftype()} has one that is infinite or none")


def _numbers(entity: DXFEntity) -> Iterator[float]:
    for value in entity.dxfattribs().values():
        yield from (value,) if isinstance(value, float) else getattr(value, "xyz", ())
    for name in ("knots", "weights"):
        yield from getattr(entity, name, ())
    for name in ("lwpoints", "control_points", "fit_points"):
        for point in getattr(entity, name, ()):
            yield from point


def _check_blocks(document: Drawing) -> None:
    """Refuse blocks that are not there or stand in themselves, and copies by the million."""
    held = {block.name.lower(): _holding(block) for block in document.blocks}
    held[_WHOLE] = _holding(document.modelspace())
    reached = [_WHOLE]
    for at in reached:
        for name, _ in held[at].others:
            if name not in held:
                raise SizingError("outline", f"blocks that are in the drawing; {name[:40]!r} is not")
            if name not in reached:
                reached.append(name)
    check_placed(_WHOLE, held)


def _holding(entities: Iterable[DXFEntity]) -> Holding:
    from ezdxf.entities.insert import Insert

    listed = list(entities)
    copies = [
        (entity.get_dxf_attrib("name", "").lower(), max(1, entity.mcount))
        for entity in listed
        if isinstance(entity, Insert)
    ]
    return Holding(len(listed) - len(copies), copies)


def _lines(document: Drawing, scale: float) -> Iterator[Stroke]:
    from ezdxf.disassemble import recursive_decompose
    from ezdxf.path import make_path

    drawn = (item for item in document.modelspace() if item.dxftype() in _DRAWN | {"INSERT"})
    for entity in recursive_decompose(drawn):
        if entity.dxftype() in _DRAWN:
            path = make_path(entity)
            check_near(*(place * scale for vertex in path.control_vertices() for place in vertex.xyz))
            yield ((point.x * scale, point.y * scale) for point in path.flattening(SAGITTA_MM / scale))
