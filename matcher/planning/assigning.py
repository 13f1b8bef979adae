"""Drawers for the groups of a case, goal by goal: settled, or recalled from an earlier run."""

from __future__ import annotations

from matcher.assignment import Assignment, Places, Problem, Progress, assign
from matcher.planning.kept_answers import recalled_assignment
from matcher.planning.posing import Admit, Case


def assigned(
    case: Case, problem: Problem, admission: Admit, known: Places | None, progress: Progress | None
) -> Assignment:
    """The best plan of a case posed as a problem by an ``admission``, from a plan that is ``known`` if there is one.

    Who watches the ``progress`` has it settled anew: what is recalled has none to tell.
    """

    def settled() -> Assignment:
        return assign(problem, hint=known, progress=progress, known=known)

    if progress is not None:
        return settled()
    posed = (problem.goals, problem.relations, problem.mixing, problem.work, problem.passed_over, known)
    what = f"assignment, {admission.__name__}, {posed}"
    return recalled_assignment(what, case.question, case.groups, settled)
