"""Many cabinets in a terminal of any width: ranked, or each with its reasons. Shows, never computes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.planning import (
    NOT_PROVED,
    PROVED,
    Fits,
    Outcome,
    reasons_of,
    standing,
    together_words,
)
from matcher.records import Fault, PieceCounts, counted, listed
from matcher.report.amount_views import amounts_told
from matcher.report.answer_lines import (
    STYLES,
    asked_lines,
    but_lines,
    end,
    fault_lines,
    headline,
    open_words,
    outside_lines,
    reason_lines,
)
from matcher.report.caution_views import caution_lines, cautions_of, fleet_cautions, fleet_codes
from matcher.report.grids import grid
from matcher.report.size_views import basis_words
from matcher.report.variant_views import steps_table
from matcher.studies import Comparison, Step, Variant, ranking_words, recommended, recommended_for_all

FIGURES = "free: drawers left in this plan; fewest and most: in any plan; other figures: organizers"
RESTS = "; rests on "
"""Comes before the rules that a reason rests on."""


def fit_view(outcomes: Iterable[Outcome], faults: Iterable[Fault] = ()) -> RenderableType:
    """Will it fit, cabinet by cabinet, with reasons; then errors and warnings, and cabinets without an answer."""
    found = list(outcomes)
    parts: list[RenderableType] = []
    for outcome in found:
        parts += [headline(outcome), *outside_lines(outcome)]
        parts += [*map(Text, together_words(outcome)), *reason_lines(outcome)]
    return Stack(*parts, *fleet_cautions(found, why=True), *fault_lines(faults))


def comparisons_view(comparisons: Iterable[Comparison]) -> RenderableType:
    """One table per set."""
    return Stack(*map(comparison_view, comparisons))


def comparison_view(comparison: Comparison, steps: Sequence[Step] = (), *, why: bool = False) -> RenderableType:
    """The recommendation and the variants in ranked order; what is not proved, why others are out, and warnings.

    With ``steps`` the table tells what changes from each variant to the next, and little else, so that many cabinets
    go on a screen. ``why`` tells reasons, goals and warnings in full.
    """
    variants = comparison.variants
    title = f"{comparison.set}: {counted(len(variants), 'cabinet')}{', each against the one above' if steps else ''}"
    table = steps_table(variants, steps) if steps else _table(_by_cabinet(variants), "cabinet")
    outcomes = [variant.outcome for variant in variants]
    basis = outcomes[0].basis if outcomes else PieceCounts()
    asked = [line for outcome in outcomes[:1] for line in (*asked_lines(outcome), *outside_lines(outcome))]
    brief = bool(steps) and not why
    lines = [] if steps else [Text(FIGURES)]
    if not brief:
        lines += [Text(f"ranked by: {ranking_words(comparison.model, comparison.by)}"), Text(basis_words(basis))]
        lines += _goals_in_full(outcomes) if why else _goals_in_short(outcomes)
    lines += [line for outcome in outcomes for line in (_reasons(outcome) if why else _reason(outcome))]
    lines += [] if brief else fleet_cautions(outcomes, why=why)
    lines += fault_lines(comparison.faults)
    if brief:
        lines.append(Text("; ".join((*fleet_codes(outcomes), "--why tells every change, and cautions in words"))))
    elif not why:
        lines.append(Text("--why tells reasons, goals and cautions in full", "dim"))
    takes = amounts_told(_by_cabinet(variants), "cabinet", comparison.by, why=why)
    return Stack(Text(title, "bold"), Text(recommended(comparison).text), table, *takes, *asked, *lines)


def sets_view(comparisons: Sequence[Comparison], cabinet: str, *, why: bool = False) -> RenderableType:
    """Which sets go into one cabinet, in ranked order, with the codes of errors and warnings; what keeps others out.

    ``why`` tells reasons and warnings in full, and what each plan takes.
    """
    named = [(one.set, variant) for one in comparisons for variant in one.variants]
    by = comparisons[0].by if comparisons else "unused"
    lines = [Text(FIGURES), Text(f"ranked by: {ranking_words('', by)}")]
    for name, variant in named:
        told = reason_lines(variant.outcome) if why else _short(variant.outcome)
        told = [*told, *(caution_lines(cautions_of(variant.outcome)) if why else [])]
        lines += [Text.assemble((name, "bold"), ": ", line) for line in told]
    lines += [line for one in comparisons for line in fault_lines(one.faults)]
    return Stack(
        Text(f"{cabinet}: {counted(len(comparisons), 'set')}", "bold"),
        Text(recommended_for_all(comparisons).text),
        _table(named, "set", _codes),
        *amounts_told(named, "set", by, why=why),
        *lines,
        *([] if why else [Text("--why tells reasons and cautions in full", "dim")]),
    )


def _by_cabinet(variants: Iterable[Variant]) -> list[tuple[str, Variant]]:
    return [(variant.outcome.cabinet, variant) for variant in variants]


def _table(
    named: Sequence[tuple[str, Variant]], what: str, last: Callable[[Variant], str] | None = None
) -> RenderableType:
    """A row each under its name; ``last`` is what a last column tells, the cautions."""
    counts = ("*as is", "*shim", "*trim", "*re-cut", "*unordered", "*new")
    rows = [[Text(name), *_variant_cells(variant)] for name, variant in named]
    kept = [n for n in range(len(counts)) if any(str(row[5 + n]) for row in rows)]
    cells = [[*row[:5], *(row[5 + n] for n in kept)] for row in rows]
    headings = (what, "=verdict", "*free", "*fewest", "*most", *(counts[n] for n in kept))
    if last is None:
        return grid(*headings, rows=cells)
    told = [[*row, last(variant)] for row, (_, variant) in zip(cells, named, strict=True)]
    return grid(*headings, "~cautions", rows=told)


def _variant_cells(variant: Variant) -> list[str | Text]:
    outcome = variant.outcome
    verdict = Text(outcome.verdict, STYLES[outcome.verdict])
    if not isinstance(outcome, Fits):
        return [verdict, *[""] * 9]
    ends = [end(outcome.fewest_free, outcome.free_proved[1]), end(outcome.most_free, outcome.free_proved[0])]
    counts = [variant.count(how) for how in ("as is", "shim", "trim", "re-cut", "unordered", "new")]
    return [verdict, str(variant.free), *ends, *(str(count) if count else "" for count in counts)]


def _codes(variant: Variant) -> str:
    """Codes of errors and warnings, errors marked."""
    found = cautions_of(variant.outcome) if isinstance(variant.outcome, Fits) else []
    return ", ".join(dict.fromkeys(f"{'!! ' if one.level == 'error' else ''}{one.code}" for one in found))


# ------------------------------------------------------------------------------------------------------------- goals


def _goals_in_short(outcomes: Sequence[Outcome]) -> list[Text]:
    """How many plans may be bettered in which goals."""
    planned = [outcome for outcome in outcomes if isinstance(outcome, Fits)]
    doubted = {one.cabinet: [goal.name for goal in one.goals if standing(goal) == NOT_PROVED] for one in planned}
    names = list(dict.fromkeys(name for held in doubted.values() for name in held))
    cabinets = [cabinet for cabinet, held in doubted.items() if held]
    if not planned:
        return []
    if not cabinets:
        return [Text("No plan can be bettered in any goal: proved.")]
    where = listed(cabinets) if len(cabinets) <= 4 else f"{len(cabinets)} of {counted(len(planned), 'plan')}"
    return [Text(f"not proved to be the best: {where}, in {listed(names)}")]


def _goals_in_full(outcomes: Iterable[Outcome]) -> list[Text]:
    """A line on every goal of every plan that is not proved."""
    return [
        Text(f"{outcome.cabinet}: {open_words(goal)}")
        for outcome in outcomes
        if isinstance(outcome, Fits)
        for goal in outcome.goals
        if standing(goal) != PROVED
    ]


# ----------------------------------------------------------------------------------------------------------- reasons


def _reasons(outcome: Outcome) -> Iterator[Text]:
    return (Text.assemble((outcome.cabinet, "bold"), ": ", line) for line in reason_lines(outcome))


def _reason(outcome: Outcome) -> Iterator[Text]:
    """What alone keeps the set out; the first reason in short, and how many more there are."""
    return (Text.assemble((outcome.cabinet, "bold"), ": ", line) for line in _short(outcome))


def _short(outcome: Outcome) -> Iterator[Text]:
    yield from but_lines(outcome)
    reasons = reasons_of(outcome)
    if reasons:
        more = f" (and {counted(len(reasons) - 1, 'more reason')})" if len(reasons) > 1 else ""
        told = reasons[0].text.partition(RESTS)[0]
        yield Text(f"{reasons[0].code}: {told}{more}")
