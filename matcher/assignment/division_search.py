"""Searches divisions whose drawers all take what they hold, and learns what does not go in.

Whether parts really go into a drawer together is asked only where a solution would have them there. A set that does not
go in is reduced until all of it is needed, its parts are shrunk as long as they still do not go in, and the cut is
stated for every larger part and every drawer that takes no more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import combinations

from ortools.sat.python.cp_model import LinearExprT

from matcher.assignment.division_model import DivisionModel
from matcher.assignment.division_records import Chosen, Part, held
from matcher.assignment.problem import Side, Status

PER_QUESTION = 0.01
"""Work counted for asking whether parts go into a drawer together; more where it takes a search."""
FEW = 4
"""Up to so many parts are packed without a search."""


@dataclass(frozen=True, slots=True)
class Best:
    """The best division found, if any, and what none goes below as far as that was proved."""

    chosen: Chosen | None
    value: int
    bound: int


@dataclass(slots=True)
class DivisionSearch:
    """A model, and what was learned of which parts go into a drawer together.

    ``doubtful`` says that something was ruled out for want of a packing, without proof.
    """

    built: DivisionModel
    known: dict[tuple[int, frozenset[int]], Side] = field(default_factory=dict)
    doubtful: bool = False

    def any_of_cost(self, low: int, high: int, work: float) -> tuple[Status, Chosen]:
        """A division of a cost within these limits, or whether there is none."""
        self.built.within(low, high)
        limit = self.built.spent + work
        while self.built.spent < limit:
            answer = self.built.solved(limit - self.built.spent)
            if answer.status == "infeasible":
                return ("open" if self.doubtful else "impossible"), ()
            if not answer.found:
                break
            chosen = self.built.chosen(answer)
            if not self._learned(chosen):
                return "found", chosen
        return "open", ()

    def least(self, cost: LinearExprT, floor: int, work: float) -> Best:
        """The division of the least ``cost``, which is never below ``floor``."""
        self.built.model.minimize(cost)
        limit, bound = self.built.spent + work, floor
        while self.built.spent < limit:
            answer = self.built.solved(limit - self.built.spent)
            if answer.bound is not None and not self.doubtful:
                bound = max(bound, answer.bound)
            if not answer.found or answer.value is None:
                break
            chosen = self.built.chosen(answer)
            if not self._learned(chosen):
                return Best(chosen, answer.value, min(bound, answer.value))
        return Best(None, 0, bound)

    def _learned(self, chosen: Chosen) -> bool:
        """Whether some drawer does not take what it would hold, which is ruled out then."""
        out = [(box, *misfit) for box, nodes in sorted(held(chosen).items()) if (misfit := self._misfit(box, nodes))]
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
        key = self.built.division.problem.boxes[box].kind, nodes
        if key not in self.known:
            self.built.spent += PER_QUESTION * 8 ** max(0, len(nodes) - FEW)
            self.known[key] = self.built.division.problem.together(box, nodes)
        return self.known[key]

    def _reduced(self, box: int, nodes: frozenset[int], side: Side) -> tuple[frozenset[int], Side]:
        """Without the nodes that need not be there for the rest not to go in."""
        for node in sorted(nodes):
            nodes, side = self._still_out(box, nodes, side, nodes - {node})
        return nodes, side

    def _shrunk(self, box: int, nodes: frozenset[int], side: Side) -> tuple[frozenset[int], Side]:
        """With parts as short as still do not go in."""
        index = {(part.group, part.begin, part.end): node for node, part in enumerate(self.built.division.parts)}
        for node in sorted(nodes):
            own = node
            for from_front in (True, False):
                shorter = index.get(_shorter(self.built.division.parts[own], from_front))
                while shorter is not None and (shorter, box) in self.built.at and shorter not in nodes:
                    tried, told = self._still_out(box, nodes, side, (nodes - {own}) | {shorter})
                    if tried == nodes:
                        break
                    nodes, side, own = tried, told, shorter
                    shorter = index.get(_shorter(self.built.division.parts[own], from_front))
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
        larger = _larger(self.built.division.parts, nodes)
        for other in self.built.division.no_larger[box]:
            present = [self.built.at[node, other] for node in larger if (node, other) in self.built.at]
            self.built.model.add(sum(present) <= len(nodes) - 1)


def _larger(parts: Sequence[Part], nodes: frozenset[int]) -> list[int]:
    """Parts that hold exactly one of these."""
    held = [parts[node] for node in nodes]
    return [node for node, part in enumerate(parts) if sum(_holds(part, one) for one in held) == 1]


def _holds(part: Part, other: Part) -> bool:
    return part.group == other.group and part.begin <= other.begin and other.end <= part.end


def _shorter(part: Part, from_front: bool) -> tuple[int, int, int]:
    return part.group, part.begin + from_front, part.end - (not from_front)
