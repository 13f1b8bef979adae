"""Outcomes as tables for a terminal of 80 columns; plain when piped. Shows, never computes."""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from itertools import zip_longest

from rich import box
from rich.console import Console, RenderableType
from rich.console import Group as Stack
from rich.table import Table
from rich.text import Text

from matcher.planning import Fits, Outcome, free_told, nearest_change_of, placed_in, reasons_of, together_words
from matcher.records import (
    FAULT,
    Caution,
    Drawer,
    Fault,
    Margin,
    PieceCounts,
    Placement,
    Reason,
    Scope,
    counted,
    listed,
    show_kg,
    show_mm,
    to_mm,
)
from matcher.report.files import print_out
from matcher.report.lengths import LengthUnit, unit_of_drawers
from matcher.report.size_views import basis_words
from matcher.report.wish_views import (
    alternative_views,
    asked_lines,
    but_lines,
    change_lines,
    left_out_lines,
    stranded_lines,
)
from matcher.studies import Comparison, Variant, ranking_words, recommended

STYLES = {"fits": "bold green", "does not fit": "bold red", "undecided": "bold yellow"}
SCOPES: Mapping[Scope, str] = {
    "any layout": " (whatever the layout)",
    "house layout": " (laid out by the house rules, with or without order)",
    "": "",
}
STOPPED = "stopped by hand: what is not proved is the best so far, another run may find more"
MARKS = {"error": "!!", "caution": "!", "info": "-"}


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
    print_out(made.get(), sys.stdout)


def plan_view(outcome: Outcome) -> RenderableType:
    """What goes in which drawer, or why nothing does."""
    parts: list[RenderableType] = [
        _headline(outcome),
        *asked_lines(outcome),
        *_outside_lines(outcome),
        *stranded_lines(outcome),
    ]
    if isinstance(outcome, Fits):
        unit = unit_of_drawers(outcome.question.cabinet.drawers)
        parts += [
            _drawer_table(outcome, unit),
            *_free_lines(outcome, unit),
            _goal_table(outcome),
            *_goal_lines(outcome),
        ]
        parts += [*change_lines(outcome), *_margin_lines(outcome, unit), *alternative_views(outcome)]
        parts += _caution_lines(outcome.cautions)
    return Stack(*parts, *_reason_lines(outcome))


def fit_view(outcomes: Iterable[Outcome], faults: Iterable[Fault] = ()) -> RenderableType:
    """Will it fit, cabinet by cabinet, with reasons; then the cabinets without an answer."""
    parts: list[RenderableType] = []
    for outcome in outcomes:
        parts += [_headline(outcome), *_outside_lines(outcome)]
        parts += [*map(Text, together_words(outcome)), *_reason_lines(outcome)]
        cautions = outcome.cautions if isinstance(outcome, Fits) else ()
        parts += _caution_lines(caution for caution in cautions if caution.level == "error")
    return Stack(*parts, *fault_lines(faults))


def fault_lines(faults: Iterable[Fault]) -> list[Text]:
    """A line on every cabinet without an answer because the program failed on it."""
    return [Text.assemble((fault.cabinet, "bold"), f": no answer, by {FAULT}") for fault in faults]


def comparisons_view(comparisons: Iterable[Comparison]) -> RenderableType:
    """One table per set."""
    return Stack(*map(comparison_view, comparisons))


def comparison_view(comparison: Comparison) -> RenderableType:
    """Variants in ranked order, then the reasons of those that are not a plain yes."""
    count = len(comparison.variants)
    table = Table(
        title=f"{comparison.set}: {count} cabinet{'s' * (count != 1)}",
        box=box.SIMPLE_HEAD,
        title_justify="left",
        padding=(0, 1, 0, 0),
    )
    table.add_column("cabinet", overflow="fold")
    table.add_column("verdict", no_wrap=True)
    for heading in ("free", "fewest", "most", "as is", "shim", "trim", "re-cut", "new"):
        table.add_column(heading, justify="right", no_wrap=True)
    for variant in comparison.variants:
        table.add_row(*_variant_row(variant))
    basis = comparison.variants[0].outcome.basis if comparison.variants else PieceCounts()
    lines = [
        Text.assemble((variant.outcome.cabinet, "bold"), ": ", line)
        for variant in comparison.variants
        for line in _reason_lines(variant.outcome)
    ]
    first = [variant.outcome for variant in comparison.variants[:1]]
    asked = [line for outcome in first for line in (*asked_lines(outcome), *_outside_lines(outcome))]
    lines += [*_unproved(comparison), *fault_lines(comparison.faults)]
    ranked = Text(f"order: {ranking_words(comparison.model)}")
    return Stack(table, *asked, Text(recommended(comparison).text), ranked, Text(basis_words(basis)), *lines)


def _variant_row(variant: Variant) -> list[RenderableType]:
    outcome = variant.outcome
    verdict = Text(outcome.verdict, STYLES[outcome.verdict])
    if not isinstance(outcome, Fits):
        return [outcome.cabinet, verdict, *[""] * 8]
    ends = [_end(outcome.fewest_free, outcome.free_proved[1]), _end(outcome.most_free, outcome.free_proved[0])]
    recut = variant.count("re-cut") + variant.count("unordered")
    counts = [variant.count("as is"), variant.count("shim"), variant.count("trim"), recut, variant.count("new")]
    return [outcome.cabinet, verdict, str(variant.free), *ends, *(str(count) if count else "" for count in counts)]


def _end(free: int | None, proved: bool) -> str:
    return "" if free is None else f"{free}{'' if proved else '?'}"


def _unproved(comparison: Comparison) -> Iterator[Text]:
    """A line on every goal for which a better value is possible, and on other open proofs; one where there is none."""
    planned = [variant.outcome for variant in comparison.variants if isinstance(variant.outcome, Fits)]
    for outcome in planned:
        open_goals = [goal for goal in outcome.goals if not goal.proved]
        apart = [goal for goal in open_goals if goal.value != goal.bound]
        for goal in apart:
            yield Text(f"{outcome.cabinet}: {goal.name} not proved: {goal.told}, bound {goal.bound_told}")
        if open_goals and not apart:
            yield Text(f"{outcome.cabinet}: every goal meets its bound, but the proof is open")
    if planned and all(goal.proved for outcome in planned for goal in outcome.goals):
        yield Text("Every goal of every plan is proved.")


# ---------------------------------------------------------------------------------------------------------- one plan


def _headline(outcome: Outcome) -> Text:
    line = Text.assemble(
        (outcome.set, "bold"), " in ", (outcome.cabinet, "bold"), ": ", (outcome.verdict, STYLES[outcome.verdict])
    )
    if isinstance(outcome, Fits):
        most, fewest = (
            _end(outcome.most_free, outcome.free_proved[0]),
            _end(outcome.fewest_free, outcome.free_proved[1]),
        )
        free = len(outcome.plan.free_drawers)
        line.append(f"; {counted(free, 'drawer')} free (fewest {fewest}, most {most})")
    line.append(f"\n{basis_words(outcome.basis)}")
    if isinstance(outcome, Fits) and (words := _base(outcome.plan.placements)):
        line.append(f"\n{words}")
    if outcome.run.stopped:
        line.append(f"\n{STOPPED}")
    return line


def _base(placements: Iterable[Placement]) -> str:
    """What the foam is made of where it is two sheets."""
    laid = [placement.layout for placement in placements if placement.layout and placement.layout.base]
    if not laid:
        return ""
    tops = sorted({layout.thickness - layout.base for layout in laid})
    told = " or ".join(f"{to_mm(top):.1f}" for top in tops)
    return f"foam: top sheets of {told} mm on a base of {show_mm(laid[0].base)}; every pocket ends in the base"


def _drawer_table(outcome: Fits, unit: LengthUnit) -> Table:
    table = Table(box=box.SIMPLE)
    table.add_column("drawer")
    table.add_column("bank", justify="right")
    table.add_column("row", justify="right")
    table.add_column(f"clear {unit.name} (w x d x h)", no_wrap=True)
    table.add_column("holds", overflow="fold")
    table.add_column("how")
    table.add_column("fill", justify="right", no_wrap=True)
    fills = {margin.drawer: f"{100 * margin.fill:.0f} %" for margin in outcome.margins}
    drawers = outcome.question.cabinet.drawers
    for drawer in sorted(drawers, key=lambda drawer: (drawer.row, drawer.bank, drawer.name)):
        rows = _drawer_rows(drawer, placed_in(outcome, drawer.name), unit)
        for row, fill in zip_longest(rows, [fills.get(drawer.name, "")], fillvalue=""):
            table.add_row(*row, fill)
    return table


def _drawer_rows(drawer: Drawer, held: list[Placement], unit: LengthUnit) -> list[list[str]]:
    """One row per organizer; the drawer itself is named once."""
    bank = str(drawer.bank) if drawer.bank == drawer.last_bank else f"{drawer.bank}-{drawer.last_bank}"
    size = _size((drawer.inside_width, drawer.inside_depth, drawer.clear_height), unit)
    takes = "" if drawer.load_rating is None else f", up to {show_kg(drawer.load_rating)}"
    empty = {"blocked": "(blocked)", "no foam": f"(free, no foam{takes})", "foam": f"(free{takes})"}[drawer.slot]
    contents = [[placement.group, str(placement.how)] for placement in held] or [[empty, ""]]
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
    return " x ".join(f"{to_mm(side):g}" if unit.name == "mm" else unit.figure(side) for side in sides)


def _goal_table(outcome: Fits) -> Table:
    table = Table(box=box.SIMPLE)
    table.add_column("goal")
    table.add_column("value")
    table.add_column("bound")
    table.add_column("")
    for goal in outcome.goals:
        table.add_row(goal.name, goal.told, goal.bound_told, "proved" if goal.proved else "not proved")
    return table


def _goal_lines(outcome: Fits) -> list[Text]:
    """What adds to each goal but that of the drawers, which stand in the table."""
    return [
        Text(f"{goal.name}: {told}") for goal in outcome.goals if goal.name != "drawers" for told in goal.contributions
    ]


def _margin_lines(outcome: Fits, unit: LengthUnit) -> list[Text]:
    """The three drawers to measure first, and how small each may be."""
    return [Text(f"measure first: drawer {margin.drawer}, {_least(margin, unit)}") for margin in outcome.margins[:3]]


def _least(margin: Margin, unit: LengthUnit) -> str:
    sizes = (margin.least_width, margin.least_depth, margin.least_height)
    spare, width, depth, height = map(unit.show, (margin.tightest, *sizes))
    return (
        f"{spare} to spare {_side(margin)}: the plan holds as long as it is at least {width} wide, "
        f"{depth} front to back and {height} high inside"
    )


def _side(margin: Margin) -> str:
    """Where a drawer has the least to spare."""
    spares = {"in width": margin.spare_width, "front to back": margin.spare_depth, "in height": margin.spare_height}
    return min(spares, key=spares.__getitem__)


def _reason_lines(outcome: Outcome) -> list[Text]:
    """What alone keeps the set out, reasons, and the nearest change that was tried."""
    change = nearest_change_of(outcome)
    told = [*map(_reason_line, reasons_of(outcome)), *([Text(change)] if change else [])]
    return [*but_lines(outcome), *told]


def _outside_lines(outcome: Outcome) -> list[Text]:
    return left_out_lines(outcome.question.left_out)


def _reason_line(reason: Reason) -> Text:
    return Text(f"{reason.code}: {reason.text}{SCOPES[reason.scope]}")


def _caution_lines(cautions: Iterable[Caution]) -> list[Text]:
    return [Text(f"{MARKS[caution.level]} {caution.code}: {caution.text}") for caution in cautions]
