"""Measured drawers: documents and tables. Shows, never computes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.fitting import Carried
from matcher.planning import nearest_change_of, reasons_of
from matcher.records import show_mm, to_mm, unit_of
from matcher.report.answer_lines import but_lines, left_out_lines
from matcher.report.caution_views import caution_lines, cautions_of
from matcher.report.document import Document, plan_document
from matcher.report.grids import Grid
from matcher.studies import (
    ENOUGH,
    NOTE,
    ONE_AT_A_TIME,
    Countable,
    DrawerContents,
    Line,
    Measuring,
    MeasuringSheet,
    Reading,
    Tolerance,
    Turn,
)

STYLES = {
    "fits": "bold green",
    "does not fit": "bold red",
    "undecided": "bold yellow",
    "depends on the tape": "bold yellow",
}


# ----------------------------------------------------------------------------------------- nominal beside measured


def measuring_document(found: Measuring) -> Document:
    """The plan document of the cabinet as measured with what the tape adds to it; the nominal one is under its key."""
    return {
        **plan_document(found.outcome),
        "verdict": found.verdict,
        "conditional": bool(found.assumed),
        "not_measured": [{"drawer": drawer, "dimensions": list(sizes)} for drawer, sizes in found.assumed],
        "tape_error_mm": to_mm(found.error),
        "readings": [reading_document(reading) for reading in found.readings],
        "stays": found.stays,
        "changes": list(found.changes),
        "contents": [_contents(row) for row in found.contents],
        "nominal": plan_document(found.nominal),
    }


def measuring_view(found: Measuring) -> RenderableType:
    """Nominal and measured side by side, what changed, and what each measured drawer asks of its foam."""
    outcome = found.outcome
    error = outcome.question.unit.needed(found.error)
    parts: list[RenderableType] = [
        Text.assemble(
            (found.set, "bold"),
            " in ",
            (found.cabinet, "bold"),
            " as measured: ",
            (found.verdict, STYLES[found.verdict]),
            f" (by nominal sizes: {found.nominal.verdict})",
        ),
        Text(f"readings: {len(found.readings)}, each good to {error}; proved at the lower end"),
        *_condition(found),
        _readings_table(found.readings),
    ]
    if found.contents:
        parts += [Text("The nominal plan's organizers in the measured drawers:"), _contents_table(found.contents)]
    parts += [Text("Every group may stay in its drawer of the nominal plan.")] if found.stays else []
    parts += [Text(f"best plan as measured: {change}") for change in found.changes]
    parts += [*left_out_lines(outcome.question.left_out), *but_lines(outcome)]
    parts += [Text(f"{reason.code}: {reason.text}") for reason in reasons_of(outcome)]
    change = nearest_change_of(outcome)
    return Stack(*parts, *([Text(change)] if change else []), *caution_lines(cautions_of(outcome)))


def _condition(found: Measuring) -> list[Text]:
    if not found.assumed:
        return []
    told = "; ".join(f"{drawer} ({', '.join(sizes)})" for drawer, sizes in found.assumed)
    return [Text(f"conditional: not measured, taken as its maker gives it: {told}")]


def reading_document(reading: Reading) -> Document:
    """A reading beside the size its maker gives."""
    return {
        "drawer": reading.drawer,
        "dimension": reading.dimension,
        "nominal_mm": to_mm(reading.nominal),
        "read_mm": to_mm(reading.value),
        "difference_mm": to_mm(reading.value - reading.nominal),
    }


def _readings_table(readings: Iterable[Reading]) -> Grid:
    listed = tuple(readings)
    unit = unit_of(one.nominal for one in listed)
    table = Grid("drawer", "size", f"*nominal {unit.name}", f"*read {unit.name}", "*difference")
    for one in listed:
        sizes = (unit.figure(one.nominal), unit.figure(one.value), unit.figure(one.value - one.nominal, sign="+"))
        table.add_row(one.drawer, one.dimension, *sizes)
    return table


def _contents(row: DrawerContents) -> Document:
    return {
        "drawer": row.drawer,
        "groups": list(row.groups),
        "how": row.now.how,
        "how_at_best": row.best.how,
        "cut_off_width_mm": to_mm(max(0, -row.now.width)),
        "cut_off_depth_mm": to_mm(max(0, -row.now.depth)),
        "short_mm": to_mm(row.now.short),
        "lacks": row.now.lacks,
        "gap_each_side_mm": to_mm(row.gap_width) / 2,
        "gap_front_and_back_mm": to_mm(row.gap_depth) / 2,
        "recut": row.recut,
    }


def _contents_table(rows: Iterable[DrawerContents]) -> Grid:
    table = Grid("drawer", "~=holds", "~=goes in", "*gap each side", "*front, back", "re-cut")
    for row in rows:
        gaps = (f"{to_mm(row.gap_width) / 2:.1f} mm", f"{to_mm(row.gap_depth) / 2:.1f} mm")
        table.add_row(row.drawer, " + ".join(row.groups), _goes_in(row), *gaps, row.recut)
    return table


def _goes_in(row: DrawerContents) -> str:
    told = carried_words(row.now)
    return told if row.best.how == row.now.how else f"{told}; at best {row.best.how}"


def carried_words(carry: Carried) -> str:
    """How an organizer goes in, with what is cut off, left open or lacking, e.g. ``trim (width 2.1 mm off)``."""
    if carry.how == "re-cut":
        return f"re-cut ({show_mm(carry.short)} short in {carry.lacks})"
    if carry.how == "as is":
        return "as is"
    sizes = (("width", carry.width), ("depth", carry.depth))
    told = [f"{axis} {show_mm(abs(size))} {'off' if size < 0 else 'open'}" for axis, size in sizes if size]
    return f"{carry.how} ({', '.join(told)})"


# ------------------------------------------------------------------------------------------------------- tolerance


def tolerance_document(found: Tolerance) -> Document:
    """How far a verdict stands when sizes are off."""
    return {
        "set": found.set,
        "cabinet": found.cabinet,
        "within_mm": to_mm(found.within),
        "verdict": found.verdict,
        "all_smaller": found.smallest,
        "all_larger": found.largest,
        "fits_from_all_mm": None if found.together is None else to_mm(found.together),
        "turns": [_turn(turn) for turn in found.turns],
    }


def tolerance_view(found: Tolerance) -> RenderableType:
    """The drawers that decide, and from which size on the verdict turns."""
    head = Text.assemble(
        (found.set, "bold"), " in ", (found.cabinet, "bold"), ": ", (found.verdict, STYLES[found.verdict])
    )
    told = Text(tolerance_words(found))
    if found.together is None:
        return Stack(head, told)
    parts: list[RenderableType] = [head, Text(f"all sizes off at once: fits from {to_mm(found.together):+.2f} mm on")]
    if not found.turns:
        return Stack(*parts, told)
    unit = unit_of(turn.given for turn in found.turns)
    table = Grid("drawer", "size", f"*given {unit.name}", f"*fits from {unit.name}", "below")
    for turn in found.turns:
        table.add_row(turn.drawer, turn.dimension, unit.figure(turn.given), unit.least(turn.at, 2), turn.below)
    return Stack(*parts, told, table)


def tolerance_words(found: Tolerance) -> str:
    """The answer in one sentence: whether sizes off by so much turn the verdict."""
    within = unit_of(turn.given for turn in found.turns).show(found.within)
    if found.together is None:
        return f"every size off by up to {within}: {_far(found)}"
    if not found.turns:
        return f"no single size off by up to {within} turns it"
    return f"single sizes that decide within {within}, the nearest first:"


def _far(found: Tolerance) -> str:
    return "still fits" if found.verdict == "fits" else f"still {found.largest}"


def _turn(turn: Turn) -> Document:
    return {
        "drawer": turn.drawer,
        "dimension": turn.dimension,
        "given_mm": to_mm(turn.given),
        "fits_from_mm": to_mm(turn.at),
        "below": turn.below,
    }


# ----------------------------------------------------------------------------------------------------------- sheet


def sheet_document(found: MeasuringSheet) -> Document:
    """The measuring sheet, the readings that decide first."""
    return {
        "set": found.set,
        "cabinet": found.cabinet,
        "within_mm": to_mm(found.within),
        "tape_error_mm": to_mm(found.error),
        "note": NOTE,
        "caution": ONE_AT_A_TIME,
        "counts": [{"count": one.what, "number": one.number} for one in found.counts],
        "readings": [_line(line, found) for line in found.lines],
    }


def sheet_view(found: MeasuringSheet) -> RenderableType:
    """The sheet to send to a buyer."""
    parts: list[RenderableType] = [
        Text.assemble("Measure before ordering: ", (found.set, "bold"), " in ", (found.cabinet, "bold")),
        Text(f"! {ONE_AT_A_TIME}", "yellow"),
        Text(NOTE),
        *(
            Text(f"Count the {counted_where(one.what)}: {one.number}; else it is another cabinet")
            for one in found.counts
        ),
    ]
    unit = unit_of(line.given for line in found.lines)
    sizes = (f"*should be {unit.name}", f"*enough {unit.name}", f"read {unit.name}")
    table = Grid("", "drawer", "bank", "row", "size", *sizes)
    for number, line in enumerate(found.lines, 1):
        enough = "" if line.enough is None else unit.least(line.enough)
        place = (line.drawer, str(line.bank), str(line.row))
        table.add_row(str(number), *place, line.dimension, unit.figure(line.given), enough, "______")
    parts.append(table)
    if any(line.enough is not None for line in found.lines):
        parts.append(Text(f"enough: {ENOUGH.format(error=unit.needed(found.error))}"))
    parts += [Text(line) for line in _purposes(found.lines)]
    tapes = dict.fromkeys((line.dimension, line.tape) for line in found.lines)
    return Stack(*parts, *(Text(f"{dimension}: {tape}.") for dimension, tape in tapes))


def counted_where(what: Countable) -> str:
    """What to count, with where if that is open."""
    return "rows in the bank with the most" if what == "rows" else what


def _purposes(lines: Sequence[Line]) -> list[str]:
    """Which numbers of the sheet decide what."""
    purposes = dict.fromkeys(line.purpose for line in lines)
    numbers = {purpose: [n for n, line in enumerate(lines, 1) if line.purpose == purpose] for purpose in purposes}
    return [
        f"{', '.join(map(str, held)) if len(held) < 3 else f'{held[0]} to {held[-1]}'}: {purpose}"
        for purpose, held in numbers.items()
    ]


def _line(line: Line, found: MeasuringSheet) -> Document:
    note = "" if line.enough is None else ENOUGH.format(error=show_mm(found.error))
    return {
        "drawer": line.drawer,
        "bank": line.bank,
        "row": line.row,
        "dimension": line.dimension,
        "purpose": line.purpose,
        "given_mm": to_mm(line.given),
        "least_mm": None if line.least is None else to_mm(line.least),
        "enough_mm": None if line.enough is None else to_mm(line.enough),
        "enough_note": note,
        "tape": line.tape,
        "caution": ONE_AT_A_TIME,
    }
