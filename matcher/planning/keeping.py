"""A plan to stay near to: its drawers, its parts and what lies together come first where they cost no more than others.

A group that stays in its drawer has not moved, however it is laid out there.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate, pairwise

from matcher.assignment import Problem, assign, neighbors_value, order_value
from matcher.layout import run_of, units
from matcher.planning.dividing import DividedGroups
from matcher.planning.grouping import divisible
from matcher.planning.made_organizers import number_of
from matcher.planning.question import Question
from matcher.planning.togetherness import cost_of_parts, families_beyond
from matcher.records import GoalName, Group, Snapshot


def keeping(problem: Problem, keep: Snapshot) -> Problem:
    """The problem with the fewest moves from a plan as a goal, right after the number of drawers."""
    boxes = {box.name: index for index, box in enumerate(problem.boxes)}
    drawers = dict(keep.drawers)
    kept = {g: boxes.get(drawers[node.name], -1) for g, node in enumerate(problem.nodes) if node.name in drawers}
    first: tuple[GoalName, ...] = ("drawers",) if "drawers" in problem.goals else ()
    return replace(problem, kept=kept, goals=(*first, "moves", *(name for name in problem.goals if name not in first)))


def kept_places(problem: Problem) -> tuple[int, ...] | None:
    """The drawers of the plan to keep, if it has one for every group and all rules still hold in them."""
    places = tuple(problem.kept.get(g, -1) for g in range(len(problem.nodes)))
    own = {pair: problem.options[pair] for pair in enumerate(places) if pair in problem.options}
    if len(own) < len(places):
        return None
    return places if assign(replace(problem, options=own, goals=(), relations=())).status == "found" else None


def kept_division(question: Question) -> DividedGroups | None:
    """The parts of the plan to keep and as many families beyond one in its drawers; none where nothing is divided or
    mixed in it, or where the groups are no longer those it divides."""
    keep = question.keep or (question.released.snapshot if question.released else None)
    if keep is None:
        return None
    groups = tuple(part for group in question.groups for part in _as_kept(group, keep, question))
    drawers = dict(keep.drawers)
    names = sorted(set(drawers.values()))
    placed = [group for group in groups if group.name in drawers]
    beyond = families_beyond(placed, [names.index(drawers[group.name]) for group in placed])
    cost = cost_of_parts(groups, question.house) + question.house.together.per_family * beyond
    return DividedGroups("found", groups, (), cost) if cost or groups != question.groups else None


def _as_kept(group: Group, keep: Snapshot, question: Question) -> tuple[Group, ...]:
    """The group in the parts that the plan has of it; the group itself where it is whole there, or other tools now."""
    own = [kept for kept in keep.organizers if kept.part_of == group.name]
    row = [unit for series in units(group, question.house.layout.sides, lambda run: run.tools) for unit in series]
    if not own or not divisible(group, question.house) or sum(kept.pieces for kept in own) != len(row):
        return (group,)
    own.sort(key=lambda kept: number_of(kept.made.group, kept.part_of))
    ends = [0, *accumulate(kept.pieces for kept in own)]
    runs = zip(own, pairwise(ends), strict=True)
    return tuple(replace(run_of(group, row[begin:end]), name=kept.made.group) for kept, (begin, end) in runs)


def by_todays_rules(keep: Snapshot, problem: Problem) -> Snapshot:
    """The plan to keep with its order breaks and neighbors counted anew, where all of it is still there."""
    if len(problem.kept) < len(problem.nodes) or -1 in problem.kept.values():
        return keep
    places = tuple(problem.kept[group] for group in range(len(problem.nodes)))
    counted: dict[GoalName, int] = {
        "order": order_value(problem, places),
        "neighbors": neighbors_value(problem, places),
    }
    return replace(keep, goals=tuple((name, counted.get(name, value)) for name, value in keep.goals))
