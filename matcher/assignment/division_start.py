"""A division to start from: groups laid into drawers one after another, each in the longest runs that go in.

What found no place comes first in the next try ("squeaky wheel" optimization: Joslin and Clements, 1999). A division is
then bettered by taking some drawers out and laying what they held anew (large neighborhood search: Shaw, 1998). Neither
proves anything. What lies together is asked of the packer, as in the search, so every division found is one.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from random import Random
from typing import TypeAlias

from matcher.assignment.division_records import Chosen, Division, cost_of, held
from matcher.assignment.division_search import DivisionSearch
from matcher.assignment.values import breaks_among

TRIES = 200
"""So often all groups are laid to find a division at all."""
BETTERED = 5000
"""So often some drawers of a division are laid anew."""
PER_STEP = 0.0005
"""Work counted for laying drawers anew once."""
MEMORY = 40
"""What is no worse than so many steps ago is gone on with."""
EXCHANGED = 0.4
"""Share of these in which two drawers only exchange what they hold."""
WHOLE_DRAWERS = 0.3
"""Share of the exchanges in which all that two drawers hold changes places, not a part of it."""
MOST_TAKEN_OUT = 4
"""So many drawers at most are taken out at a time."""
NOISE = 0.5
"""By up to this share the weights of choices differ from try to try."""
MIXED = 0.35
"""What a family more in a drawer counts, in shares of a drawer left empty."""
HEIGHT = 0.3
"""What it counts that a part lies as far from the height at which its tier is sought as drawers can."""
FEW_DRAWERS = 0.5
"""What it counts that only one drawer takes a run, in shares of a drawer that the run fills."""

Stretch: TypeAlias = tuple[int, int, int]
"""A group, and its units to be laid: from one to before another."""


def start(search: DivisionSearch, work: float) -> Chosen:
    """A division of little cost that all drawers take; nothing where none is found within this work."""
    laying, limit = _laying(search), search.built.spent + work
    chosen = _first(laying, limit)
    return _bettered(laying, chosen, limit) if chosen else ()


def first(search: DivisionSearch, work: float) -> Chosen:
    """A division that all drawers take, whatever it costs; nothing where none is found within this work."""
    return _first(_laying(search), search.built.spent + work)


def bettered(search: DivisionSearch, chosen: Chosen, work: float) -> Chosen:
    """The best division met from this one on within this work."""
    return _bettered(_laying(search), chosen, search.built.spent + work)


def _laying(search: DivisionSearch) -> _Laying:
    return _Laying(search, Random(search.built.division.problem.seed))


def _first(laying: _Laying, limit: float) -> Chosen:
    """Any division: what found no place is laid before all else the next time."""
    runs = [(group, 0, units) for group, units in enumerate(laying.division.units)]
    urgent: dict[int, int] = defaultdict(int)
    for _ in range(TRIES):
        laid = laying.laid({}, runs, urgent)
        if not isinstance(laid, int):
            return laid
        urgent[laid] += 1
        if laying.search.built.spent > limit:
            break
    return ()


def _bettered(laying: _Laying, chosen: Chosen, limit: float) -> Chosen:
    """The best division met while some drawers at a time are laid anew or exchange what they hold.

    What is no worse than some steps ago is gone on with ("late acceptance": Burke and Bykov, 2017).
    """
    worth = best_worth = laying.worth(chosen)
    best, before = chosen, [worth] * MEMORY
    for step in range(BETTERED):
        laid = laying.exchanged(chosen) if laying.random.random() < EXCHANGED else laying.laid_anew(chosen)
        if not isinstance(laid, int):
            tried = laying.worth(laid)
            if tried <= max(worth, before[step % MEMORY]):
                chosen, worth = laid, tried
            if worth < best_worth:
                best, best_worth = chosen, worth
        before[step % MEMORY] = worth
        laying.search.built.spent += PER_STEP
        if laying.search.built.spent > limit:
            break
    return best


@dataclass(frozen=True)
class _Laying:
    """Lays runs of units into drawers, by chance among what suits about as well."""

    search: DivisionSearch
    random: Random

    @property
    def division(self) -> Division:
        """What is to be laid."""
        return self.search.built.division

    @cached_property
    def parts(self) -> Mapping[Stretch, int]:
        """The parts by their group and units."""
        return {(part.group, part.begin, part.end): node for node, part in enumerate(self.division.parts)}

    @cached_property
    def boxes(self) -> Mapping[int, Sequence[int]]:
        """The drawers that take a part alone."""
        found: dict[int, list[int]] = defaultdict(list)
        for node, box in self.search.built.at:
            found[node].append(box)
        return found

    @cached_property
    def sought(self) -> Mapping[int, int]:
        """The height at which each tier would lie if every unit took as much of the drawers, tier below tier."""
        problem = self.division.problem
        tiers = sorted(problem.nodes[node].tier for (_, begin, end), node in self.parts.items() if end - begin == 1)
        floors = sorted((box.floor for box in problem.boxes), reverse=True)
        middles = {tier: (bisect_left(tiers, tier) + bisect_right(tiers, tier) - 1) // 2 for tier in tiers}
        return {tier: floors[middle * len(floors) // len(tiers)] for tier, middle in middles.items()}

    @cached_property
    def span(self) -> int:
        """How far apart the floors of the lowest and the highest drawer are."""
        floors = [box.floor for box in self.division.problem.boxes]
        return max(floors) - min(floors) or 1

    def worth(self, chosen: Chosen) -> tuple[int, ...]:
        """Goals ``together``, ``drawers`` and ``order`` as far as these are goals, in their order; less is better."""
        problem = self.division.problem
        used = len({box for _, box in chosen})
        values = {"drawers": used if problem.fill == "pack" else -used, "order": len(breaks_among(problem, chosen))}
        return cost_of(self.division, chosen), *(values[goal] for goal in problem.goals if goal in values)

    def laid(
        self, kept: Mapping[int, frozenset[int]], runs: Iterable[Stretch], urgent: Mapping[int, int]
    ) -> Chosen | int:
        """The drawers as ``kept``, with the runs laid in too, the hardest first; or a group that found no place."""
        drawers, by_height = dict(kept), HEIGHT * self.random.choice((0, 1))
        left = sorted(runs, key=lambda run: -urgent.get(run[0], 0) - self._hard(run) * self._chance())
        while left:
            group, begin, end = left.pop(0)
            placed = self._placed(drawers, (group, begin, end), by_height)
            if placed is None:
                return group
            node, box = placed
            drawers[box] = drawers.get(box, frozenset()) | {node}
            part = self.division.parts[node]
            left = [run for run in ((group, begin, part.begin), (group, part.end, end)) if run[1] < run[2]] + left
        return tuple(sorted((node, box) for box, nodes in drawers.items() for node in nodes))

    def laid_anew(self, chosen: Chosen) -> Chosen | int:
        """Some drawers of a division emptied, and all of a group that lay in one of them in parts, laid again."""
        drawers = held(chosen)
        number = self.random.randint(2, MOST_TAKEN_OUT)
        out = set(self.random.sample(sorted(drawers), min(number, len(drawers))))
        costly = sorted(box for box, nodes in drawers.items() if self._costs(nodes))
        if costly and self.random.random() < 0.7:
            out.add(self.random.choice(costly))
        parts = self.division.parts
        taken = {node for node, box in chosen if box in out}
        groups = {parts[node].group for node in taken}
        if self.random.random() < 0.5:
            taken |= {node for node, _ in chosen if parts[node].group in groups}
        rest = {box: nodes - taken for box, nodes in drawers.items() if nodes - taken}
        return self.laid(rest, _runs(sorted((parts[n].group, parts[n].begin, parts[n].end) for n in taken)), {})

    def exchanged(self, chosen: Chosen) -> Chosen:
        """A division in which two drawers exchange all they hold, or a part; the same one if they do not take it."""
        drawers = held(chosen)
        boxes = sorted(drawers) if self.division.problem.spare else range(len(self.division.problem.boxes))
        one, other = self.random.sample(boxes, 2) if len(boxes) > 1 else (0, 0)
        here, there = drawers.get(one, frozenset()), drawers.get(other, frozenset())
        given, taken = (here, there) if self.random.random() < WHOLE_DRAWERS else (self._some(here), self._some(there))
        moved = ((one, here - given | taken), (other, there - taken | given))
        if one == other or not all(self._goes_over(box, nodes) for box, nodes in moved):
            return chosen
        rest = [pair for pair in chosen if pair[1] not in (one, other)]
        return tuple(sorted([*rest, *((node, box) for box, nodes in moved for node in nodes)]))

    def _some(self, nodes: frozenset[int]) -> frozenset[int]:
        """One of the parts, or none."""
        return frozenset([self.random.choice(sorted(nodes))]) if nodes and self.random.random() < 0.7 else frozenset()

    def _goes_over(self, box: int, nodes: frozenset[int]) -> bool:
        return not nodes or (all(box in self.boxes[node] for node in nodes) and self._holds(box, nodes))

    def _costs(self, nodes: frozenset[int]) -> bool:
        """Whether a drawer holds a part of a divided group, or several families."""
        parts, units = self.division.parts, self.division.units
        divided = any(parts[node].end - parts[node].begin < units[parts[node].group] for node in nodes)
        return divided or len({self.division.problem.nodes[node].family for node in nodes}) > 1

    def _chance(self) -> float:
        return 1 + NOISE * self.random.random()

    def _hard(self, run: Stretch) -> float:
        """How much of a drawer the run takes, and how few drawers take it; one that must be cut comes first."""
        node = self.parts.get(run)
        boxes = self.boxes.get(node, ()) if node is not None else ()
        if node is None or not boxes:
            return 1 + FEW_DRAWERS
        return min(self._filled(box, {node}) for box in boxes) + FEW_DRAWERS / len(boxes)

    def _placed(self, drawers: Mapping[int, frozenset[int]], run: Stretch, by_height: float) -> tuple[int, int] | None:
        """The longest part of the run, from either end of it, that some drawer takes, in the drawer that suits best."""
        group, begin, end = run
        for length in range(end - begin, 0, -1):
            ends = {(begin, begin + length), (end - length, end)}
            tried = [
                (self._unsuited(drawers.get(box, frozenset()), node, box, by_height), node, box)
                for since, to in sorted(ends)
                if (node := self.parts.get((group, since, to))) is not None
                for box in self.boxes.get(node, ())
            ]
            for _, node, box in sorted(tried):
                if self._takes(drawers, box, node):
                    return node, box
        return None

    def _unsuited(self, inside: frozenset[int], node: int, box: int, by_height: float) -> float:
        """The room left, whether families mix, and how far this is from where the tier is sought."""
        nodes = self.division.problem.nodes
        off = abs(self.division.problem.boxes[box].floor - self.sought[nodes[node].tier]) / self.span
        mixed = bool(inside) and nodes[node].family not in {nodes[other].family for other in inside}
        room = 1 - self._filled(box, inside | {node})
        return (MIXED * mixed + by_height * off) * self._chance() + room * self._chance()

    def _filled(self, box: int, nodes: Iterable[int]) -> float:
        problem = self.division.problem
        area = problem.boxes[box].area
        return sum(problem.options[node, box].area for node in nodes) / area if area else 0.0

    def _takes(self, drawers: Mapping[int, frozenset[int]], box: int, node: int) -> bool:
        """Whether a drawer takes a part with what lies in it; of some drawers so many stay empty (R11)."""
        inside = drawers.get(box, frozenset[int]())
        return self._holds(box, inside | {node}) and all(
            inside or box not in spare or sum(other in drawers for other in spare) < len(spare) - number
            for number, spare in self.division.problem.spare
        )

    def _holds(self, box: int, inside: frozenset[int]) -> bool:
        """Whether a drawer holds these parts, each of which it takes alone (R6 to R8, R11)."""
        problem = self.division.problem
        nodes = [problem.nodes[node] for node in inside]
        load = problem.boxes[box].load
        return len(inside) == 1 or (
            all(node.share and node.cased == nodes[0].cased for node in nodes)
            and (problem.mixing != 0 or len({node.family for node in nodes}) == 1)
            and (load is None or sum(node.mass for node in nodes) <= load)
            and not any({one, other} <= inside for one, other in problem.apart)
            and self._filled(box, inside) <= 1
            and self.search.asked(box, inside) == "yes"
        )


def _runs(parts: Iterable[Stretch]) -> list[Stretch]:
    """Neighboring parts as one run."""
    found: list[Stretch] = []
    for group, begin, end in parts:
        if found and found[-1][0] == group and found[-1][2] == begin:
            found[-1] = (group, found[-1][1], end)
        else:
            found.append((group, begin, end))
    return found
