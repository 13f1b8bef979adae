"""The CP-SAT model of all divisions: parts that cover each group once, in drawers that bear them as far as sums say.

Rule numbers are those of ``verification.RULES``.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from itertools import chain

from ortools.sat.python import cp_model
from ortools.sat.python.cp_model import IntVar, LinearExprT

from matcher.assignment.board import admissible
from matcher.assignment.division_records import Chosen, Division
from matcher.packing import Solved, solve

AREA_UNIT = 102_400
"""Areas are counted in square millimeters, rounded down: what goes in still does."""
LEAST_WORK = 0.01
"""Work counted for a search, however short."""


@dataclass(slots=True)
class DivisionModel:
    """The model; ``value`` is the cost of goal ``together``, ``holds`` says of each drawer whether it is used.

    ``whole`` says of each group that may be cut whether it is not; ``spent`` is the work so far.
    """

    division: Division
    model: cp_model.CpModel
    at: dict[tuple[int, int], IntVar]
    value: IntVar
    holds: dict[int, LinearExprT] = field(default_factory=dict)
    whole: dict[int, IntVar] = field(default_factory=dict)
    spent: float = 0.0

    def solved(self, work: float, hint: Chosen = ()) -> Solved:
        """A division, as far as areas, loads and what was learned say; ``hint`` is one to start from."""
        self.model.clear_hints()  # type: ignore[no-untyped-call]
        for pair in hint:
            self.model.add_hint(self.at[pair], True)
        answer = solve(self.model, work, self.division.problem.seed, linearization_level=2)
        self.spent += max(answer.work, LEAST_WORK)
        return answer

    def chosen(self, answer: Solved) -> Chosen:
        """The parts with their drawers in a solution."""
        return tuple(pair for pair, variable in self.at.items() if answer.of(variable))


def limits(variable: IntVar, low: int, high: int) -> None:
    """From now on a variable is within these limits."""
    variable.proto.domain[0], variable.proto.domain[1] = low, high


def most_of(variable: IntVar) -> int:
    """The upper limit of a variable."""
    return int(variable.proto.domain[1])


def division_model(division: Division) -> DivisionModel:
    """The model of what is to be divided, with all hard rules but what a packing must tell."""
    model = cp_model.CpModel()
    at = {pair: model.new_bool_var(f"at{pair}") for pair in admissible(division.problem)}
    built = DivisionModel(division, model, at, model.new_int_var(0, 1, "together"))
    _cover_every_unit_once(built)
    taken = {box: _families(built, box) for box in range(len(division.problem.boxes))}
    beyond = sum(families for _, families in taken.values())
    model.add(sum([_cuts(built), division.per_family * beyond]) <= built.value)
    for box in taken:
        _bear_what_they_hold(built, box)
    built.holds = {box: holds for box, (holds, _) in taken.items()}
    _keep_pins(built)
    return built


def _cover_every_unit_once(built: DivisionModel) -> None:
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
    for group in (group for group, units in enumerate(built.division.units) if units > 1):
        built.whole[group] = built.model.new_bool_var(f"{group} whole")
        built.model.add(sum(_uncut(built, group)) == built.whole[group])


def _uncut(built: DivisionModel, group: int) -> list[IntVar]:
    all_of_it = (group, 0, built.division.units[group])
    parts = built.division.parts
    return [
        at for (node, _), at in built.at.items() if (parts[node].group, parts[node].begin, parts[node].end) == all_of_it
    ]


def _cuts(built: DivisionModel) -> LinearExprT:
    parts = built.division.parts
    return sum(parts[node].cost * variable for (node, _), variable in built.at.items() if parts[node].cost)


def _families(built: DivisionModel, box: int) -> tuple[LinearExprT, LinearExprT]:
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


def _nodes_of(built: DivisionModel, box: int) -> list[int]:
    return [node for node, other in built.at if other == box]


def _bear_what_they_hold(built: DivisionModel, box: int) -> None:
    """R6 in part, R8: areas and loads add up."""
    problem, nodes = built.division.problem, _nodes_of(built, box)
    place = problem.boxes[box]
    if place.area is not None:
        areas = [problem.options[node, box].area // AREA_UNIT for node in nodes]
        held = sum(area * built.at[node, box] for node, area in zip(nodes, areas, strict=True))
        built.model.add(held <= place.area // AREA_UNIT)
    if place.load is not None:
        built.model.add(sum(problem.nodes[node].mass * built.at[node, box] for node in nodes) <= place.load)


def _keep_pins(built: DivisionModel) -> None:
    """R11: what is kept apart, and drawers of which so many stay free."""
    problem = built.division.problem
    for one, other in problem.apart:
        for box in built.holds:
            if {(one, box), (other, box)} <= built.at.keys():
                built.model.add_at_most_one(built.at[one, box], built.at[other, box])
    for number, boxes in problem.spare:
        built.model.add(sum(built.holds[box] for box in sorted(boxes)) <= len(boxes) - number)
