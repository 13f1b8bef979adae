"""Suppliers' lists in different styles with their right answers by hand, and what a draft makes of them.

A line of a list is its cells, `` => `` and the answer. Answers: ``KIND @DRIVE: SIZES *COUNT L<length in mm>``, ``ask``
for what no reader can know, ``none`` for what is no tool. ``==`` is a heading merged over all columns, ``^`` a cell
merged with the one above it.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Literal

import openpyxl

from matcher.drafting.drafts import Draft
from matcher.drafting.line_reading import LineReading
from matcher.records.units import mm
from matcher.tools.kinds import KINDS
from matcher.tools.sizes import parse_size

FOLDER = Path(__file__).parent / "lists"
COLUMNS = 5
ANSWER = re.compile(
    r"(?P<kind>[^@:*]+?)(?: @(?P<drive>\S+?))?(?:: (?P<sizes>[^*]+?))?(?: L(?P<long>[\d.]+))?(?: \*(?P<count>\d+))?"
)
Tool = tuple[str, str, str, int, int]
"""Kind, drive, exact size, length in 1/320 mm, count."""


@dataclass(frozen=True)
class Answered:
    """A line with its right answer: tools, or that it is to be asked about, or no tool."""

    cells: tuple[str, ...]
    answer: str

    @property
    def tools(self) -> list[Tool]:
        if self.answer in ("ask", "none"):
            return []
        found = ANSWER.fullmatch(self.answer)
        assert found, self.answer
        sizes = (found["sizes"] or "").split() or [""]
        length, count = mm(Fraction(found["long"] or 0)), int(found["count"] or 1)
        return [(found["kind"], found["drive"] or "", exact(size, found["kind"]), length, count) for size in sizes]


def exact(size: str, kind: str, system: str = "") -> str:
    """A size so that equal ones are equal however they are written; blank for kinds that need none."""
    if not size or not KINDS[kind].needs or (KINDS[kind].form == "text"):
        return ""
    read = parse_size(size, system or ("inch" if size.endswith("in") and "x" not in size else ""), kind)
    return f"{read.flats} {read.smaller} {read.tip} {read.number} {read.length} {read.mass} {read.rank}"


def answers(name: str) -> list[Answered]:
    lines = (FOLDER / f"{name}.txt").read_text(encoding="utf-8").splitlines()
    told = [line.rsplit(" => ", 1) for line in lines if " => " in line]
    return [Answered(tuple(cell.strip() for cell in left.split("|")), answer.strip()) for left, answer in told]


def written(name: str, folder: Path, separator: str) -> Path:
    """The list as the file that a supplier would send."""
    path = folder / f"{name}.csv"
    with path.open("w", newline="", encoding="utf-8") as stream:
        csv.writer(stream, delimiter=separator).writerows(answered.cells for answered in answers(name))
    return path


def written_book(name: str, folder: Path) -> Path:
    """The list as a workbook with merged cells."""
    book = openpyxl.Workbook()
    sheet = book.active
    merged: dict[int, int] = {}
    lines = answers(name)
    for at, answered in enumerate(lines, 1):
        if answered.cells[0].startswith("=="):
            for place, start in merged.items():
                _merge(sheet, place, start, at - 1)
            merged = {}
            sheet.cell(at, 1, answered.cells[0].removeprefix("==").strip())
            sheet.merge_cells(start_row=at, end_row=at, start_column=1, end_column=COLUMNS)
            continue
        for place, cell in enumerate(answered.cells, 1):
            if cell == "^":
                merged[place] = merged.get(place) or at - 1
                continue
            _merge(sheet, place, merged.pop(place, 0), at - 1)
            sheet.cell(at, place, int(cell) if cell.isdigit() else cell or None)
    path = folder / f"{name}.xlsx"
    book.save(path)
    return path


def _merge(sheet, place: int, start: int, end: int) -> None:
    if start:
        sheet.merge_cells(start_row=start, end_row=end, start_column=place, end_column=place)


Verdict = Literal["right", "right, marked", "open", "wrong, marked", "wrong"]


def verdict(answered: Answered, reading: LineReading) -> Verdict:
    """``open`` is a line that has an answer but was asked about; what has none is right where it is asked about."""
    read = sorted(
        (tool.kind, tool.drive, exact(tool.size, tool.kind, tool.system), tool.length or 0, tool.count)
        for tool in reading.tools
    )
    marked = reading.sure not in ("read", "no tool")
    if answered.answer == "ask":
        return "right" if marked and not read else "wrong, marked" if marked else "wrong"
    if read == sorted(answered.tools):
        return "right" if not marked or answered.answer == "none" else "right, marked"
    if not read:
        return "open" if marked else "wrong"
    return "wrong, marked" if marked else "wrong"


def compared(name: str, found: Draft) -> list[tuple[Answered, LineReading, Verdict]]:
    by_row = {reading.line.row: reading for reading in found.readings}
    told = answers(name)
    assert len(by_row) == len(told), (len(by_row), len(told))
    return [(one, by_row[at], verdict(one, by_row[at])) for at, one in enumerate(told, 1)]
