"""One exception per cause: what the user can put right, and faults of this program, which name themselves as such."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from traceback import extract_tb
from typing import Any, TypeVar

from matcher.records.counts import counted

T = TypeVar("T")

MOST_ALIKE = 20
"""Rows of a table that are told for the same fault in the same column; the others are counted."""
FAULT = "a fault of this program, not of the files"


class MatcherError(Exception):
    """Anything the user can put right; it says and holds the same in a process it is brought to."""

    def __reduce__(self) -> tuple[Any, ...]:
        return _made_again, (type(self), self.args, vars(self))


def _made_again(kind: type[MatcherError], args: tuple[Any, ...], held: dict[str, Any]) -> MatcherError:
    """An error with these arguments and attributes, made without its class's own way to put them into words."""
    error = kind.__new__(kind, *args)
    vars(error).update(held)
    return error


@dataclass(frozen=True, slots=True)
class CellError:
    """One bad place in an input file.

    ``row`` is the line a person sees in a spreadsheet (the header is row 1); 0 when the whole file is meant.
    """

    file: str
    row: int
    column: str
    value: str
    expected: str
    sheet: str = ""

    @property
    def place(self) -> str:
        """The file, and the sheet if it has some."""
        return self.file + (f", sheet {self.sheet}" if self.sheet else "")

    @property
    def in_column(self) -> str:
        """The column as it is told behind a row or a file; nothing where it is about no column."""
        return f", {'key' if self.file.endswith('.toml') else 'column'} {self.column}" if self.column else ""

    def __str__(self) -> str:
        row = f", row {self.row}" if self.row else ""
        value = f": {self.value!r}" if self.value or self.row else ""
        return f"{self.place}{row}{self.in_column}{value}: expected {self.expected}"


class CatalogueError(MatcherError):
    """Input files that cannot be used; holds every bad place, not only the first.

    ``lines`` tell them: causes first, and what is the same in many rows once, with the rows.
    """

    def __init__(self, cells: Iterable[CellError]):
        self.cells = tuple(cells)
        self.lines = tuple(_told(self.cells))
        super().__init__("\n".join(self.lines))


def _told(cells: Iterable[CellError]) -> Iterator[str]:
    """A line for each bad place, those of first rows before all others; what is the same in many rows is counted.

    So are cells that lack a value in a table whose first row is wrong: their column may be there under another name.
    """
    listed = list(cells)
    first_rows = [cell for cell in listed if cell.row == 1]
    spoiled = {cell.place for cell in first_rows}
    lacking, alike = Counter[str](), defaultdict[object, list[CellError]](list)
    for cell in listed:
        if cell.row > 1 and not cell.value and cell.place in spoiled:
            lacking[cell.place] += 1
        elif cell.row != 1:
            alike[cell.place, cell.column, cell.expected, cell.row > 0].append(cell)
    yield from map(str, first_rows)
    for place, number in lacking.items():
        yield f"{place}: {counted(number, 'value')} missing below, perhaps for that"
    for those in alike.values():
        yield from map(str, those[:MOST_ALIKE])
        if rest := those[MOST_ALIKE:]:
            rows = f"rows {rest[0].row} to {rest[-1].row}" if rest[1:] else f"row {rest[0].row}"
            yield f"{rest[0].place}{rest[0].in_column}: the same {counted(len(rest), 'time')} more, {rows}"


class UnknownNameError(MatcherError):
    """A set, cabinet, group or file named by the user that is not there."""


class UsageError(MatcherError):
    """A question that contradicts itself, or asks for what nothing answers or writes."""


class NothingToShowError(MatcherError):
    """An answer has nothing for a file that was asked for; the answer itself stands."""


class BrokenPlanError(Exception):
    """A plan that the independent check refuses: a fault of this program, never of the input."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A cabinet without an answer because this program failed on it; ``text`` tells in one line how."""

    cabinet: str
    text: str

    def __str__(self) -> str:
        return f"{self.cabinet}: {FAULT}: {self.text}"


class FailedError(Exception):
    """Cabinets on which this program failed, a line for each; the answers for all others were given before."""

    def __init__(self, faults: Iterable[Fault | str]):
        self.lines = tuple(str(fault) for fault in faults)
        super().__init__("\n".join(self.lines))


def or_fault(cabinet: str, answer: Callable[[], T]) -> T | Fault:
    """The answer for a cabinet, or the fault that kept this program from it.

    What the user can put right, a full disk too, is raised as it is: it concerns the other cabinets as well.
    """
    try:
        return answer()
    except (MatcherError, OSError):
        raise
    except Exception as raised:
        return Fault(cabinet, fault_text(raised))


def fault_text(raised: BaseException) -> str:
    """What went wrong in one line: the kind of the exception, its message, and the line of this program it is from."""
    here = Path(__file__).parents[1]
    places = [frame for frame in extract_tb(raised.__traceback__) if here in Path(frame.filename).parents]
    place = f" ({Path(places[-1].filename).relative_to(here)}, line {places[-1].lineno})" if places else ""
    return " ".join(f"{type(raised).__name__}: {raised}{place}".split())


class MissingExtraError(MatcherError):
    """Packages that only some of the work needs, and that are not installed."""
