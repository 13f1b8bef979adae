"""A fit strip as a document, lines and drawings. Shows, never computes."""

from __future__ import annotations

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.cutting import FitStrip, by_group
from matcher.records import show_mm, to_mm
from matcher.report.cut_files import drawn_dxf, drawn_svg
from matcher.report.cut_sheets import READ_FIRST, guess_document
from matcher.report.document import Document
from matcher.report.files import Writers, json_text
from matcher.report.setup_sheets import NOT_FOR_PRODUCTION, setup_document, setup_lines


def strip_document(made: FitStrip) -> Document:
    """What the strip tries and how it is cut."""
    return {
        "set": made.set,
        "cabinet": made.cabinet,
        "group": made.group,
        "tool": made.tool,
        "stance": "standing" if made.standing else "lying",
        "clearances_mm": [to_mm(fit) for fit in made.fits],
        "house_clearance_mm": to_mm(made.house),
        "width_mm": to_mm(made.drawing.width),
        "depth_mm": to_mm(made.drawing.depth),
        "thickness_mm": to_mm(made.drawing.thickness),
        "production": made.drawing.production,
        "note": "" if made.drawing.production else NOT_FOR_PRODUCTION,
        "caution": READ_FIRST,
        "work_cautions": list(made.setup.cautions),
        "guesses": [guess_document(guess) for guess in made.guesses],
        "setup_sheet": setup_document(made.setup),
    }


def strip_view(made: FitStrip) -> RenderableType:
    """The clearances, the setup sheet and what to mind."""
    drawing = made.drawing
    fits = ", ".join(show_mm(fit) for fit in made.fits)
    size = " x ".join(show_mm(length) for length in (drawing.width, drawing.depth, drawing.thickness))
    lines = [
        f"Fit strip of {made.tool} ({made.group} of {made.set}, {'standing' if made.standing else 'lying'}): {size}",
        f"clearance on each side, from left to right: {fits}; the house's is {show_mm(made.house)}",
        *setup_lines(made.setup),
        *(f"! {caution}" for caution in made.setup.cautions),
        *(f"! not measured: {line}" for line in by_group(made.guesses)),
    ]
    return Stack(*map(Text, lines))


def strip_writers(made: FitStrip) -> Writers:
    """Files of a strip: its drawing as .dxf and .svg, what it tries as .json."""
    return {
        ".dxf": lambda: drawn_dxf([made.drawing], READ_FIRST),
        ".svg": lambda: drawn_svg([made.drawing], READ_FIRST, made.drawing.name),
        ".json": lambda: json_text(strip_document(made)),
    }
