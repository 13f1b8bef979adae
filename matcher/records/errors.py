"""One exception per cause; the command line turns each into exit code 2."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any


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

    def __str__(self) -> str:
        place = self.file + (f", sheet {self.sheet}" if self.sheet else "")
        if self.row:
            place += f", row {self.row}"
        if self.column:
            place += f", {'key' if self.file.endswith('.toml') else 'column'} {self.column}"
        value = f": {self.value!r}" if self.value or self.row else ""
        return f"{place}{value}: expected {self.expected}"


class CatalogueError(MatcherError):
    """Input files that cannot be used; holds every bad place, not only the first."""

    def __init__(self, cells: Iterable[CellError]):
        self.cells = tuple(cells)
        super().__init__("\n".join(str(cell) for cell in self.cells))


class UnknownNameError(MatcherError):
    """A set, cabinet, group or file named by the user that is not there."""


class UsageError(MatcherError):
    """Options that contradict each other or a suffix that nothing writes."""


class BrokenPlanError(Exception):
    """A plan that the independent check refuses: a fault of this program, never of the input."""
