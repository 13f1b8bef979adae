"""How many drawers a plan may use: both ends, over all plans that keep the hard rules."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal, TypeAlias

from matcher.assignment.board import Board, admissible, board_of
from matcher.assignment.exchanges import contents, equal_drawers
from matcher.assignment.matching import matching
from matcher.assignment.problem import Places, Problem
from matcher.assignment.searching import Search, search
from matcher.assignment.sharing import Sharing, class_of, sharers

End: TypeAlias = Literal["fewest", "most"]


@dataclass(frozen=True, slots=True)
class DrawerCount:
    """One end of the number of drawers used: the best plan found, its count, and the bound proved."""

    places: Places
    used: int
    bound: int

    @property
    def proved(self) -> bool:
        """Whether no plan goes further."""
        return self.used == self.bound


@dataclass(frozen=True, slots=True)
class Refusal:
    """No plan was found; ``proved`` if there is none."""

    proved: bool


def drawers_of(problem: Problem) -> list[list[int]]:
    """Drawers of each group, in index order."""
    found: list[list[int]] = [[] for _ in problem.nodes]
    for group, box in admissible(problem):
        found[group].append(box)
    return found


def one_each(problem: Problem) -> Places | None:
    """A plan with a drawer for every group, or ``None`` if there is none."""
    places = [place for place in matching(drawers_of(problem)) if place is not None]
    return tuple(places) if len(places) == len(problem.nodes) else None


def single(problem: Problem, used: int) -> frozenset[int]:
    """Groups that share a drawer with none in any plan that uses so many drawers.

    Groups and drawers fall into parts between which there is no admissible pair. Where the drawers used are as many as
    can be matched, every part uses as many as can be matched in it, and if these are as many as its groups, each has
    its own.
    """
    drawers = drawers_of(problem)
    places = matching(drawers)
    if used < sum(place is not None for place in places):
        return frozenset()
    crowded = {drawer for group, place in enumerate(places) if place is None for drawer in drawers[group]}
    while more := {d for own in drawers if not crowded.isdisjoint(own) for d in own} - crowded:
        crowded |= more
    return frozenset(group for group, own in enumerate(drawers) if crowded.isdisjoint(own))


def permitted(problem: Problem, places: Places) -> bool:
    """Whether a plan leaves enough drawers free and is none of those passed over."""
    enough = all(len(boxes - set(places)) >= number for number, boxes in problem.spare)
    return enough and contents(problem, places) not in {contents(problem, other) for other in problem.passed_over}


def most_used(problem: Problem, sharing: Sharing, known: Places | None = None) -> DrawerCount | Refusal:
    """A plan in as many drawers as possible: matched where that gives every group its own, else searched.

    Where no two groups may share, a matching that leaves one out decides by itself. ``known`` is any plan, if there is
    one; it stands where the search finds none.
    """
    places = one_each(problem)
    if places is not None and permitted(problem, places):
        return DrawerCount(places, len(places), len(places))
    if places is None and len(sharers(problem, range(len(problem.nodes)))) == len(problem.nodes):
        return Refusal(proved=True)
    found = _searched(problem, sharing, "most", known, problem.work.drawers)
    if isinstance(found, Refusal) and known is not None:
        return DrawerCount(known, len(set(known)), sum(place is not None for place in matching(drawers_of(problem))))
    return found


def fewest_used(problem: Problem, sharing: Sharing, known: Places) -> DrawerCount:
    """A plan in as few drawers as possible, for half the budget; ``known`` is any plan."""
    return _fewest(problem, sharing, known, problem.work.drawers / 2)


def _fewest(problem: Problem, sharing: Sharing, known: Places, work: float) -> DrawerCount:
    classes = sharers(problem, range(len(problem.nodes)))
    if len(classes) == len(known):
        return DrawerCount(known, len(known), len(known))
    if len(classes) > 1:
        _bound_classes(problem, sharing, known, classes, work / 2)
    found = _searched(problem, sharing, "fewest", known, work / 2)
    if isinstance(found, Refusal):
        return DrawerCount(known, len(set(known)), min(1, len(known)))
    return found


def _bound_classes(problem: Problem, sharing: Sharing, known: Places, classes: list[list[int]], work: float) -> None:
    """Fewest drawers of each class as if it had the cabinet for itself."""
    for groups in classes:
        if problem.nodes[groups[0]].share:
            part, places = only(problem, groups), tuple(known[group] for group in groups)
            own = class_of(problem, groups[0])
            sharing.fewest[own] = _fewest(part, Sharing(part), places, work / len(classes)).bound


def only(problem: Problem, groups: list[int]) -> Problem:
    """The problem with only some of its groups, without wishes."""
    rank = {group: index for index, group in enumerate(groups)}
    return replace(
        problem,
        nodes=tuple(problem.nodes[group] for group in groups),
        options={(rank[group], box): option for (group, box), option in problem.options.items() if group in rank},
        together=lambda box, part: problem.together(box, frozenset(groups[index] for index in part)),
        relations=(),
        apart=tuple((rank[i], rank[j]) for i, j in problem.apart if i in rank and j in rank),
        kept={},
        passed_over=(),
    )


def _searched(problem: Problem, sharing: Sharing, end: End, known: Places | None, work: float) -> DrawerCount | Refusal:
    """Search among plans without undecided sharing; where that leaves the bound open, bound it with all of it."""
    strict = _search(problem, sharing, end, known, work, hopeful=False)
    hopeful = _search(problem, sharing, end, known, work, hopeful=True) if sharing.undecided else strict
    if strict.places is None:
        return Refusal(hopeful.impossible)
    used = len(set(strict.places))
    return DrawerCount(strict.places, used, _bound(hopeful, end, problem))


def _search(
    problem: Problem, sharing: Sharing, end: End, known: Places | None, work: float, *, hopeful: bool
) -> Search:
    board = board_of(problem, sharing, hopeful=hopeful)
    _sort_equal_drawers(board)
    sign = 1 if end == "fewest" else -1
    return search(board, sign * board.used, work, known)


def _bound(found: Search, end: End, problem: Problem) -> int:
    if end == "fewest":
        return max(found.bound, 0) if found.bound is not None else 0
    matched = sum(place is not None for place in matching(drawers_of(problem)))
    return min(matched, -found.bound) if found.bound is not None else matched


def _sort_equal_drawers(board: Board) -> None:
    """Fill drawers equal but for their position, which does not count here, in the order of their first groups."""
    for boxes in _equal_drawers(board):
        for before, after in pairwise(boxes):
            groups = board.groups_of(after)
            for rank, group in enumerate(groups):
                board.model.add(board.at[group, after] <= sum(board.at[g, before] for g in groups[:rank]))


def _equal_drawers(board: Board) -> Iterable[list[int]]:
    """Drawers equal in all that the rules of the board look at: size, load, groups, and what is wished of them."""
    problem, equal = board.problem, equal_drawers(board.problem)
    alike: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for box in board.boxes:
        wished = tuple(box in boxes for _, boxes in problem.spare)
        place = equal[box] if problem.passed_over else 0
        alike[problem.boxes[box].kind, tuple(board.groups_of(box)), wished, place].append(box)
    return alike.values()
