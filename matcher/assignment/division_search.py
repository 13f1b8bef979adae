"""Searches divisions whose drawers all take what they hold, and learns what does not go in.

Whether parts really go into a drawer together is asked only where a solution would have them there. A set that does not
go in is reduced until all of it is needed, its parts are shrunk as long as they still do not go in, and the cut is
stated for every larger part and every drawer that takes no more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from ortools.sat.python.cp_model import IntVar

from matcher.assignment.division_model import DivisionModel, limits
from matcher.assignment.division_records import Chosen, Part, held
from matcher.assignment.problem import Side, Status
from matcher.packing import Solved

PER_QUESTION = 0.004
"""Work counted for asking whether parts go into a drawer together."""
PER_SEARCH = 0.5
"""Work of a search whether they do, which an open answer has taken."""
FIRST_STEP = 2.0
"""Work of one look for a better division; twice as much where it finds none, nor a proof that there is none."""


@dataclass(frozen=True, slots=True)
class Best:
    """The best division found, if any, and what none goes below as far as that was proved."""

    chosen: Chosen
    value: int
    bound: int

    @property
    def proved(self) -> bool:
        """Whether no division is better, or none was found because there is none."""
        return self.bound >= self.value


@dataclass(slots=True)
class DivisionSearch:
    """A model, and what was learned of which parts go into a drawer together.

    ``doubtful`` says that something was ruled out for want of a packing, without proof.
    """

    built: DivisionModel
    known: dict[tuple[int, frozenset[int]], Side] = field(default_factory=dict)
    doubtful: bool = False

    def any_with(self, cut: frozenset[int], work: float) -> tuple[Status, Chosen]:
        """A division in which only these groups are cut, or whether there is none."""
        self._cut_only(cut)
        found: tuple[Status, Chosen] = ("open", ())
        limit = self.built.spent + work
        while self.built.spent < limit:
            answer = self.built.solved(limit - self.built.spent)
            if answer.status == "infeasible":
                found = ("open" if self.doubtful else "impossible", ())
            if not answer.found:
                break
            chosen = self.built.chosen(answer)
            if not self._learned(chosen):
                found = ("found", chosen)
                break
        self._cut_only(None)
        return found

    def none_within(self, low: int, high: int, work: float) -> bool:
        """Whether what is known proves that no division costs so much."""
        limits(self.built.value, low, high)
        return not self.doubtful and self.built.solved(work).status == "infeasible"

    def in_the_way(self, cut: frozenset[int], work: float) -> frozenset[int]:
        """Where there is no division in which only these groups are cut: groups of which one more has to be."""
        kept = {variable.index: group for group, variable in self.built.whole.items() if group not in cut}
        self.built.model.add_assumptions([self.built.whole[group] for group in kept.values()])
        answer = self.built.solved(work)
        self.built.model.clear_assumptions()
        if answer.status != "infeasible":
            return frozenset(kept.values())
        return frozenset(kept[index] for index in answer.solver.sufficient_assumptions_for_infeasibility())

    def _cut_only(self, groups: frozenset[int] | None) -> None:
        """From now on all others stay whole; none need if it is ``None``."""
        for group, variable in self.built.whole.items():
            limits(variable, int(groups is not None and group not in groups), 1)

    def least_over(
        self, ways: Sequence[frozenset[int] | None], cost: IntVar, low: int, high: int, work: float, known: Chosen
    ) -> Best:
        """The least ``cost`` over these ways to cut: the groups that may be, any if ``None``; see `least`."""
        best, bound = Best(known, high, low), high
        for way in ways:
            self._cut_only(way)
            own = self.least(cost, low, best.value, work / len(ways), best.chosen)
            best, bound = own, min(bound, own.bound)
        self._cut_only(None)
        return replace(best, bound=min(bound, best.value))

    def least(self, cost: IntVar, low: int, high: int, work: float, known: Chosen = ()) -> Best:
        """The division of the least ``cost`` within these limits; ``known`` is one that costs no more than ``high``.

        Where none was found the value is one above ``high``.
        """
        best = Best(known, high if known else high + 1, low)
        limit, step = self.built.spent + work, FIRST_STEP
        self.built.model.minimize(cost)
        while not best.proved and self.built.spent < limit:
            limits(cost, best.bound, best.value - 1)
            answer = self.built.solved(min(step, limit - self.built.spent), best.chosen)
            best = replace(best, bound=self._bound(answer, best))
            if not answer.found:
                step *= 2
                if answer.status == "infeasible":
                    break
                continue
            chosen = self.built.chosen(answer)
            if not self._learned(chosen):
                best = replace(best, chosen=chosen, value=answer.of(cost))
        limits(cost, low, best.value)
        self.built.model.clear_objective()  # type: ignore[no-untyped-call]
        return best

    def _bound(self, answer: Solved, best: Best) -> int:
        """What is proved after a look, given that nothing was ruled out without proof."""
        if self.doubtful:
            return best.bound
        if answer.status == "infeasible":
            return best.value
        return best.bound if answer.bound is None else min(best.value, max(best.bound, answer.bound))

    def _learned(self, chosen: Chosen) -> bool:
        """Whether some drawer does not take what it would hold, which is ruled out then."""
        out = [(box, *misfit) for box, nodes in sorted(held(chosen).items()) for misfit in self._misfits(box, nodes)]
        for box, nodes, side in out:
            self._rule_out(box, *self._shrunk(box, *self._reduced(box, nodes, side)))
        return bool(out)

    def _misfits(self, box: int, nodes: frozenset[int]) -> list[tuple[frozenset[int], Side]]:
        """Of a drawer's content what does not go in: pairs, or else three parts, or else all of it."""
        for number in sorted({2, 3, len(nodes)}):
            asked = [(some, self.asked(box, some)) for some in map(frozenset, combinations(sorted(nodes), number))]
            out: list[tuple[frozenset[int], Side]] = [(some, side) for some, side in asked if side != "yes"]
            if out:
                return out
        return []

    def asked(self, box: int, nodes: frozenset[int]) -> Side:
        """Whether parts go into a drawer together, as far as the packer says; it is asked once."""
        if len(nodes) < 2:
            return "yes"
        key = self.built.division.problem.boxes[box].kind, nodes
        if key not in self.known:
            side = self.known[key] = self.built.division.problem.together(box, nodes)
            self.built.spent += PER_SEARCH if side == "open" else PER_QUESTION
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
        told = self.asked(box, fewer)
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
