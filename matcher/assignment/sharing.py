"""Which groups may share a drawer: asked only when needed, remembered as sets that do not go together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import TypeAlias

from matcher.assignment.problem import Places, Problem, Side


@dataclass(frozen=True, slots=True)
class Misfit:
    """Groups that do not all go into a drawer of this kind, by proof (``no``) or for want of one (``open``)."""

    kind: int
    groups: frozenset[int]
    side: Side


SharingClass: TypeAlias = tuple[str, bool, int]
"""Groups of one class may share drawers, groups of two never do: family, blank where families mix; whether cased; the
group itself where it shares with none, else -1."""


class Sharing:
    """What is known so far about groups side by side in one drawer.

    A set is asked for only where a plan would use it; where the answer is not ``yes``, it is reduced to an
    inclusion-minimal set that still does not go in, which then rules out every plan with these groups in any drawer of
    that kind. ``fewest`` bounds from below how many drawers a class of groups takes that may share.
    """

    def __init__(self, problem: Problem):
        self.problem = problem
        self._known: dict[tuple[int, frozenset[int]], Side] = {}
        self.fewest: dict[SharingClass, int] = {}
        self._apart = {frozenset(pair) for pair in problem.apart}
        self._pairs_known = False

    @property
    def misfits(self) -> tuple[Misfit, ...]:
        """Inclusion-minimal sets found so far, in the order in which they were found."""
        return tuple(Misfit(kind, groups, side) for (kind, groups), side in self._known.items())

    @property
    def undecided(self) -> tuple[Misfit, ...]:
        """Misfits without proof."""
        return tuple(misfit for misfit in self.misfits if misfit.side == "open")

    def may(self, group: int, other: int) -> bool:
        """Whether the house lets two groups share a drawer at all: of one class, not kept apart."""
        alike = class_of(self.problem, group) == class_of(self.problem, other)
        return alike and frozenset((group, other)) not in self._apart

    def of_pair(self, kind: int, group: int, other: int) -> Side:
        """What is known of two groups in a drawer of this kind."""
        return self._known.get((kind, frozenset((group, other))), "yes")

    def learn_pairs(self) -> None:
        """Ask once for every pair that might share, one drawer of each kind."""
        if self._pairs_known:
            return
        self._pairs_known = True
        for kind, (box, groups) in sorted(self._first_boxes().items()):
            for pair in combinations(groups, 2):
                if self.may(*pair):
                    self._learn(box, kind, frozenset(pair))

    def learn_from(self, places: Places) -> tuple[Misfit, ...]:
        """New misfits in the shared drawers of a plan; none if all of it goes in."""
        known = len(self._known)
        for box, groups in sorted(_shared(places)):
            self._learn(box, self.problem.boxes[box].kind, groups)
        return self.misfits[known:]

    def _learn(self, box: int, kind: int, groups: frozenset[int]) -> None:
        side = self._ask(box, groups)
        if side != "yes":
            reduced, reason = self._reduced(box, groups, side)
            self._known[kind, reduced] = reason

    def _reduced(self, box: int, groups: frozenset[int], side: Side) -> tuple[frozenset[int], Side]:
        """Leave out groups in turn as long as the rest does not go in; proved where it is proved of all."""
        for group in sorted(groups):
            rest = groups - {group}
            answer = self._ask(box, rest)
            if answer == "no" or (answer == "open" and side == "open"):
                groups, side = rest, answer
        return groups, side

    def _ask(self, box: int, groups: frozenset[int]) -> Side:
        """Whether these groups go in; asked only where area and load do not say no."""
        if len(groups) < 2:
            return "yes"
        place, nodes = self.problem.boxes[box], [self.problem.nodes[group] for group in groups]
        too_large = place.area is not None and sum(node.area for node in nodes) > place.area
        too_heavy = place.load is not None and sum(node.mass for node in nodes) > place.load
        return "no" if too_large or too_heavy else self.problem.together(box, groups)

    def _first_boxes(self) -> dict[int, tuple[int, list[int]]]:
        """Of each kind: its first drawer, and the groups that go into any drawer of the kind."""
        found: dict[int, tuple[int, set[int]]] = {}
        for group, box in sorted(self.problem.options, key=lambda pair: (pair[1], pair[0])):
            kind = self.problem.boxes[box].kind
            found.setdefault(kind, (box, set()))[1].add(group)
        return {kind: (box, sorted(groups)) for kind, (box, groups) in found.items()}


def _shared(places: Places) -> Iterator[tuple[int, frozenset[int]]]:
    for box in set(places):
        groups = frozenset(group for group, place in enumerate(places) if place == box)
        if len(groups) > 1:
            yield box, groups


def class_of(problem: Problem, group: int) -> SharingClass:
    """The class of a group; what is cased and what is cut in foam never share."""
    node = problem.nodes[group]
    if not node.share:
        return "", node.cased, group
    return node.family if problem.mixing == 0 else "", node.cased, -1


def sharers(problem: Problem, groups: Iterable[int]) -> list[list[int]]:
    """Groups by class: of these classes a drawer holds only one."""
    classes: dict[SharingClass, list[int]] = {}
    for group in groups:
        classes.setdefault(class_of(problem, group), []).append(group)
    return list(classes.values())
