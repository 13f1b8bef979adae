"""Which parts each group falls into, where whole groups of one family a drawer do not go in (R2).

First groups are cut between series alone, and within a series only where it goes whole into no drawer; a cut within a
series costs more, so that only above its cost, or where this gives no plan, every group is cut anywhere.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from matcher.assignment import Bounds, Divided, Division, Part, Status, divided
from matcher.fitting import GoesIn, surpasses
from matcher.layout import GroupUnit, run_of, units
from matcher.planning.drawer_problem import problem_of
from matcher.planning.grouping import divisible
from matcher.planning.posing import Admit, Case, pose, posed_anew, usable
from matcher.planning.question import Question
from matcher.records import Drawer, GoalName, Group

MOST_PARTS = 1500
"""With more possible parts nothing is divided: their curves alone would take too long."""
MOST_ANYWHERE = 400
"""Every group is cut anywhere only if it has no more possible parts than this, whether they go in or not."""


NO_BOUNDS = Bounds()


@dataclass(frozen=True, slots=True)
class DividedGroups:
    """The groups, or parts of them, if a division was ``found``: the drawer (by index) of each by name.

    ``bound`` is what no division costs less than, together with the mixing of families that it asks for; ``bounds``
    hold for all divisions of the cost found.
    """

    status: Status
    groups: tuple[Group, ...] = ()
    drawers: tuple[tuple[str, int], ...] = ()
    cost: int = 0
    bound: int = 0
    bounds: Bounds = NO_BOUNDS


def divided_groups(
    question: Question, admission: Admit, least: int, work: float, goals: tuple[GoalName, ...] | None = None
) -> DividedGroups:
    """The cheapest way to divide groups and mix families, of a cost of ``least`` or more, within a work budget.

    Of several the one is chosen that suits these ``goals`` best, or else those of the house.
    """
    rules, mixed = question.house.together, _least_mixing(question)
    least = max(least, mixed)
    coarse = _candidates(question, admission, goals, anywhere=False)
    if coarse is None:
        return DividedGroups("open", bound=least)
    found, tools = coarse.settled(least, coarse.most, work), _tools(question)
    if found.status == "open" or coarse.division.units == tools or 0 < found.cost < mixed + rules.cut:
        return coarse.told(found)
    found = replace(found, bounds=NO_BOUNDS)
    few = sum(count * (count + 1) // 2 for count in tools) <= MOST_ANYWHERE
    fine = _candidates(question, admission, goals, anywhere=True) if few else None
    known = max(least, min(found.bound, mixed + rules.cut))
    if fine is None:
        return coarse.told(replace(found, status="open" if found.status == "impossible" else "found", bound=known))
    finer = fine.settled(known, found.cost - 1 if found.status == "found" else fine.most, work)
    if finer.status == "found" or found.status == "impossible":
        return fine.told(finer)
    return coarse.told(replace(found, bound=found.cost if finer.status == "impossible" else max(known, finer.bound)))


def _least_mixing(question: Question) -> int:
    """What mixing costs at least: families beyond the drawers there are, those in foam or all of them."""
    slots = [drawer.slot for drawer in usable(question.cabinet)]
    families = {(group.cased, group.family if group.share else group.name, group.share) for group in question.groups}
    in_foam = sum(not cased for cased, _, _ in families)
    beyond = max(0, in_foam - slots.count("foam"), len(families) - len(slots))
    return question.house.together.per_family * beyond


def _tools(question: Question) -> tuple[int, ...]:
    """How many units each group has where it may be cut anywhere."""
    return tuple(
        sum(piece.piece.count for piece in group.pieces) if divisible(group, question.house) else 1
        for group in question.groups
    )


@dataclass(frozen=True, slots=True)
class _Candidates:
    """All parts that the groups might fall into, as a case and as what is to be divided."""

    case: Case
    division: Division
    most: int

    def settled(self, least: int, most: int, work: float) -> Divided:
        """The cheapest division within these costs."""
        if least > most:
            return Divided("impossible")
        return divided(self.division, least, most, work)

    def told(self, found: Divided) -> DividedGroups:
        """The parts chosen, named by their place in their group."""
        by_group: dict[int, list[tuple[int, int]]] = defaultdict(list)
        for node, box in sorted(found.chosen, key=lambda pair: self.division.parts[pair[0]].begin):
            by_group[self.division.parts[node].group].append((node, box))
        named = [pair for own in by_group.values() for pair in self._named(own)]
        return DividedGroups(
            found.status,
            tuple(group for group, _ in named),
            tuple((group.name, box) for group, box in named),
            found.cost,
            found.bound,
            found.bounds,
        )

    def _named(self, own: Sequence[tuple[int, int]]) -> Iterator[tuple[Group, int]]:
        for number, (node, box) in enumerate(own, 1):
            group = self.case.groups[node]
            name = f"{group.part_of} ({number} of {len(own)})" if group.part_of else group.name
            yield replace(group, name=name), box


def _candidates(
    question: Question, admission: Admit, goals: tuple[GoalName, ...] | None, *, anywhere: bool
) -> _Candidates | None:
    """Every run of units that goes into some drawer, of groups that may be divided; nothing where they are too many.

    A run that goes in nowhere is in no longer run that does.
    """
    drawers = usable(question.cabinet)

    def goes_in(group: Group) -> bool:
        return any(isinstance(admission(group, drawer, question.house), GoesIn) for drawer in drawers)

    parts: list[Part] = []
    groups: list[Group] = []
    counts: list[int] = []
    most = 0
    for index, group in enumerate(question.groups):
        row, costs = _units(question, group, (lambda _: True) if anywhere else (lambda run: not goes_in(run)))
        counts.append(len(row))
        most += sum(costs)
        for begin, end, run in _runs(group, row, goes_in):
            parts.append(Part(index, begin, end, costs[end - 1]))
            groups.append(run)
            if len(parts) > MOST_PARTS:
                return None
    case = posed_anew(pose(question, (), admission), groups, admission)
    house, problem = question.house.together, problem_of(case, question.fill, mixing=None)
    problem = problem if goals is None else replace(problem, goals=goals)
    division = Division(problem, tuple(parts), tuple(counts), house.per_family, _no_larger(drawers))
    return _Candidates(case, division, most + house.per_family * len(question.groups))


def _units(
    question: Question, group: Group, cut: Callable[[Group], bool]
) -> tuple[tuple[GroupUnit, ...], tuple[int, ...]]:
    """The units of a group in reading order, and what a cut after each costs; all of it is one if it stays whole."""
    rules = question.house.together
    if not divisible(group, question.house):
        return (tuple((n, piece.piece.count) for n, piece in enumerate(group.pieces)),), (0,)
    series = units(group, cut)
    ends = set(accumulate(map(len, series)))
    row = tuple(unit for run in series for unit in run)
    costs = [rules.part if end in ends else rules.cut for end in range(1, len(row))]
    return row, (*costs, 0)


def _runs(group: Group, row: Sequence[GroupUnit], goes_in: Callable[[Group], bool]) -> Iterator[tuple[int, int, Group]]:
    """Runs of units that go into some drawer."""
    for begin in range(len(row)):
        for end in range(begin + 1, len(row) + 1):
            run = run_of(group, row[begin:end])
            if not goes_in(run):
                break
            yield begin, end, run


def _no_larger(drawers: Sequence[Drawer]) -> tuple[tuple[int, ...], ...]:
    """For each drawer those that take nothing that it does not take."""
    return tuple(
        tuple(other for other, less in enumerate(drawers) if other == own or surpasses(drawer, less))
        for own, drawer in enumerate(drawers)
    )
