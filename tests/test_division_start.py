"""A division to start from: it keeps all rules and is never below the least that trying everything finds."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction

import pytest

from matcher.assignment.division_model import division_model
from matcher.assignment.division_records import cost_of, held
from matcher.assignment.division_search import DivisionSearch
from matcher.assignment.division_start import start
from matcher.fitting import admit
from matcher.planning.dividing import _candidates
from matcher.planning.question import ask
from tests.builders import HOUSE
from tests.test_together import known_of, least_together, rows_of

CASES = [(seed, rows_of(seed)) for seed in range(60)]
POSSIBLE = [(seed, case) for seed, case in CASES if least_together(*case)]
"""Those that go in, but not whole and unmixed."""


def started(groups, widths):
    question = ask(known_of(groups, widths), HOUSE, "set", "cabinet")
    candidates = _candidates(question, admit, None, Fraction(0))
    return candidates.division, start(DivisionSearch(division_model(candidates.division)), 10)


FOUND = [(seed, case, *found) for seed, case in POSSIBLE if (found := started(*case))[1]]


def test_it_finds_one_nearly_wherever_there_is_one():
    assert len(FOUND) >= 0.95 * len(POSSIBLE) > 10


@pytest.mark.parametrize(("seed", "case", "division", "chosen"), FOUND)
def test_what_it_starts_from_keeps_the_rules(seed, case, division, chosen):
    covered = defaultdict(list)
    for node, box in chosen:
        part = division.parts[node]
        covered[part.group] += range(part.begin, part.end)
        assert (node, box) in division.problem.options
    assert {group: sorted(units) for group, units in covered.items()} == {
        group: list(range(units)) for group, units in enumerate(division.units)
    }
    for nodes in held(chosen).values():
        assert len(nodes) == 1 or all(division.problem.nodes[node].share for node in nodes)


def test_it_is_never_below_the_least_and_mostly_the_least():
    least = [least_together(*case) for _, case, _, _ in FOUND]
    found = [cost_of(division, chosen) for _, _, division, chosen in FOUND]
    assert all(one >= other for one, other in zip(found, least, strict=True))
    assert sum(one == other for one, other in zip(found, least, strict=True)) >= 0.8 * len(least) > 0


def test_the_same_input_starts_from_the_same_division():
    case = POSSIBLE[0][1]
    assert started(*case)[1] == started(*case)[1]


def test_nothing_is_found_where_there_is_nothing():
    refused = next(case for _, case in CASES if least_together(*case) is None)
    assert started(*refused)[1] == ()
