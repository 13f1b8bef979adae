"""Many pairs on a terminal of any width: a matrix where there is room for one, else a line a set."""

from __future__ import annotations

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.records import Verdict, counted
from matcher.report.grids import Grid
from matcher.screening import Tally

COLUMNS, LINES = 9, 120
"""The largest matrix that is shown."""
MARKS: dict[Verdict, str] = {"fits": "yes", "does not fit": "no", "undecided": "?"}


def screening_view(tally: Tally) -> RenderableType:
    """How many pairs fit, and which."""
    sets = list(tally.counts)
    cabinets = list(dict.fromkeys(cabinet for _, cabinet in tally.cells))
    few, many = sorted((sets, cabinets), key=len)
    whole = len(tally.cells) == tally.pairs and len(few) <= COLUMNS and len(many) <= LINES
    table = _matrix(tally, sets, cabinets) if whole else _lines(tally)
    legend = "number: fits, so many drawers free at least; no: does not fit, proved; ?: undecided\n"
    return Stack(table, Text((legend if whole else "") + _summary(tally)))


def _summary(tally: Tally) -> str:
    fits, no, undecided = (tally.total(verdict) for verdict in MARKS)
    told = f"{counted(tally.pairs, 'pair')}: fits {fits}, does not fit {no}, undecided {undecided}."
    cautions = "No plan is made here, and no caution told: compare one SET, or plan a pair, for these."
    return f"{told}\n{cautions}\nReasons and figures: --out FILE.csv, or compare one SET."


def _matrix(tally: Tally, sets: list[str], cabinets: list[str]) -> Grid:
    """The shorter list across, the longer one down."""
    across, down, turned = (sets, cabinets, True) if len(sets) <= len(cabinets) else (cabinets, sets, False)
    table = Grid("cabinet" if turned else "set", *(f"*{name}" for name in across))
    for name in down:
        row = [_cell(tally, (other, name) if turned else (name, other)) for other in across]
        table.add_row(name, *row)
    return table


def _cell(tally: Tally, pair: tuple[str, str]) -> str:
    verdict, free = tally.cells[pair]
    return str(free) if verdict == "fits" and free is not None else MARKS[verdict]


def _lines(tally: Tally) -> Grid:
    table = Grid("set", "*fits", "*no", "*undecided", "~fewest free")
    for name, counts in tally.counts.items():
        free, cabinet = tally.snuggest.get(name, (None, ""))
        best = "" if free is None else f"{free} in {cabinet}"
        table.add_row(name, *(str(counts[verdict]) if counts[verdict] else "" for verdict in MARKS), best)
    return table
