"""Dividing alone, against what is known of bin packing with item fragmentation.

Groups are rows of equal cases, so that they may be cut anywhere; drawers are a whole number of cases wide; mixing costs
nothing and every cut one. Where items fill the bins exactly, the graph of bins and items that share something falls
into components, each of which has one cut fewer than bins in a solution of the fewest cuts: so there are bins less
components, at most bins less one. Sources, from memory: McNaughton, "Scheduling with deadlines and loss functions"
(Management Science 6, 1959: the wrap-around rule, at most bins less one); Mandal, Chakrabarti and Ghose, "Complexity
of fragmentable object bin packing and an application" (1998); Casazza and Ceselli, "Mathematical programming algorithms
for bin packing problems with item fragmentation" (Computers and Operations Research 46, 2014: components as above).
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import combinations
from random import Random

import pytest

from matcher.planning.deciding import decide_drawers
from matcher.planning.question import ask
from tests.builders import HOUSE, cabinet, catalogue, drawer, piece

CASE, SIDES = 100, 3.2
ONLY_CUTS = replace(HOUSE, together=replace(HOUSE.together, mix="free", part=1, cut=1))


def fewest_cuts(items: tuple[int, ...], bins: int, size: int) -> int:
    """The cuts that the program finds, which it has to prove."""
    pieces = [piece(f"case {n}", CASE, CASE, 50, count, "cased", group=f"group {n}") for n, count in enumerate(items)]
    boxes = [drawer(str(n), 1, n, size * CASE + SIDES, CASE + SIDES, slot="no foam") for n in range(1, bins + 1)]
    found = decide_drawers(ask(catalogue(pieces, (), [cabinet(*boxes)]), ONLY_CUTS, "set", "cabinet"))
    assert found.verdict == "fits"
    assert found.together.proved
    return found.together.value


def bins_less_components(items: tuple[int, ...], size: int) -> int:
    """Of items that fill bins exactly: bins less the most subsets that each fill bins of their own."""

    @cache
    def most(left: tuple[int, ...]) -> int:
        if not left:
            return 0
        found = 0
        for count in range(len(left)):
            for others in combinations(range(1, len(left)), count):
                own = {0, *others}
                if sum(left[n] for n in own) % size == 0:
                    found = max(found, 1 + most(tuple(item for n, item in enumerate(left) if n not in own)))
        return found

    return sum(items) // size - most(items)


@pytest.mark.parametrize(
    ("items", "bins", "size", "cuts"),
    [
        ((4, 4, 4), 2, 6, 1),  # no 4s fill a 6: wrapped around once
        ((3, 3, 6), 2, 6, 0),  # 3 + 3 and 6
        ((7, 7, 6), 4, 5, 3),  # each larger than a bin, no two of them fill bins: bins less one
        ((5, 5, 5, 5), 4, 5, 0),
        ((8, 2, 5, 5), 4, 5, 1),  # 8 + 2 fill two bins with one cut, 5 and 5 one each with none
        ((9, 6), 3, 5, 2),
    ],
)
def test_worked_examples(items: tuple[int, ...], bins: int, size: int, cuts: int) -> None:
    assert bins_less_components(items, size) == cuts
    assert fewest_cuts(items, bins, size) == cuts


@pytest.mark.parametrize("seed", range(12))
def test_full_bins_ask_for_bins_less_components(seed: int) -> None:
    random = Random(seed)
    size, bins = random.randint(3, 6), random.randint(2, 4)
    ends = sorted(random.sample(range(1, size * bins), random.randint(1, 4)))
    items = tuple(to - since for since, to in zip([0, *ends], [*ends, size * bins], strict=True))
    assert fewest_cuts(items, bins, size) == bins_less_components(items, size) < bins
