"""Cut drawings as DXF and SVG: every organizer of a plan in a row, each from its own origin, in millimeters.

Layers carry part and depth, e.g. ``POCKET_18.0MM``; origin marks, words and frames lie on layers of their own. Sizes
are there twice: as text on ``SIZES``, and on ``SIZES_LINES`` as single lines for a cutter, if on the face of the foam.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from itertools import accumulate
from typing import Any
from xml.sax.saxutils import escape, quoteattr

from matcher.cutting import Contour, Cut, Drawing, DrawnWords, Vertex
from matcher.planning import Fits
from matcher.records import NothingToShowError, to_mm
from matcher.report.cut_sheets import cut_caution, cut_document, cut_rows
from matcher.report.files import Writers, csv_text, json_text
from matcher.report.setup_sheets import NOT_FOR_PRODUCTION
from matcher.report.workbook import cut_book

SPACING, MARK = 60.0, 6.0
"""Between two organizers, and half an origin mark, in millimeters."""
NAME_HEIGHT, NOTE_HEIGHT, WARNING_HEIGHT, BELOW = 8.0, 5.0, 12.0, 16.0
CAUTION_BELOW = -3 * BELOW
"""Where the line of caution stands under the row of organizers, at its left end."""
COLORS = {"outer": 7, "cutout": 1, "pocket": 5, "notch": 3}
"""Color numbers of the DXF's layers."""
LINES = "SIZES_LINES"
"""Layer of sizes as single lines."""
STYLE = """
  path { fill: none; stroke-width: 0.4 }
  .outer { stroke: #16191d } .cutout { stroke: #8f3b2f } .pocket { stroke: #1f5f8b } .notch { stroke: #3f7a4a }
  .origin { stroke: #6b6f76 } .warning { fill: #8f3b2f }
  text { font-family: sans-serif; fill: #16191d; text-anchor: middle; dominant-baseline: central }
  .size { fill: #b9bdc4 } .letters { stroke: #16191d; stroke-width: 0.25 } .caution { text-anchor: start }
"""


def cut_writers(made: Cut) -> Writers:
    """Files of what is to be cut: drawings as .dxf and .svg, everything as .json and .xlsx, blanks as .csv.

    The drawings raise `NothingToShowError` where nothing is to be cut.
    """
    return {
        ".dxf": lambda: cut_dxf(made),
        ".svg": lambda: cut_svg(made),
        ".json": lambda: json_text(cut_document(made)),
        ".csv": lambda: csv_text(cut_rows(made)),
        ".xlsx": lambda: cut_book(cut_document(made)),
    }


def layer_of(contour: Contour) -> str:
    """The layer of a contour: its part and depth."""
    return f"{contour.part.upper()}_{to_mm(contour.depth):.1f}MM"


# --------------------------------------------------------------------------------------------------------------- DXF


def cut_dxf(made: Cut) -> str:
    """The drawings as DXF text.

    Raises
    ------
    NothingToShowError
        Nothing is to be cut.
    """
    return drawn_dxf(_drawings(made), cut_caution(made))


def drawn_dxf(drawings: list[Drawing], caution: str) -> str:
    """Drawings in a row as DXF text (R2010), closed polylines with arcs; the same input gives the same text."""
    from ezdxf import options, units  # type: ignore[attr-defined]
    from ezdxf.filemanagement import new

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True  # no times and random numbers in the file
    try:
        document = new("R2010", units=units.MM)
        for name in ("ORIGIN", "NAME", "SIZES", LINES, "CAUTION", NOT_FOR_PRODUCTION.upper().replace(" ", "_")):
            document.layers.add(name)
        for drawing, left in zip(drawings, _lefts(drawings), strict=True):
            _draw(document, drawing, left)
        _text(document.modelspace(), caution, (0, CAUTION_BELOW), NOTE_HEIGHT, 0, "CAUTION", middle=False)
        for kind in sorted(document.entitydb.dxf_types_in_use()):  # else they are listed in the order of a set
            document.classes.add_class(kind)
        stream = io.StringIO()
        document.write(stream)
    finally:
        options.write_fixed_meta_data_for_testing = before
    return stream.getvalue()


def _draw(document: Any, drawing: Drawing, left: float) -> None:
    space = document.modelspace()
    for contour in drawing.contours:
        layer = layer_of(contour)
        if layer not in document.layers:
            document.layers.add(layer, color=COLORS[contour.part])
        corners = [(left + to_mm(x), to_mm(y), bulge) for x, y, bulge in contour.corners]
        space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs={"layer": layer})
    space.add_line((left - MARK, 0), (left + MARK, 0), dxfattribs={"layer": "ORIGIN"})
    space.add_line((left, -MARK), (left, MARK), dxfattribs={"layer": "ORIGIN"})
    for words in drawing.sizes:
        _write(space, words, left, "SIZES")
        for line in words.lines:
            space.add_lwpolyline([(left + to_mm(x), to_mm(y)) for x, y in line], dxfattribs={"layer": LINES})
    middle = left + to_mm(drawing.width) / 2
    _text(space, drawing.name, (middle, -BELOW), NAME_HEIGHT, 0, "NAME")
    if drawing.note:
        _text(space, drawing.note, (middle, -1.5 * BELOW), NOTE_HEIGHT, 0, "NAME")
    if not drawing.production:
        layer = NOT_FOR_PRODUCTION.upper().replace(" ", "_")
        _text(space, NOT_FOR_PRODUCTION.upper(), (middle, -2.25 * BELOW), WARNING_HEIGHT, 0, layer)


def _write(space: Any, words: DrawnWords, left: float, layer: str) -> None:
    place = (left + to_mm(words.x), to_mm(words.y))
    _text(space, words.text, place, to_mm(words.height), 90 if words.upright else 0, layer)


def _text(
    space: Any,
    text: str,
    place: tuple[float, float],
    height: float,
    turn: float,
    layer: str,
    *,
    middle: bool = True,
) -> None:
    from ezdxf.enums import TextEntityAlignment

    entity = space.add_text(text, height=height, rotation=turn, dxfattribs={"layer": layer})
    align = TextEntityAlignment.MIDDLE_CENTER if middle else TextEntityAlignment.MIDDLE_LEFT
    entity.set_placement(place, align=align)


# --------------------------------------------------------------------------------------------------------------- SVG


def cut_svg(made: Cut) -> str:
    """The drawings as one SVG.

    Raises
    ------
    NothingToShowError
        Nothing is to be cut.
    """
    return drawn_svg(_drawings(made), cut_caution(made), f"{made.outcome.set} in {made.outcome.cabinet}")


def drawn_svg(drawings: list[Drawing], caution: str, title: str) -> str:
    """Drawings in a row as one SVG, true to scale, fronts at the bottom."""
    lefts = _lefts(drawings)
    width = lefts[-1] + to_mm(drawings[-1].width) + 2 * SPACING
    tallest = max(to_mm(drawing.depth) for drawing in drawings)
    height = tallest + 2 * SPACING
    body = (
        line
        for drawing, left in zip(drawings, lefts, strict=True)
        for line in _organizer(drawing, left + SPACING, tallest + SPACING)
    )
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}mm" height="{height:g}mm" '
            f'viewBox="0 0 {width:g} {height:g}">',
            f"<title>{escape(title)}</title>",
            f"<style>{STYLE}</style>",
            *body,
            f'<text class="caution" x="{SPACING:g}" y="{tallest + SPACING - CAUTION_BELOW:g}" '
            f'font-size="{NOTE_HEIGHT:g}">{escape(caution)}</text>',
            "</svg>\n",
        ]
    )


def _organizer(drawing: Drawing, left: float, front: float) -> Iterator[str]:
    """One organizer as a group whose origin is its front left corner; y is turned over, for SVG counts downward."""
    yield f'<g id={quoteattr(drawing.name)} transform="translate({left:g} {front:g})">'
    for contour in drawing.contours:
        depth = f"{to_mm(contour.depth):.1f}"
        yield (
            f'<path class="{contour.part}" data-layer="{layer_of(contour)}" data-depth-mm="{depth}" '
            f'd="{_path(contour.corners)}"/>'
        )
    yield f'<path class="origin" d="M {-MARK:g} 0 H {MARK:g} M 0 {-MARK:g} V {MARK:g}"/>'
    for words in drawing.sizes:
        yield _label(words)
        if words.lines:
            yield f'<path class="letters" data-layer="{LINES}" d="{_letters(words)}"/>'
    middle = to_mm(drawing.width) / 2
    yield f'<text x="{middle:g}" y="{BELOW:g}" font-size="{NAME_HEIGHT:g}">{escape(drawing.name)}</text>'
    if drawing.note:
        yield f'<text x="{middle:g}" y="{1.5 * BELOW:g}" font-size="{NOTE_HEIGHT:g}">{escape(drawing.note)}</text>'
    if not drawing.production:
        yield (
            f'<text class="warning" x="{middle:g}" y="{2.25 * BELOW:g}" font-size="{WARNING_HEIGHT:g}">'
            f"{NOT_FOR_PRODUCTION.upper()}</text>"
        )
    yield "</g>"


def _path(corners: tuple[Vertex, ...]) -> str:
    parts = [f"M {_point(corners[0])}"]
    ends = [*corners[1:], corners[0]]
    parts += [_segment(one, other) for one, other in zip(corners, ends, strict=True)]
    return " ".join([*parts, "Z"])


def _segment(one: Vertex, other: Vertex) -> str:
    """A line, or an arc of radius chord (1 + b2) / 4b; counterclockwise seen from above."""
    x, y, bulge = one
    if not bulge:
        return f"L {_point(other)}"
    chord = ((other[0] - x) ** 2 + (other[1] - y) ** 2) ** 0.5
    radius = to_mm(1) * chord * (1 + bulge * bulge) / (4 * bulge)
    return f"A {radius:.4f} {radius:.4f} 0 0 0 {_point(other)}"


def _point(vertex: Vertex) -> str:
    return f"{to_mm(vertex[0]):.4f} {-to_mm(vertex[1]):.4f}"


def _letters(words: DrawnWords) -> str:
    return " ".join("M " + " L ".join(f"{to_mm(x):.3f} {-to_mm(y):.3f}" for x, y in line) for line in words.lines)


def _label(words: DrawnWords) -> str:
    x, y = to_mm(words.x), -to_mm(words.y)
    turn = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if words.upright else ""
    kind = ' class="size"' if words.lines else ""
    place = f'x="{x:.2f}" y="{y:.2f}" font-size="{to_mm(words.height):.2f}"'
    return f"<text{kind} {place}{turn}>{escape(words.text)}</text>"


# ---------------------------------------------------------------------------------------------------------- the row


def _drawings(made: Cut) -> list[Drawing]:
    if not isinstance(made.outcome, Fits):
        raise NothingToShowError("no drawing, there is no plan")
    if not made.jobs:
        raise NothingToShowError("no drawing, no new foam is needed")
    return [job.drawing for job in made.jobs]


def _lefts(drawings: list[Drawing]) -> list[float]:
    """Where each organizer begins, side by side."""
    return list(accumulate((to_mm(drawing.width) + SPACING for drawing in drawings[:-1]), initial=0.0))
