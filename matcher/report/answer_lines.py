"""Lines that every answer in the terminal is made of: its head, its reasons, and where goals stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rich.text import Text

from matcher.planning import (
    LEAST,
    NOT_PROVED,
    PROVED,
    Fits,
    Outcome,
    fits_but_of,
    left_out_words,
    nearest_change_of,
    reasons_of,
    standing,
    wish_words,
)
from matcher.records import FAULT, Fault, Goal, LeftOut, Placement, Reason, Scope, counted, listed, show_mm, to_mm
from matcher.report.drawer_states import guessed_drawers, taken_words
from matcher.report.size_views import basis_words

STYLES = {"fits": "bold green", "does not fit": "bold red", "undecided": "bold yellow"}
SCOPES: Mapping[Scope, str] = {
    "any layout": " (whatever the layout)",
    "house layout": " (laid out by the house rules, ordered or unordered)",
    "": "",
}
STOPPED = "stopped by hand: what is not proved is the best so far, another run may find more"


def headline(outcome: Outcome) -> Text:
    """Set, cabinet, verdict and free drawers; on what sizes rest."""
    line = Text.assemble(
        (outcome.set, "bold"), " in ", (outcome.cabinet, "bold"), ": ", (outcome.verdict, STYLES[outcome.verdict])
    )
    if isinstance(outcome, Fits):
        if guessed := guessed_drawers(outcome):
            line.append(f", if guessed sizes of {listed(guessed)} hold")
        line.append(f"; {_free_words(outcome)}")
    line.append(f"\n{basis_words(outcome.basis)}")
    if isinstance(outcome, Fits) and (words := _base(outcome.plan.placements)):
        line.append(f"\n{words}")
    if outcome.run.stopped:
        line.append(f"\n{STOPPED}")
    return line


def _free_words(outcome: Fits) -> str:
    """How many drawers stay free in this plan, and in any."""
    free = len(outcome.plan.free_drawers)
    of = sum(drawer.slot != "blocked" for drawer in outcome.question.cabinet.drawers)
    fewest = end(outcome.fewest_free, outcome.free_proved[1])
    most = end(outcome.most_free, outcome.free_proved[0])
    return f"{free} of {counted(of, 'drawer')} free (in any plan: fewest {fewest}, most {most}){taken_words(outcome)}"


def end(free: int | None, proved: bool) -> str:
    """An end of the free drawers; what is not proved with a question mark."""
    return "" if free is None else f"{free}{'' if proved else '?'}"


def _base(placements: Iterable[Placement]) -> str:
    """What the foam is made of where it is two sheets."""
    laid = [placement.layout for placement in placements if placement.layout and placement.layout.base]
    if not laid:
        return ""
    tops = sorted({layout.thickness - layout.base for layout in laid})
    told = " or ".join(f"{to_mm(top):.1f}" for top in tops)
    return f"foam: top sheets of {told} mm on a base of {show_mm(laid[0].base)}; every pocket ends in the base"


def asked_lines(outcome: Outcome) -> list[Text]:
    """What was asked, each in its words."""
    return [Text(f"asked: {words}") for words in wish_words(outcome.run.wishes)]


def outside_lines(outcome: Outcome) -> list[Text]:
    """What stays outside an outcome's set as wished."""
    return left_out_lines(outcome.question.left_out)


def left_out_lines(things: Iterable[LeftOut]) -> list[Text]:
    """What stays outside."""
    told = left_out_words(things)
    return [Text(f"left out: {', '.join(told)}")] if told else []


def but_lines(outcome: Outcome) -> list[Text]:
    """What alone keeps a set out."""
    told = left_out_words(fits_but_of(outcome))
    return [Text(f"everything fits but: {', '.join(told)}", "bold")] if told else []


def reason_lines(outcome: Outcome) -> list[Text]:
    """What alone keeps the set out, reasons, and the nearest change that was tried."""
    change = nearest_change_of(outcome)
    told = [*map(_reason_line, reasons_of(outcome)), *([Text(change)] if change else [])]
    return [*but_lines(outcome), *told]


def _reason_line(reason: Reason) -> Text:
    return Text(f"{reason.code}: {reason.text}{SCOPES[reason.scope]}")


def fault_lines(faults: Iterable[Fault]) -> list[Text]:
    """A line on every cabinet without an answer because the program failed on it."""
    return [Text.assemble((fault.cabinet, "bold"), f": no answer, by {FAULT}") for fault in faults]


# ------------------------------------------------------------------------------------------------------------- goals


def goals_line(goals: Iterable[Goal]) -> Text:
    """All goals in their order in one line: what they came to, and whether less is ruled out."""
    known = [_valued(goal) for goal in goals if standing(goal) == PROVED]
    beside = [_valued(goal) for goal in goals if standing(goal) == LEAST]
    doubted = [_valued(goal) for goal in goals if standing(goal) == NOT_PROVED]
    told = ((known, PROVED), (beside, LEAST), (doubted, "not proved to be the least, bounds: --why"))
    return Text(f"goals: {'; '.join(f'{listed(held)} ({words})' for held, words in told if held)}")


def _valued(goal: Goal) -> str:
    return f"{goal.name} {goal.told}" if goal.name in ("neighbors", "recut", "reach") else goal.told


def open_words(goal: Goal) -> str:
    """A goal that is not proved: its value, and the bound, or that it is the least beside the goals before it."""
    stands = standing(goal)
    best = f", at best {goal.bound_told}" if stands == NOT_PROVED else ""
    return f"{goal.name} {goal.told} ({stands}{best})"
