"""What a wish changes, and other plans: lines and tables for the terminal. Computes nothing."""

from __future__ import annotations

from rich.console import RenderableType
from rich.text import Text

from matcher.planning import NOT_PROVED, Fits, Outcome, sentences, standing, stranded, stranded_words, summary
from matcher.records import Goal
from matcher.report.grids import Grid

LAST = {
    "none left": "There is no other plan with these layouts: proved.",
    "none found": "No other plan was found; it is not proved that there is none.",
}


def change_lines(outcome: Fits) -> list[Text]:
    """What changes from the plan to keep."""
    if outcome.kept is None:
        return []
    told = sentences(outcome.kept)
    return [Text(f"against the plan given: {summary(outcome.kept)}", "bold"), *(Text(f"  {line}") for line in told)]


def stranded_lines(outcome: Outcome) -> list[Text]:
    """What of the plan to keep no longer goes into its drawer."""
    return [Text(stranded_words(one, outcome.question.unit), "bold") for one in stranded(outcome.question)]


def alternative_views(outcome: Fits) -> list[RenderableType]:
    """Goals of the other plans beside those of the best one, then what each changes."""
    parts: list[RenderableType] = [_table(outcome)] if outcome.alternatives else []
    for number, other in enumerate(outcome.alternatives, 1):
        worse = f"gives up {' and '.join(other.gives_up)}" if other.gives_up else "no goal is worse"
        parts.append(Text.assemble((f"plan {number} instead: ", "bold"), f"{summary(other.changes)}; {worse}"))
        parts += [Text(f"  {line}") for line in sentences(other.changes)]
    return [*parts, *([Text(LAST[outcome.last])] if outcome.last else [])]


def _table(outcome: Fits) -> Grid:
    table = Grid("plan", *(f"~{goal.name}" for goal in outcome.goals))
    table.add_row("best", *map(_value, outcome.goals))
    for number, other in enumerate(outcome.alternatives, 1):
        table.add_row(str(number), *map(_value, other.goals))
    return table


def _value(goal: Goal) -> str:
    return f"{goal.told}{'?' if standing(goal) == NOT_PROVED else ''}"
