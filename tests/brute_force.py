"""Small random assignment problems, and every plan of them with its own count of every goal."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import chain, combinations, permutations, product

from matcher.assignment.problem import Box, Node, Option, Problem, Side
from matcher.house.reading import default_house
from matcher.records.units import PER_KG, PER_MM
from matcher.records.words import Fill, GoalName

WORK = default_house().work
GOALS: tuple[GoalName, ...] = ("drawers", "order", "neighbors", "recut", "reach")


# ------------------------------------------------------------------------------------------------ small random cases


def small(seed: int, *, crowded: bool, fill: Fill = "spread") -> Problem:
    """Up to five groups, five drawers in up to two banks; widths in one dimension decide on sharing."""
    rng = random.Random(seed)
    count = rng.randint(2, 5)
    boxes = tuple(_box(rng, index, crowded) for index in range(rng.randint(2, 3 if crowded else 6)))
    widths = [rng.randint(2, 6) for _ in range(count)]
    families = rng.choice((("a",), ("a", "b"), ("a", "b", "c")))
    nodes = tuple(
        sorted(
            (
                Node(
                    name=f"g{index}",
                    tier=rng.randint(1, 3),
                    family=rng.choice(families),
                    mass=rng.randint(1, 5) * PER_KG,
                    share=rng.random() < 0.85,
                    cased=False,
                )
                for index in range(count)
            ),
            key=lambda node: (node.tier, node.family, node.name),
        )
    )

    def together(box: int, groups: frozenset[int]) -> Side:
        return "yes" if sum(widths[group] for group in groups) <= 6 + 3 * boxes[box].kind else "no"

    options = {
        (group, box): Option(
            rng.randint(0, 3), rng.randint(0, 40) * PER_MM, rng.randint(0, 4) * rng.choice((0, 200, 600))
        )
        for group in range(count)
        for box in range(len(boxes))
        if rng.random() < 0.85
    }
    pairs = list(combinations(range(count), 2))
    wishes = ("near", "beside", "below", "left_of")
    return Problem(
        nodes=nodes,
        boxes=boxes,
        options=options,
        together=together,
        relations=tuple(
            (*rng.choice((pair, pair[::-1])), rng.choice(wishes), rng.randint(1, 3))
            for pair in rng.choices(pairs, k=rng.randint(0, 4))
        ),
        apart=tuple(pair for pair in pairs if rng.random() < 0.1),
        kept_free=frozenset(box for box in range(len(boxes)) if rng.random() < 0.08),
        swap=rng.choice(((), ((1, 2),), ((2, 3),), ((1, 2), (2, 3)))),
        level=15 * PER_MM,
        fill=fill,
        goals=GOALS,
        work=WORK,
        seed=1,
    )


def wished(problem: Problem, seed: int) -> Problem:
    """The problem with a plan to keep, in part out of date, and drawers of which some must stay free."""
    rng = random.Random(seed)
    boxes = range(len(problem.boxes))
    kept = {group: rng.choice((-1, *boxes)) for group in range(len(problem.nodes)) if rng.random() < 0.85}
    large = frozenset(box for box in boxes if rng.random() < 0.7)
    spare = ((rng.randint(0, 2), large), (rng.randint(0, 1), frozenset(boxes)))
    return replace(problem, kept=kept, spare=spare, goals=("drawers", "moves", *GOALS[1:]))


def _box(rng: random.Random, index: int, crowded: bool) -> Box:
    bank = 1 + index % 2
    kind = rng.randint(0, 1 + crowded)
    return Box(
        name=f"{bank}.{index}",
        bank=bank,
        last_bank=bank + (rng.random() < 0.15),
        row=1 + index // 2,
        floor=(1000 - 90 * (index // 2) - rng.choice((0, 10, 40))) * PER_MM,
        load=(4 * PER_KG, None, 7 * PER_KG)[kind],
        kind=kind,
    )


# ------------------------------------------------------------------------------------------------------- brute force


def plans(problem: Problem) -> Iterator[tuple[int, ...]]:
    """All plans that keep the hard rules."""
    boxes = [[b for b in range(len(problem.boxes)) if (g, b) in problem.options] for g in range(len(problem.nodes))]
    return (places for places in product(*boxes) if allowed(problem, places))


def allowed(problem: Problem, places: tuple[int, ...]) -> bool:
    for box in set(places):
        groups = [g for g, place in enumerate(places) if place == box]
        nodes = [problem.nodes[g] for g in groups]
        load = problem.boxes[box].load
        if box in problem.kept_free or (load is not None and sum(node.mass for node in nodes) > load):
            return False
        if len(groups) > 1 and not (
            all(node.share for node in nodes)
            and len({node.family for node in nodes}) == 1
            and not any({i, j} <= set(groups) for i, j in problem.apart)
            and problem.together(box, frozenset(groups)) == "yes"
        ):
            return False
    return all(sum(box not in places for box in boxes) >= number for number, boxes in problem.spare)


def values(problem: Problem, places: tuple[int, ...]) -> dict[str, int]:
    used = len(set(places))
    return {
        "moves": sum(places[group] != box for group, box in problem.kept.items()),
        "drawers": used if problem.fill == "pack" else len(problem.boxes) - used,
        "order": min(_breaks(problem, places, swaps) for swaps in _subsets(problem.swap)),
        "neighbors": sum(w * _wish(problem, places, i, j, wish) for i, j, wish, w in problem.relations),
        "recut": sum(problem.options[pair].how_cost * 10**9 + problem.options[pair].gap for pair in enumerate(places)),
        "reach": sum(problem.options[pair].reach for pair in enumerate(places)),
    }


def _subsets(things: tuple) -> Iterator[tuple]:
    return chain.from_iterable(combinations(things, k) for k in range(len(things) + 1))


def _breaks(problem: Problem, places: tuple[int, ...], swaps: tuple[tuple[int, int], ...]) -> int:
    tiers = []
    for node in problem.nodes:
        tier = node.tier
        for first, second in swaps:
            tier = second if tier == first else first if tier == second else tier
        tiers.append(tier)
    floor = [problem.boxes[place].floor for place in places]
    pairs = permutations(range(len(places)), 2)
    return sum(tiers[i] < tiers[j] and floor[i] < floor[j] - problem.level for i, j in pairs)


def _wish(problem: Problem, places: tuple[int, ...], i: int, j: int, wish: str) -> int:
    one, two = problem.boxes[places[i]], problem.boxes[places[j]]
    rows = abs(one.row - two.row)
    banks = min(abs(a - b) for a in range(one.bank, one.last_bank + 1) for b in range(two.bank, two.last_bank + 1))
    if wish == "near":
        return rows + banks
    if wish == "beside":
        return rows + (banks - 1 if banks else 0)
    if wish == "below":
        return banks + abs(one.row - (two.row + 1))
    return int(places[i] != places[j] and one.last_bank >= two.bank)


def best(problem: Problem) -> tuple[tuple[int, ...], ...]:
    """All plans, the best first: goals in their order, then the list of drawers."""
    return tuple(
        sorted(plans(problem), key=lambda places: ([values(problem, places)[goal] for goal in problem.goals], places))
    )


def different(problem: Problem) -> tuple[tuple[int, ...], ...]:
    """All plans, the best first, without those that are an earlier one but for an exchange of equal drawers."""
    found: dict[frozenset, tuple[int, ...]] = {}
    for places in best(problem):
        found.setdefault(_what_lies_where(problem, places), places)
    return tuple(found.values())


def _what_lies_where(problem: Problem, places: tuple[int, ...]) -> frozenset:
    """How many drawers of each sort hold which groups; a sort is one of size, load and height of the floor."""
    held = Counter(
        (problem.boxes[box].kind, problem.boxes[box].floor, tuple(g for g, place in enumerate(places) if place == box))
        for box in set(places)
    )
    return frozenset(held.items())
