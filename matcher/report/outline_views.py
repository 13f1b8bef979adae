"""How a drawing of an outline was read: as a document, in a terminal, and full size with its box and dimensions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil
from pathlib import Path

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text
from shapely import Polygon

from matcher.records import PER_MM, Catalogue, SizedPiece, UsageError, counted, to_mm
from matcher.report.document import Document
from matcher.tools import OutlineReading, SizingError, outline_reading, sized, turned

MARGIN_MM = 14.0
"""Paper round the drawing, for its dimensions."""
TEXT_MM = 4.0
WINS = (
    "the drawing gives the shape, and length and width where their columns are blank; columns that are filled must "
    "agree with it within 1 mm and 1 %, and it is stretched to them; height and mass are never from it"
)


@dataclass(frozen=True, slots=True)
class ReadOutline:
    """A file, what it was read as, and the tools of a catalogue that it belongs to."""

    file: str
    reading: OutlineReading
    tools: tuple[SizedPiece, ...]

    @property
    def upright(self) -> Polygon:
        """The shape with its long side up, as a pocket takes it."""
        return turned(self.reading.shape) if self.reading.lies else self.reading.shape


def read_outline(path: Path, catalogue: Catalogue) -> ReadOutline:
    """A drawing as it was read, looked for as it is named and then in the catalogue's folder.

    Raises
    ------
    UsageError
        It is no drawing of one closed shape.
    """
    place = path if path.exists() else Path(catalogue.folder) / path
    try:
        reading = outline_reading(place)
    except SizingError as wrong:
        raise UsageError(f"outline {path}: expected {wrong.expected}") from None
    own = (piece for piece in catalogue.pieces if piece.outline and Path(piece.outline) == place.resolve())
    return ReadOutline(str(path), reading, tuple(map(sized, own)))


def outline_document(found: ReadOutline) -> Document:
    """Unit, box, corners, area, what was done to it, and the tools it belongs to."""
    reading = found.reading
    _, _, width, length = found.upright.bounds
    return {
        "file": found.file,
        "unit": reading.unit,
        "width_mm": to_mm(ceil(round(width, 3))),
        "length_mm": to_mm(ceil(round(length, 3))),
        "area_cm2": round(reading.shape.area / PER_MM**2 / 100, 2),
        "corners": reading.corners,
        "corners_drawn": reading.corners_drawn,
        "simplified": reading.corners != reading.corners_drawn,
        "turned": reading.lies,
        "areas_filled": reading.filled,
        "tools": [
            {
                "set": tool.piece.set,
                "tool": tool.piece.tool,
                "length_mm": to_mm(tool.length),
                "width_mm": to_mm(tool.width),
                "height_mm": to_mm(tool.height),
            }
            for tool in found.tools
        ],
    }


def outline_view(found: ReadOutline) -> RenderableType:
    """The document in lines."""
    told = outline_document(found)
    thinned = (
        f", of {told['corners_drawn']} drawn: curves thinned out, grown by 0.07 mm first so that none is cut short"
    )
    lines = [
        f"{told['width_mm']:.2f} mm wide x {told['length_mm']:.2f} mm long, {told['area_cm2']:.2f} cm² from above",
        f"unit of the drawing: {told['unit']}",
        f"{counted(told['corners'], 'corner')}{thinned if told['simplified'] else ', as drawn'}",
        "turned a quarter left: its right end is the working head"
        if told["turned"]
        else "not turned: its top is the working head",
        f"{counted(told['areas_filled'], 'area')} inside filled: pockets have no islands"
        if told["areas_filled"]
        else "nothing inside to be filled",
        *(_tool_line(tool) for tool in told["tools"]),
        WINS,
    ]
    return Stack(Text(found.file, style="bold"), *map(Text, lines))


def _tool_line(tool: Document) -> str:
    sizes = " x ".join(f"{tool[f'{name}_mm']:.1f}" for name in ("length", "width", "height"))
    return f"outline of {tool['tool']} ({tool['set']}): {sizes} mm"


def outline_drawing(found: ReadOutline) -> str:
    """An SVG drawing at 1:1 of the outline, long side up, in its box with its dimensions."""
    shape, told = found.upright, outline_document(found)
    _, _, wide, high = (size / PER_MM for size in shape.bounds)
    left, top = 2 * MARGIN_MM, MARGIN_MM
    right, foot = left + wide, top + high
    page_width, page_height = right + MARGIN_MM, foot + 2 * MARGIN_MM
    line = 'fill="none" stroke="#555" stroke-width="0.2"'
    across, along = foot + MARGIN_MM / 2, left - MARGIN_MM / 2
    middle, half = (left + right) / 2, (top + foot) / 2
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{page_width:.3f}mm" height="{page_height:.3f}mm" '
        f'viewBox="0 0 {page_width:.3f} {page_height:.3f}">',
        f"<title>{told['width_mm']:.2f} x {told['length_mm']:.2f} mm, full size: print at 100 %</title>",
        f'<rect id="box" x="{left:.3f}" y="{top:.3f}" width="{wide:.3f}" height="{high:.3f}" {line} '
        'stroke-dasharray="2 1"/>',
        f'<path id="outline" d="{_path(shape, left, foot)}" fill="#ddd" stroke="#000" stroke-width="0.25"/>',
        f'<path d="M{left:.3f} {across:.3f}H{right:.3f}M{along:.3f} {top:.3f}V{foot:.3f}" {line}/>',
        f'<path d="{_ticks([(left, across), (right, across), (along, top), (along, foot)])}" {line}/>',
        _label(middle, across + TEXT_MM + 1, f"{told['width_mm']:.2f} mm"),
        _label(
            along - 1.5, half, f"{told['length_mm']:.2f} mm", f' transform="rotate(-90 {along - 1.5:.3f} {half:.3f})"'
        ),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _path(shape: Polygon, left: float, foot: float) -> str:
    corners = [(left + x / PER_MM, foot - y / PER_MM) for x, y in shape.exterior.coords[:-1]]
    return "M" + "L".join(f"{x:.4f} {y:.4f}" for x, y in corners) + "Z"


def _ticks(ends: Iterable[Sequence[float]]) -> str:
    """A slanted stroke through each end of a dimension line."""
    return "".join(f"M{x - 1:.3f} {y + 1:.3f}L{x + 1:.3f} {y - 1:.3f}" for x, y in ends)


def _label(x: float, y: float, words: str, turn: str = "") -> str:
    look = f'font-family="sans-serif" font-size="{TEXT_MM}" text-anchor="middle"'
    return f'<text x="{x:.3f}" y="{y:.3f}" {look}{turn}>{words}</text>'
