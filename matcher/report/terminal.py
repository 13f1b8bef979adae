"""One plan in a terminal of any width, plain when piped; and how anything is printed. Shows, never computes."""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest

from rich.console import Console, RenderableType
from rich.console import Group as Stack
from rich.text import Text

from matcher.planning import Fits, Outcome, free_told, placed_in, standing, taken_by, together_words
from matcher.records import Drawer, LengthUnit, Margin, Placement, listed
from matcher.report.answer_lines import asked_lines, goals_line, headline, outside_lines, reason_lines
from matcher.report.caution_views import caution_lines, cautions_of, notes_line
from matcher.report.files import print_out
from matcher.report.grids import Grid, grid
from matcher.report.wish_views import alternative_views, change_lines, stranded_lines

FIRST = 3
"""So many drawers are named to be measured first."""


def show(renderable: RenderableType, console: Console | None = None) -> None:
    """Print to standard output, colored only on a terminal; or to another console.

    Raises
    ------
    UsageError
        Standard output cannot be written.
    """
    if console:
        console.print(renderable)
        return
    plain = Console(highlight=False, soft_wrap=False)
    with plain.capture() as made:
        plain.print(renderable)
    lines = made.get().split("\n")
    print_out("\n".join(line.rstrip() for line in lines), sys.stdout)


def plan_view(outcome: Outcome, *, why: bool = False) -> RenderableType:
    """The answer, what goes in which drawer, what stays free, goals, what to measure, errors and warnings.

    Without a plan why there is none. ``why`` adds what adds to each goal, how small each drawer may be, and all notes.
    """
    parts: list[RenderableType] = [
        headline(outcome),
        *asked_lines(outcome),
        *outside_lines(outcome),
        *stranded_lines(outcome),
    ]
    if isinstance(outcome, Fits):
        unit = outcome.question.unit
        parts += [_drawer_table(outcome, unit), *_free_lines(outcome, unit)]
        if why:
            parts += [_goal_table(outcome), *_goal_lines(outcome)]
        else:
            parts += [*map(Text, together_words(outcome)), goals_line(outcome.goals)]
        parts += _margin_lines(outcome, unit) if why else _first_line(outcome, unit)
        parts += [*change_lines(outcome), *alternative_views(outcome)]
        parts += caution_lines(cautions_of(outcome, notes=why))
        parts += [] if why else notes_line(outcome)
    return Stack(*parts, *reason_lines(outcome))


def _drawer_table(outcome: Fits, unit: LengthUnit) -> Grid:
    clear = f"clear {unit.name} (w x d x h)"
    table = Grid("drawer", "*bank", "*row", clear, "~=holds", "=how", "*fill")
    fills = {margin.drawer: f"{100 * margin.fill:.0f} %" for margin in outcome.margins}
    drawers, taken = outcome.question.cabinet.drawers, taken_by(outcome.question.wishes.add_to)
    for drawer in sorted(drawers, key=lambda drawer: (drawer.row, drawer.bank, drawer.name)):
        rows = _drawer_rows(drawer, placed_in(outcome, drawer.name), unit, taken.get(drawer.name, ()))
        for row, fill in zip_longest(rows, [fills.get(drawer.name, "")], fillvalue=""):
            table.add_row(*row, fill)
    return table


def _drawer_rows(drawer: Drawer, held: list[Placement], unit: LengthUnit, taken: Sequence[str]) -> list[list[str]]:
    """One row per organizer, those of earlier plans in brackets; the drawer itself is named once."""
    bank = str(drawer.bank) if drawer.bank == drawer.last_bank else f"{drawer.bank}-{drawer.last_bank}"
    size = _size((drawer.inside_width, drawer.inside_depth, drawer.clear_height), unit)
    takes = "" if drawer.load_rating is None else f", up to {unit.in_mass(drawer.load_rating)}"
    empty = {"blocked": "(blocked)", "no foam": f"(free, no foam{takes})", "foam": f"(free{takes})"}[drawer.slot]
    contents = [[placement.group, str(placement.how)] for placement in held]
    contents = contents or [[f"({told})", ""] for told in taken] or [[empty, ""]]
    named = [[drawer.name, bank, str(drawer.row), size], *[[""] * 4] * (len(contents) - 1)]
    return [name + content for name, content in zip(named, contents, strict=True)]


def _free_lines(outcome: Fits, unit: LengthUnit) -> Iterator[Text]:
    """What stays free, drawers that are alike in one line with their clear sizes."""
    for words, alike in free_told(outcome.free):
        sizes: dict[str, list[str]] = defaultdict(list)
        for drawer in alike:
            sizes[_size((drawer.width, drawer.depth, drawer.height), unit)].append(drawer.drawer)
        told = "; ".join(f"{listed(names)}, {size} {unit.name}" for size, names in sizes.items())
        yield Text(f"free: {words}: {told}")


def _size(sides: Iterable[int], unit: LengthUnit) -> str:
    return unit.inside(*sides)


def _goal_table(outcome: Fits) -> Grid:
    rows = ((goal.name, goal.told, goal.bound_told, standing(goal)) for goal in outcome.goals)
    return grid("goal", "~value", "~at best", "~=proof", rows=rows)


def _goal_lines(outcome: Fits) -> list[Text]:
    """What adds to each goal but that of the drawers, which stand in the table."""
    return [
        Text(f"{goal.name}: {told}") for goal in outcome.goals if goal.name != "drawers" for told in goal.contributions
    ]


def _first_line(outcome: Fits, unit: LengthUnit) -> list[Text]:
    """The drawers to measure first, with what each has to spare."""
    told = [f"{one.drawer} ({unit.show(one.tightest)} to spare {_side(one)})" for one in outcome.margins[:FIRST]]
    return [Text(f"measure first: {listed(told)}")] if told else []


def _margin_lines(outcome: Fits, unit: LengthUnit) -> list[Text]:
    """The drawers to measure first, and how small each may be."""
    return [
        Text(f"measure first: drawer {margin.drawer}, {_least(margin, unit)}") for margin in outcome.margins[:FIRST]
    ]


def _least(margin: Margin, unit: LengthUnit) -> str:
    sizes = (margin.least_width, margin.least_depth, margin.least_height)
    width, depth, height = map(unit.needed, sizes)
    return (
        f"{unit.clear(margin.tightest)} to spare {_side(margin)}: the plan holds as long as it is at least "
        f"{width} wide, "
        f"{depth} front to back and {height} high inside"
    )


def _side(margin: Margin) -> str:
    """Where a drawer has the least to spare."""
    spares = {"in width": margin.spare_width, "front to back": margin.spare_depth, "in height": margin.spare_height}
    return min(spares, key=spares.__getitem__)
