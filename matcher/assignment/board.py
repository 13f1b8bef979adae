"""The board: one variable per group and admissible drawer, and the hard rules between them.

Rule numbers are those of ``verification.RULES``.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import combinations
from math import gcd

from ortools.sat.python import cp_model
from ortools.sat.python.cp_model import IntVar, LinearExprT, LiteralT

from matcher.assignment.exchanges import equal_drawers
from matcher.assignment.problem import Places, Problem
from matcher.assignment.sharing import Misfit, Sharing, SharingClass, class_of, sharers
from matcher.packing import Solved


@dataclass(slots=True)
class Board:
    """A CP-SAT model of all plans in which the groups of ``single`` share a drawer with none.

    ``hopeful`` counts shared drawers that are undecided as possible: for bounds, never for plans. ``taken`` says of
    each drawer whether it holds something, ``classes`` of each class of groups that may share in which drawers it is,
    ``joins`` (once the number of drawers is known) which groups are not the first in their drawer.
    """

    problem: Problem
    sharing: Sharing
    single: frozenset[int]
    hopeful: bool
    model: cp_model.CpModel
    at: dict[tuple[int, int], IntVar]
    taken: dict[int, LinearExprT] = field(default_factory=dict)
    classes: dict[SharingClass, list[IntVar]] = field(default_factory=dict)
    joins: dict[tuple[int, int], IntVar] = field(default_factory=dict)

    @property
    def alone(self) -> bool:
        """Whether no group shares a drawer."""
        return len(self.single) == len(self.problem.nodes)

    @property
    def groups(self) -> range:
        """Indices of the groups."""
        return range(len(self.problem.nodes))

    @property
    def boxes(self) -> range:
        """Indices of the drawers."""
        return range(len(self.problem.boxes))

    def boxes_of(self, group: int) -> list[int]:
        """Drawers a group may go into."""
        return [box for box in self.boxes if (group, box) in self.at]

    def groups_of(self, box: int) -> list[int]:
        """Groups that may go into a drawer."""
        return [group for group in self.groups if (group, box) in self.at]

    @property
    def used(self) -> LinearExprT:
        """Number of drawers that hold something."""
        return sum(self.taken.values())

    def may_share(self, group: int, other: int, box: int) -> bool:
        """Whether two groups may be in this drawer together in some plan on this board, as far as is known."""
        if group in self.single or other in self.single or not self.sharing.may(group, other):
            return False
        known = self.sharing.of_pair(self.problem.boxes[box].kind, group, other)
        return known == "yes" or (known == "open" and self.hopeful)

    def places(self, answer: Solved) -> Places:
        """The plan in a solution."""
        return tuple(next(box for box in self.boxes_of(g) if answer.of(self.at[g, box])) for g in self.groups)

    def hint(self, places: Places) -> None:
        """Start the next search from a plan."""
        self.model.clear_hints()  # type: ignore[no-untyped-call]
        for (group, box), variable in self.at.items():
            self.model.add_hint(variable, places[group] == box)

    def restrict(self, allowed: Collection[tuple[int, int]]) -> None:
        """Drop all other pairs of group and drawer."""
        for pair in [pair for pair in self.at if pair not in allowed]:
            self.model.add(self.at.pop(pair) == 0)


def board_of(
    problem: Problem, sharing: Sharing, single: frozenset[int] = frozenset(), *, hopeful: bool = False
) -> Board:
    """A board with all hard rules."""
    model = cp_model.CpModel()
    at = {pair: model.new_bool_var(f"at{pair}") for pair in admissible(problem)}
    board = Board(problem, sharing, single, hopeful, model, at)
    if not board.alone:
        sharing.learn_pairs()
    for rule in RULES:
        rule(board)
    return board


def use_exactly(board: Board, used: int) -> None:
    """Fix the number of drawers that hold something, and thereby how many groups join others.

    Of the groups in a drawer the one of lowest index is its first, and the others join it. The rule follows from the
    others; it leaves the relaxation no more sharing than the number of drawers asks for.
    """
    if board.alone:
        return
    board.model.add(board.used == used)
    for box in board.boxes:
        firsts: dict[int, LinearExprT] = {}
        for group in board.groups_of(box):
            hosts = [first for host, first in firsts.items() if board.may_share(host, group, box)]
            firsts[group] = _first(board, group, box, hosts)
        board.model.add(sum(firsts.values()) == board.taken[box])


def _first(board: Board, group: int, box: int, hosts: list[LinearExprT]) -> LinearExprT:
    """Whether a group is the first in a drawer: it is there and joins none of those that may be before it."""
    if not hosts:
        return board.at[group, box]
    joins = board.joins[group, box] = board.model.new_bool_var(f"{group} joins in {box}")
    board.model.add_implication(joins, board.at[group, box])
    board.model.add(joins <= sum(hosts))
    return board.at[group, box] - joins


def admissible(problem: Problem) -> list[tuple[int, int]]:
    """Pairs of group and drawer not forbidden by themselves (R3 to R5, R8 to R11)."""
    return [
        (group, box)
        for group, box in sorted(problem.options)
        if box not in problem.kept_free and _bears(problem, group, box)
    ]


def _bears(problem: Problem, group: int, box: int) -> bool:
    load = problem.boxes[box].load
    return load is None or problem.nodes[group].mass <= load


# ------------------------------------------------------------------------------------------------------ the hard rules


def _every_group_has_one_drawer(board: Board) -> None:
    """R2."""
    for group in board.groups:
        board.model.add_exactly_one(board.at[group, box] for box in board.boxes_of(group))


def _a_drawer_holds_one_group_or_one_class(board: Board) -> None:
    """R7, R11 (apart)."""
    for box in board.boxes:
        groups = board.groups_of(box)
        free = [group for group in groups if group not in board.single]
        classes = [*([group] for group in groups if group in board.single), *sharers(board.problem, free)]
        present = [_any_of(board, box, members) for members in classes]
        board.model.add_at_most_one(present)
        board.taken[box] = sum(present)
        for members, variable in zip(classes, present, strict=True):
            if board.problem.nodes[members[0]].share:
                board.classes.setdefault(class_of(board.problem, members[0]), []).append(variable)


def _any_of(board: Board, box: int, members: list[int]) -> IntVar:
    """Whether a drawer holds any of these groups, of which those kept apart exclude each other."""
    if len(members) == 1:
        return board.at[members[0], box]
    variables = [board.at[group, box] for group in members]
    present = board.model.new_bool_var(f"class in {box}: {members[0]}")
    board.model.add_max_equality(present, variables)
    for pair in combinations(members, 2):
        if not board.sharing.may(*pair):
            board.model.add_at_most_one(board.at[group, box] for group in pair)
    return present


def _families_mix_no_more_than_allowed(board: Board) -> None:
    """R7: families beyond the first of a drawer are counted where only so many are allowed."""
    if board.problem.mixing:
        beyond = [_beyond_the_first(board, box) for box in board.boxes]
        board.model.add(sum(beyond) <= board.problem.mixing)


def _beyond_the_first(board: Board, box: int) -> LinearExprT:
    """How many families a drawer holds beyond one."""
    families: dict[str, list[IntVar]] = {}
    for group in board.groups_of(box):
        if board.problem.nodes[group].share and group not in board.single:
            families.setdefault(board.problem.nodes[group].family, []).append(board.at[group, box])
    if len(families) < 2:
        return 0
    present = []
    for family, variables in families.items():
        present.append(board.model.new_bool_var(f"{family} in {box}"))
        board.model.add_max_equality(present[-1], variables)
    any_family = board.model.new_bool_var(f"families in {box}")
    board.model.add_max_equality(any_family, present)
    return sum(present) - any_family


def _shared_loads_stay_within_the_rating(board: Board) -> None:
    """R8."""
    for box in board.boxes:
        load = board.problem.boxes[box].load
        if load is not None:
            _within(board, box, [node.mass for node in board.problem.nodes], load)


def _shared_areas_stay_within_the_drawer(board: Board) -> None:
    """R6, in part: a bound that saves asking."""
    for box in board.boxes:
        area = board.problem.boxes[box].area
        if area is not None:
            _within(board, box, [node.area for node in board.problem.nodes], area)


def _within(board: Board, box: int, weights: list[int], limit: int) -> None:
    groups = [group for group in board.groups_of(box) if group not in board.single]
    if sum(weights[group] for group in groups) <= limit:
        return
    unit = gcd(*(weights[group] for group in groups))
    board.model.add(sum(weights[group] // unit * board.at[group, box] for group in groups) <= limit // unit)


def _known_misfits_stay_out(board: Board) -> None:
    """R6."""
    forbid(board, board.sharing.misfits)


def _classes_take_their_fewest_drawers_or_more(board: Board) -> None:
    """No rule of its own: what R6 to R8 mean for a class by itself, where that was counted before."""
    for own, least in board.sharing.fewest.items():
        board.model.add(sum(board.classes[own]) >= least)


def _enough_drawers_stay_free(board: Board) -> None:
    """R11 (keep so many free)."""
    for number, boxes in board.problem.spare:
        if number > len(boxes):
            board.model.add_bool_or([])
        elif number:
            board.model.add(sum(board.taken[box] for box in sorted(boxes)) <= len(boxes) - number)


def _no_plan_is_given_twice(board: Board) -> None:
    """No rule of its own: what was passed over stays out, whichever of equal drawers is which."""
    equal = equal_drawers(board.problem)
    for places in board.problem.passed_over:
        if not board.alone or len(set(places)) == len(places):
            board.model.add_bool_or([*_moved(board, places, equal), *_regrouped(board, places, equal)])


def _moved(board: Board, places: Places, equal: tuple[int, ...]) -> Iterator[LiteralT]:
    """For each group: it lies in no drawer equal to its own."""
    for group, place in enumerate(places):
        here = [board.at[group, box] for box in board.boxes_of(group) if equal[box] == equal[place]]
        stays = here[0] if len(here) == 1 else board.model.new_bool_var("")
        if len(here) != 1:
            board.model.add(sum(here) == stays)
        yield ~stays


def _regrouped(board: Board, places: Places, equal: tuple[int, ...]) -> Iterator[LiteralT]:
    """For each two groups in equal drawers: apart if they lay together, together if they lay apart."""
    for pair in combinations(board.groups, 2):
        one, two = (places[group] for group in pair)
        if board.alone or equal[one] != equal[two] or not board.sharing.may(*pair):
            continue
        changed = board.model.new_bool_var("")
        both = [
            tuple(board.at[g, box] for g in pair) for box in board.boxes if {(g, box) for g in pair} <= set(board.at)
        ]
        if one == two:
            for here in both:
                board.model.add_bool_or(~changed, *(~variable for variable in here))
        else:
            meet = [board.model.new_bool_var("") for _ in both]
            for variable, here in zip(meet, both, strict=True):
                board.model.add_bool_and(here).only_enforce_if(variable)
            board.model.add_bool_or(~changed, *meet)
        yield changed


def forbid(board: Board, misfits: Iterable[Misfit]) -> None:
    """Rule out sets of groups in every drawer of the kind they were found not to go into (R6)."""
    for misfit in misfits:
        if (board.hopeful and misfit.side == "open") or not misfit.groups.isdisjoint(board.single):
            continue
        for box in board.boxes:
            present = [board.at[group, box] for group in sorted(misfit.groups) if (group, box) in board.at]
            if board.problem.boxes[box].kind == misfit.kind and len(present) == len(misfit.groups):
                board.model.add_bool_or(~variable for variable in present)


RULES = (
    _every_group_has_one_drawer,
    _a_drawer_holds_one_group_or_one_class,
    _families_mix_no_more_than_allowed,
    _shared_loads_stay_within_the_rating,
    _shared_areas_stay_within_the_drawer,
    _known_misfits_stay_out,
    _classes_take_their_fewest_drawers_or_more,
    _enough_drawers_stay_free,
    _no_plan_is_given_twice,
)
