"""Groups to parts and parts to drawers at the least cost: cuts within groups, and families beyond one in a drawer.

The model knows areas, loads and families; whether parts really go into a drawer together is asked only where a solution
would have them there. A set that does not go in is reduced until all of it is needed, its parts are shrunk as long as
they still do not go in, and the cut is stated for every larger part and every drawer that takes no more.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain, combinations, pairwise
from typing import TypeAlias

from ortools.sat.python import cp_model
from ortools.sat.python.cp_model import IntVar, LinearExprT

from matcher.assignment.board import admissible
from matcher.assignment.problem import Problem, Side, Status
from matcher.packing import Solved, solve

AREA_UNIT = 102_400
"""Areas are counted in square millimeters, rounded down: what goes in still does."""
FIRST_SHARE = 4
"""This share of the budget goes to whether there is any division at all."""
PER_QUESTION = 0.01
"""Work counted for asking whether parts go into a drawer together; more where it takes a search."""
FEW = 4
"""Up to so many parts are packed without a search."""
Chosen: TypeAlias = tuple[tuple[int, int], ...]
"""Runs with their drawers, by index."""


@dataclass(frozen=True, slots=True)
class Part:
    """A run of units of a group, from ``begin`` to before ``end``; ``cost`` is that of the cut after it."""

    group: int
    begin: int
    end: int
    cost: int


@dataclass(frozen=True, slots=True)
class Division:
    """What is to be divided: a node of ``problem`` is one of the ``parts`` that its group might fall into.

    ``units`` says how many units each group has. ``per_family`` is the cost of each family beyond the first in a
    drawer. ``no_larger`` lists for each drawer those that take nothing that it does not take, itself included.
    """

    problem: Problem
    parts: tuple[Part, ...]
    units: tuple[int, ...]
    per_family: int
    no_larger: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Divided:
    """The parts chosen, if ``found``, at what cost, and what no division of these parts goes below."""

    status: Status
    chosen: Chosen = ()
    cost: int = 0
    bound: int = 0


def divided(division: Division, least: int, most: int, work: float) -> Divided:
    """The cheapest division from ``least`` to ``most``, value by value from below.

    Each value below the one found is proved impossible, or the bound says how far that was proved.
    """
    model = _model(division)
    if model.solved(least, most, work / FIRST_SHARE).status == "infeasible":
        return Divided("impossible", bound=most + 1)
    bound = least
    for value in range(least, most + 1):
        if model.spent >= work:
            break
        found = model.search(value, (work - model.spent) / 2)
        if found.status == "found":
            return Divided("found", found.chosen, found.cost, bound)
        if found.status == "impossible" and bound == value:
            bound += 1
    return Divided("impossible" if bound > most else "open", bound=bound)


@dataclass(slots=True)
class _Model:
    """The CP-SAT model, and what was learned of which parts go into a drawer together."""

    division: Division
    model: cp_model.CpModel
    at: dict[tuple[int, int], IntVar]
    value: IntVar
    known: dict[tuple[int, frozenset[int]], Side] = field(default_factory=dict)
    doubtful: bool = False
    spent: float = 0.0

    def solved(self, least: int, most: int, work: float) -> Solved:
        """A division of a cost within these limits, as far as areas, loads and what was learned say."""
        self.value.proto.domain[0], self.value.proto.domain[1] = least, most
        answer = solve(self.model, work, self.division.problem.seed)
        self.spent += max(answer.work, PER_QUESTION)
        return answer

    def search(self, value: int, work: float) -> Divided:
        """A division of this cost at most whose drawers all take what they hold."""
        limit = self.spent + work
        while self.spent < limit:
            answer = self.solved(value, value, limit - self.spent)
            if answer.status == "infeasible":
                return Divided("open" if self.doubtful else "impossible")
            if not answer.found:
                return Divided("open")
            chosen = tuple(pair for pair, variable in self.at.items() if answer.of(variable))
            if not self._learned(chosen):
                return Divided("found", chosen, cost_of(self.division, chosen))
        return Divided("open")

    def _learned(self, chosen: Chosen) -> bool:
        """Whether some drawer does not take what it would hold, which is ruled out then."""
        out = [(box, *misfit) for box, nodes in sorted(_held(chosen).items()) if (misfit := self._misfit(box, nodes))]
        for box, nodes, side in out:
            self._rule_out(box, *self._shrunk(box, *self._reduced(box, nodes, side)))
        return bool(out)

    def _misfit(self, box: int, nodes: frozenset[int]) -> tuple[frozenset[int], Side] | None:
        """Of a drawer's content what does not go in: two or three parts, which is quickly asked, else all of it."""
        few = [frozenset(some) for number in (2, 3) for some in combinations(sorted(nodes), number)]
        for some in [*few, nodes]:
            side = self._asked(box, some)
            if side != "yes":
                return some, side
        return None

    def _asked(self, box: int, nodes: frozenset[int]) -> Side:
        if len(nodes) < 2:
            return "yes"
        key = self.division.problem.boxes[box].kind, nodes
        if key not in self.known:
            self.spent += PER_QUESTION * 8 ** max(0, len(nodes) - FEW)
            self.known[key] = self.division.problem.together(box, nodes)
        return self.known[key]

    def _reduced(self, box: int, nodes: frozenset[int], side: Side) -> tuple[frozenset[int], Side]:
        """Without the nodes that need not be there for the rest not to go in."""
        for node in sorted(nodes):
            nodes, side = self._still_out(box, nodes, side, nodes - {node})
        return nodes, side

    def _shrunk(self, box: int, nodes: frozenset[int], side: Side) -> tuple[frozenset[int], Side]:
        """With parts as short as still do not go in."""
        index = {(part.group, part.begin, part.end): node for node, part in enumerate(self.division.parts)}
        for node in sorted(nodes):
            own = node
            for from_front in (True, False):
                shorter = index.get(_shorter(self.division.parts[own], from_front))
                while shorter is not None and (shorter, box) in self.at and shorter not in nodes:
                    tried, told = self._still_out(box, nodes, side, (nodes - {own}) | {shorter})
                    if tried == nodes:
                        break
                    nodes, side, own = tried, told, shorter
                    shorter = index.get(_shorter(self.division.parts[own], from_front))
        return nodes, side

    def _still_out(
        self, box: int, nodes: frozenset[int], side: Side, fewer: frozenset[int]
    ) -> tuple[frozenset[int], Side]:
        """The smaller set if it does not go in either, by proof where that was proved of the larger one."""
        told = self._asked(box, fewer)
        return (fewer, told) if told == "no" or (told == "open" and side == "open") else (nodes, side)

    def _rule_out(self, box: int, nodes: frozenset[int], side: Side) -> None:
        """No larger parts of the same groups lie together in this drawer or in one that takes no more."""
        self.doubtful |= side == "open"
        larger = _larger(self.division.parts, nodes)
        for other in self.division.no_larger[box]:
            present = [self.at[node, other] for node in larger if (node, other) in self.at]
            self.model.add(sum(present) <= len(nodes) - 1)


def _larger(parts: Sequence[Part], nodes: frozenset[int]) -> list[int]:
    """Parts that hold exactly one of these."""
    held = [parts[node] for node in nodes]
    return [node for node, part in enumerate(parts) if sum(_holds(part, one) for one in held) == 1]


def _holds(part: Part, other: Part) -> bool:
    return part.group == other.group and part.begin <= other.begin and other.end <= part.end


def _shorter(part: Part, from_front: bool) -> tuple[int, int, int]:
    return part.group, part.begin + from_front, part.end - (not from_front)


def _held(chosen: Chosen) -> dict[int, frozenset[int]]:
    held: dict[int, set[int]] = defaultdict(set)
    for node, box in chosen:
        held[box].add(node)
    return {box: frozenset(nodes) for box, nodes in held.items()}


def cost_of(division: Division, chosen: Chosen) -> int:
    """Cuts, and families beyond the first of each drawer."""
    families = sum(len({division.problem.nodes[node].family for node in nodes}) - 1 for nodes in _held(chosen).values())
    return sum(division.parts[node].cost for node, _ in chosen) + division.per_family * families


# ----------------------------------------------------------------------------------------------------------- the rules


def _model(division: Division) -> _Model:
    model = cp_model.CpModel()
    at = {pair: model.new_bool_var(f"at{pair}") for pair in admissible(division.problem)}
    built = _Model(division, model, at, model.new_int_var(0, 1, "value"))
    _cover_every_unit_once(built)
    taken = {box: _families(built, box) for box in range(len(division.problem.boxes))}
    beyond = sum(families for _, families in taken.values())
    model.add(sum([_cuts(built), division.per_family * beyond]) <= built.value)
    for box in taken:
        _bear_what_they_hold(built, box)
    _keep_pins(built, {box: holds for box, (holds, _) in taken.items()})
    _sort_equal_drawers(built)
    return built


def _cover_every_unit_once(built: _Model) -> None:
    """A path from a group's first unit to its last: as many parts end before a unit as begin with it (R2)."""
    begin: dict[tuple[int, int], list[IntVar]] = defaultdict(list)
    end: dict[tuple[int, int], list[IntVar]] = defaultdict(list)
    for (node, _), variable in built.at.items():
        part = built.division.parts[node]
        begin[part.group, part.begin].append(variable)
        end[part.group, part.end].append(variable)
    for group, units in enumerate(built.division.units):
        built.model.add_exactly_one(begin[group, 0])
        built.model.add_exactly_one(end[group, units])
        for unit in range(1, units):
            built.model.add(sum(end[group, unit]) == sum(begin[group, unit]))


def _cuts(built: _Model) -> LinearExprT:
    parts = built.division.parts
    return sum(parts[node].cost * variable for (node, _), variable in built.at.items() if parts[node].cost)


def _families(built: _Model, box: int) -> tuple[LinearExprT, LinearExprT]:
    """Whether a drawer holds something, and how many families beyond one; who shares with none is alone (R7)."""
    problem, model = built.division.problem, built.model
    families: dict[tuple[str, bool], list[IntVar]] = defaultdict(list)
    alone: list[IntVar] = []
    for node in _nodes_of(built, box):
        if problem.nodes[node].share:
            families[problem.nodes[node].family, problem.nodes[node].cased].append(built.at[node, box])
        else:
            alone.append(built.at[node, box])
    classes: dict[bool, list[IntVar]] = defaultdict(list)
    for (family, cased), variables in families.items():
        present = model.new_bool_var(f"{family} in {box}")
        model.add_max_equality(present, variables)
        classes[cased].append(present)
    some = []
    for cased, present_families in classes.items():
        some.append(model.new_bool_var(f"{'cased' if cased else 'foam'} in {box}"))
        model.add_max_equality(some[-1], present_families)
        if problem.mixing == 0:
            model.add_at_most_one(present_families)
    model.add_at_most_one([*some, *alone])
    beyond = [*chain.from_iterable(classes.values()), *(-variable for variable in some)]
    return sum([*some, *alone]), sum(beyond)


def _nodes_of(built: _Model, box: int) -> list[int]:
    return [node for node, other in built.at if other == box]


def _bear_what_they_hold(built: _Model, box: int) -> None:
    """R6 in part, R8: areas and loads add up."""
    problem, nodes = built.division.problem, _nodes_of(built, box)
    place = problem.boxes[box]
    if place.area is not None:
        areas = [problem.options[node, box].area // AREA_UNIT for node in nodes]
        held = sum(area * built.at[node, box] for node, area in zip(nodes, areas, strict=True))
        built.model.add(held <= place.area // AREA_UNIT)
    if place.load is not None:
        built.model.add(sum(problem.nodes[node].mass * built.at[node, box] for node in nodes) <= place.load)


def _keep_pins(built: _Model, holds: dict[int, LinearExprT]) -> None:
    """R11: what is kept apart, and drawers of which so many stay free."""
    problem = built.division.problem
    for one, other in problem.apart:
        for box in holds:
            if {(one, box), (other, box)} <= built.at.keys():
                built.model.add_at_most_one(built.at[one, box], built.at[other, box])
    for number, boxes in problem.spare:
        built.model.add(sum(holds[box] for box in sorted(boxes)) <= len(boxes) - number)


def _sort_equal_drawers(built: _Model) -> None:
    """Of drawers that differ in their place alone the first holds the most area."""
    problem = built.division.problem
    for before, after in _equal_drawers(built):
        nodes = _nodes_of(built, before)
        areas = [problem.options[node, before].area // AREA_UNIT for node in nodes]
        steps = zip(nodes, areas, strict=True)
        built.model.add(sum(area * (built.at[node, before] - built.at[node, after]) for node, area in steps) >= 0)


def _equal_drawers(built: _Model) -> Iterator[tuple[int, int]]:
    problem = built.division.problem
    alike: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for box, place in enumerate(problem.boxes):
        wished = tuple(box in boxes for _, boxes in problem.spare)
        alike[place.kind, tuple(_nodes_of(built, box)), wished].append(box)
    for boxes in alike.values():
        yield from pairwise(boxes)
