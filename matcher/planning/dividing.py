"""Which parts each group falls into, where whole groups of one family a drawer do not go in (R2).

First groups are cut between series alone, and within a series only where it goes whole into no drawer. A cut within a
series costs more, so that it matters only from its cost on, or where this gives no plan. Then series are cut into runs
of about a quarter of a drawer, which finds plans but proves nothing; where tools are few, groups are cut anywhere.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate
from math import ceil

from matcher.assignment import PER_SEARCH, Bounds, Divided, Division, Part, Status, divided, divides
from matcher.fitting import GoesIn, surpasses
from matcher.layout import GroupUnit, run_of, units
from matcher.planning.drawer_problem import problem_of
from matcher.planning.grouping import divisible
from matcher.planning.kept_answers import recalled_division
from matcher.planning.posing import Admit, Case, pose, posed_anew, usable
from matcher.planning.question import Question
from matcher.planning.summing import least_asked
from matcher.records import Drawer, GoalName, Group

MOST_PARTS = 1500
"""More possible parts are not looked at: their curves alone would take too long."""
MOST_ANYWHERE = 400
"""Every group is cut anywhere only if it has no more possible parts than this, whether they go in or not."""
ANY = 10_000
"""More units than any series has: each of its tools is one."""
WHOLE, QUARTER, TOOLS = None, Fraction(1, 4), Fraction(0)
LEVELS: tuple[tuple[Fraction | None, float], ...] = ((WHOLE, 1.0), (QUARTER, 1.0), (TOOLS, 0.5))
"""Units from whole series to single tools: the share of a drawer that each takes at most, and of the budget it gets."""
LAYING, SEARCHING = 0.3, 0.15
"""Shares of a budget for whether there is any division: for laying drawer by drawer, then for the solver."""
AGAIN = 0.25
"""Share of its budget that a level proving nothing gets where a plan is known already."""

NO_BOUNDS = Bounds()


@dataclass(frozen=True, slots=True)
class DividedGroups:
    """The groups, or parts of them, if a division was ``found``: the drawer (by index) of each by name.

    ``bound`` is what no division costs less than, together with the mixing of families that it asks for; ``bounds``
    hold for all divisions of the cost found. ``rivals`` are all of these, where they are but a few.
    """

    status: Status
    groups: tuple[Group, ...] = ()
    drawers: tuple[tuple[str, int], ...] = ()
    cost: int = 0
    bound: int = 0
    bounds: Bounds = NO_BOUNDS
    rivals: tuple[tuple[Group, ...], ...] = ()


def divided_groups(
    question: Question, admission: Admit, least: int, work: float, goals: tuple[GoalName, ...] | None = None
) -> DividedGroups:
    """The cheapest way to divide groups and mix families, of a cost of ``least`` or more, within a work budget.

    Of several the one is chosen that suits these ``goals`` best, or else those of the house.
    """
    cut_from = _least_mixing(question) + question.house.together.cut
    best, bound, open_ = DividedGroups("impossible"), max(least, _least_mixing(question)), False
    for level, share in LEVELS:
        least_found = best.status == "found" and best.cost <= bound
        few = level is not TOOLS or _possible_parts(question) <= MOST_ANYWHERE
        candidates = _candidates(question, admission, goals, level) if few else None
        if candidates is None:
            open_ = True
            continue
        if least_found and not candidates.every_cut:
            continue
        most = best.cost - (not least_found) if best.status == "found" else candidates.most
        again = AGAIN if level is QUARTER and best.status == "found" else 1
        found = candidates.settled(bound, most, again * share * work, f"{admission.__name__}, {goals}, {level}")
        whole = candidates.every_cut
        open_ = found.status == "open" or (open_ and not whole)
        bound = max(bound, found.bound if whole else min(found.bound, cut_from))
        sure = False
        if found.status == "found":
            sure = whole or (level is WHOLE and found.cost < cut_from)
            best = candidates.told(found if sure else replace(found, bounds=NO_BOUNDS, rivals=()))
        if whole or found.status == "open" or (sure and best.cost <= bound):
            break
    else:
        open_ = True
    if best.status == "found":
        return replace(best, bound=min(bound, best.cost))
    return replace(best, status="open" if open_ else "impossible", bound=bound)


def dividable(question: Question, admission: Admit, work: float) -> bool:
    """Whether a way to divide groups and mix families is found with which all go in, whatever that costs.

    Groups are cut further only where larger units are proved not to go in.
    """
    for level, share in LEVELS:
        if level is TOOLS and _possible_parts(question) > MOST_ANYWHERE:
            continue
        candidates = _candidates(question, admission, (), level)
        if candidates is None:
            return False
        found = divides(candidates.division, candidates.most, LAYING * share * work, SEARCHING * share * work)
        if found != "impossible":
            return found == "found"
    return False


def undividable(question: Question, admission: Admit, work: float) -> bool:
    """Whether it is proved that the groups do not go in, however they are divided and mixed, whatever that costs."""
    if _possible_parts(question) > MOST_ANYWHERE:
        return False
    candidates = _candidates(question, admission, (), TOOLS)
    return (
        candidates is not None
        and candidates.every_cut
        and divides(candidates.division, candidates.most, LAYING * work, work) == "impossible"
    )


def _least_mixing(question: Question) -> int:
    """What mixing costs at least: families beyond the drawers there are, those in foam or all of them."""
    slots = [drawer.slot for drawer in usable(question.cabinet)]
    families = {(group.cased, group.family if group.share else group.name, group.share) for group in question.groups}
    in_foam = sum(not cased for cased, _, _ in families)
    beyond = max(0, in_foam - slots.count("foam"), len(families) - len(slots))
    return question.house.together.per_family * beyond


def _possible_parts(question: Question) -> int:
    """How many parts there are where every group may be cut anywhere."""
    counts = [group.tools if divisible(group, question.house) else 1 for group in question.groups]
    return sum(count * (count + 1) // 2 for count in counts)


@dataclass(frozen=True, slots=True)
class _Candidates:
    """Parts that the groups might fall into, as a case and as what is to be divided; whether they are all there are."""

    case: Case
    division: Division
    most: int
    every_cut: bool

    def settled(self, least: int, most: int, work: float, what: str) -> Divided:
        """The cheapest division within these costs; ``what`` tells how these parts come from the question."""
        if least > most:
            return Divided("impossible")
        asked = f"division, {what}, {least} to {most}, {work}"
        parts = len(self.division.parts)
        return recalled_division(asked, self.case.question, parts, lambda: divided(self.division, least, most, work))

    def told(self, found: Divided) -> DividedGroups:
        """The parts chosen, named by their place in their group."""
        named = self._named([node for node, _ in found.chosen])
        boxes = dict(found.chosen)
        return DividedGroups(
            found.status,
            tuple(group for group, _ in named),
            tuple((group.name, boxes[node]) for group, node in named),
            found.cost,
            found.bound,
            found.bounds,
            tuple(tuple(group for group, _ in self._named(rival)) for rival in found.rivals),
        )

    def _named(self, chosen: Iterable[int]) -> list[tuple[Group, int]]:
        """Parts named by their place in their group, with their index, group after group."""
        by_group: dict[int, list[int]] = defaultdict(list)
        for node in sorted(chosen, key=lambda node: (self.division.parts[node].group, self.division.parts[node].begin)):
            by_group[self.division.parts[node].group].append(node)
        return [
            (replace(group, name=f"{group.part_of} ({number} of {len(own)})") if group.part_of else group, node)
            for own in by_group.values()
            for number, (node, group) in enumerate(((node, self.case.groups[node]) for node in own), 1)
        ]


def _candidates(
    question: Question, admission: Admit, goals: tuple[GoalName, ...] | None, level: Fraction | None
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
        row, costs = _units(question, group, level, goes_in)
        counts.append(len(row))
        most += sum(costs)
        for begin, end, run in _runs(group, row, goes_in):
            parts.append(Part(index, begin, end, costs[end - 1]))
            groups.append(run)
            if len(parts) > MOST_PARTS:
                return None
    case = posed_anew(pose(question, (), admission), groups, admission)
    house, problem = question.house.together, problem_of(case, question.fill, mixing=None, packing=PER_SEARCH)
    problem = problem if goals is None else replace(problem, goals=goals)
    division = Division(problem, tuple(parts), tuple(counts), house.per_family, _no_larger(drawers))
    every = all(
        count == group.tools or not divisible(group, question.house)
        for group, count in zip(question.groups, counts, strict=True)
    )
    return _Candidates(case, division, most + house.per_family * len(question.groups), every)


def _units(
    question: Question, group: Group, level: Fraction | None, goes_in: Callable[[Group], bool]
) -> tuple[tuple[GroupUnit, ...], tuple[int, ...]]:
    """The units of a group in reading order, and what a cut after each costs; all of it is one if it stays whole.

    A series that goes in nowhere falls into its tools.
    """
    rules = question.house.together
    if not divisible(group, question.house):
        return (tuple((n, piece.piece.count) for n, piece in enumerate(group.pieces)),), (0,)
    largest = max(drawer.inside_width * drawer.inside_depth for drawer in usable(question.cabinet))

    def number(run: Group) -> int:
        if not level or not goes_in(run):
            return 1 if level is WHOLE and goes_in(run) else ANY
        return ceil(least_asked(run, question.house) / (level * largest))

    series = units(group, question.house.layout.sides, number)
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
