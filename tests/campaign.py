"""A campaign: the program against what knows better, on cases nobody has seen; ``python -m tests.campaign --help``.

Every comparison is made of one number, drawn from the campaign's seed, so no two campaigns of different seeds are alike
and each difference is shown again by its comparison and number alone. What fails becomes a test of its own.
"""

from __future__ import annotations

import argparse
import re
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from random import Random

from matcher.assignment.stages import assign
from matcher.offer.model import CostStep, Market, best
from matcher.planning.answering import plan
from matcher.planning.grouping import sets_of
from matcher.planning.outcome import Fits
from matcher.report.document import plan_document
from matcher.report.drawing import drawing_of
from matcher.screening.sweep import screen
from matcher.verification.checker import verify
from tests import test_assignment, test_cut_geometry, test_cutting, test_offer_model, test_screening
from tests.benchmarks.assignment_cases import case
from tests.brute_force import small
from tests.builders import HOUSE
from tests.generated import catalogue
from tests.highs import Program
from tests.laws import decided, helped
from tests.screening_cases import generated

Comparison = Callable[[int], int]
"""Makes a case of a number and compares; how many comparisons that were. Raises where two things differ."""


def laws(number: int) -> int:
    """What can only help never turns `fits` into anything else, nor raises a proved `together`."""
    known = catalogue(number, sets=1, cabinets=1, pieces=(10, 60))
    before = decided(known)
    if before.verdict != "fits":
        return 0
    changes = list(helped(known, number))
    for change, other in changes:
        after = decided(other)
        assert after.verdict == "fits", change
        assert after.together.value <= before.together.value or not before.together.proved, change
    return len(changes)


def brute_force(number: int) -> int:
    """Every goal, the plan and both ends of the free drawers, by looking at all plans of a small case."""
    rng = Random(number)
    test_assignment.check(small(number, crowded=rng.random() < 0.5, fill=rng.choice(("spread", "pack"))))
    return 1


def other_solver(number: int) -> int:
    """Every goal of a middle case, written down anew for HiGHS."""
    problem = case(8, 12, number)
    program = Program(problem, seconds=30)
    stages = [program.order(), program.neighbors(), *program.recut(), program.reach()]
    found = assign(problem)
    if not all(stage.proved for stage in stages) or not all(goal.proved for goal in found.goals):
        return 0
    order, neighbors, work, gaps, reach = (stage.value for stage in stages)
    expected = [len(problem.boxes) - len(problem.nodes), order, neighbors, work * 10**9 + gaps * 320, reach]
    assert [goal.value for goal in found.goals] == expected
    return 1


def screening(number: int) -> int:
    """Screening says what planning says, and why."""
    known = generated(1, 2, seed=number, share=0.5, drawn=0.1)
    pairs = list(screen(known, HOUSE))
    for pair in pairs:
        test_screening.agrees(pair, known)
    return len(pairs)


def geometry(number: int) -> int:
    """Webs, fields and the tools in their pockets, by distances of shapely's."""
    seen = test_cut_geometry.look_at(range(number, number + 1), HOUSE, (5, 20), 2)
    if seen.layouts:
        test_cut_geometry.check(seen, relieved=False)
    return seen.layouts


def documents(number: int) -> int:
    """A plan is accepted by the checker, and its document and drawings tell the same groups, tools and foam."""
    known = catalogue(number, sets=1, cabinets=1, pieces=(5, 40))
    (name, *_), (cabinet, *_) = sets_of(known), known.cabinets
    outcome = plan(known, HOUSE, name, cabinet.name)
    if not isinstance(outcome, Fits):
        return 0
    assert verify(known, HOUSE, outcome.plan) == ()
    told = plan_document(outcome)
    assert {row["drawer"] for row in told["placements"]}.isdisjoint(told["free_drawers"])
    assert sum(row["pieces"] for row in told["placements"]) == sum(piece.count for piece in known.pieces)
    for placement, row in zip(outcome.plan.placements, told["placements"], strict=True):
        if placement.layout is None or not placement.layout.thickness:
            continue
        drawn = drawing_of(outcome, placement.group)
        assert len(re.findall(r'class="pocket"', drawn)) == row["pieces"], placement.group
        if foam := re.search(r'<rect class="foam"[^>]* width="([\d.]+)" height="([\d.]+)"', drawn):
            for shown, exact in zip(map(float, foam.groups()), (row["width_mm"], row["depth_mm"]), strict=True):
                assert abs(shown - exact) < 0.01, placement.group
    return len(told["placements"])


def offers(number: int) -> int:
    """The best choice of bundles and sizes of a small market, by looking at all choices."""
    rng = Random(number)
    sizes, bundles = rng.randint(1, 5), rng.randint(1, 5)

    def some(of: int, least: int, most: int) -> frozenset[int]:
        return frozenset(rng.sample(range(of), min(of, rng.randint(least, most))))

    def several(of: int, least: int, most: int, count: int) -> tuple[frozenset[int], ...]:
        return tuple(some(of, least, most) for _ in range(rng.randint(0, count)))

    market = Market(
        brings=tuple(rng.randint(-50, 400) for _ in range(bundles)),
        needs=tuple(several(sizes, 0, 3, 3) for _ in range(bundles)),
        sizes=sizes,
        setup=rng.randint(0, 120),
        barred=some(bundles, 0, 1),
        promises=several(bundles, 1, 2, 2),
        either=several(bundles, 1, 3, 2),
        steps=tuple(
            CostStep(rng.randrange(bundles), some(sizes, 0, 3), rng.randint(1, 60)) for _ in range(rng.randint(0, 4))
        ),
    )
    most_sizes, most_bundles = rng.randint(0, 5), rng.randint(0, 5)
    found = best(market, most_sizes, most_bundles, test_offer_model.WORK, test_offer_model.SEED)
    wanted = max(test_offer_model._choices(market, min(most_sizes, sizes), most_bundles))
    assert (found.kept, found.gain, -len(found.sizes)) == wanted
    assert found.proved
    return 1


def sheets(number: int) -> int:
    """Fewest sheets with straight cuts, by all ways to cut a small sheet."""
    rng = Random(number)
    sides = tuple((rng.randint(1, 8), rng.randint(1, 8)) for _ in range(rng.randint(1, 6)))
    found = test_cutting.straight_nest([(one,) for one in sides], 9, 8)
    assert found.proved
    assert found.value == test_cutting.brute_force(sides)
    return 1


COMPARISONS: Mapping[str, Comparison] = {
    "laws": laws,
    "brute force": brute_force,
    "other solver": other_solver,
    "screening": screening,
    "geometry": geometry,
    "documents": documents,
    "offers": offers,
    "sheets": sheets,
}


def differences(seconds: float, seed: int, counts: Counter[str]) -> Iterator[str]:
    """What differed within about so many seconds, each with what shows it again; counts are of comparisons made."""
    rng, end = Random(seed), time.monotonic() + seconds
    while time.monotonic() < end:
        for name, compare in COMPARISONS.items():
            number = rng.randrange(10**9)
            try:
                counts[name] += compare(number)
            except Exception as differs:
                told = " ".join(str(differs).split())[:300]
                yield f"--only '{name}' --number {number}: {type(differs).__name__}: {told}"
            if time.monotonic() >= end:
                return


def main() -> int:
    """Run a campaign, or one comparison again; 1 if anything differed."""
    asked = argparse.ArgumentParser(prog="python -m tests.campaign", description=__doc__.splitlines()[0])
    asked.add_argument("--seconds", type=float, default=60)
    asked.add_argument("--seed", type=int, default=int(time.time()), help="what cases are drawn from; else the clock")
    asked.add_argument("--only", choices=COMPARISONS, help="one comparison, of the case --number")
    asked.add_argument("--number", type=int)
    given = asked.parse_args()
    if given.only:
        print(COMPARISONS[given.only](given.number), "compared, no difference")
        return 0
    counts: Counter[str] = Counter()
    differ = 0
    for difference in differences(given.seconds, given.seed, counts):
        differ += 1
        print(difference, flush=True)
    print(f"seed {given.seed}:", ", ".join(f"{name} {counts[name]}" for name in COMPARISONS), f"; {differ} differ")
    return 1 if differ else 0


if __name__ == "__main__":
    sys.exit(main())
