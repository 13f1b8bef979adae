"""Setup sheets as documents and lines: what the person at the machine has to know. Shows, never computes."""

from __future__ import annotations

from collections.abc import Iterator

from matcher.cutting import CutStep, SetupSheet
from matcher.records import counted, to_mm
from matcher.report.document import Document

NOT_FOR_PRODUCTION = "not for production"


def setup_document(sheet: SetupSheet) -> Document:
    """One organizer's setup sheet."""
    return {
        "group": sheet.group,
        "drawer": sheet.drawer,
        "note": "" if sheet.production else NOT_FOR_PRODUCTION,
        "foam": sheet.foam,
        "thickness_mm": to_mm(sheet.thickness),
        "base": sheet.base,
        "base_thickness_mm": to_mm(sheet.base_thickness),
        "face_up": sheet.face_up,
        "origin": sheet.origin,
        "cutters": [
            {
                "diameter_mm": to_mm(tool.diameter),
                "reach_mm": to_mm(tool.reach),
                "depths_mm": [to_mm(depth) for depth in tool.depths],
            }
            for tool in sheet.tools
        ],
        "order_of_cuts": [
            {
                "depth_mm": to_mm(step.depth),
                "cutter_mm": to_mm(step.cutter) if step.cutter else None,
                "pockets": step.pockets,
                "notches": step.notches,
            }
            for step in sheet.order
        ],
        "first_article": [
            {"dimension": check.name, "length_mm": round(to_mm(check.length), 1)} for check in sheet.first_article
        ],
        "batch": sheet.batch,
        "notes": list(sheet.notes),
        "cautions": list(sheet.cautions),
    }


def setup_lines(sheet: SetupSheet) -> Iterator[str]:
    """A setup sheet without the cautions that always hold, a blank line before it."""
    yield ""
    yield f"Setup sheet: {sheet.group}{f', drawer {sheet.drawer}' if sheet.drawer else ''}"
    if not sheet.production:
        yield f"  {NOT_FOR_PRODUCTION.upper()}"
    yield f"  foam: {_foam(sheet.foam, sheet.thickness - sheet.base_thickness)}; face up: {sheet.face_up}"
    if sheet.base_thickness:
        yield f"  on a base: {_foam(sheet.base, sheet.base_thickness)}; {to_mm(sheet.thickness):.1f} mm in all"
    for tool in sheet.tools:
        depths = ", ".join(f"{to_mm(depth):.1f}" for depth in tool.depths)
        yield f"  cutter {to_mm(tool.diameter):g} mm, reach {to_mm(tool.reach):.1f} mm: depths {depths} mm"
    yield "  cut in this order, of one depth as the drawing lists them, beside the widest webs first:"
    yield from (f"    {to_mm(step.depth):.1f} mm deep: {_cuts(step)}" for step in sheet.order)
    yield "    last what is cut out for obstructions, then the outline"
    yield f"  origin: {sheet.origin}"
    yield "  measure on the first article:"
    yield from (f"    {check.name}: {to_mm(check.length):.1f} mm" for check in sheet.first_article)
    yield f"  batch: {sheet.batch}"
    yield from (f"  ! {note}" for note in sheet.notes)


def _cuts(step: CutStep) -> str:
    counts = ((step.pockets, "pocket"), (step.notches, "notch"))
    return " and ".join(counted(count, word) for count, word in counts if count)


def _foam(name: str, thickness: int) -> str:
    return f"{name or 'none of the catalogue'}, {to_mm(thickness):.1f} mm"
