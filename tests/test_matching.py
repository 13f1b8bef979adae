"""Matching and deficient sets against scipy, networkx and Hall's theorem."""

from __future__ import annotations

import networkx as nx
import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import maximum_bipartite_matching

from matcher.assignment.matching import deficient_set, matching


def random_drawers(rng: np.random.Generator) -> list[list[int]]:
    """Drawers of up to ten groups, sparse and dense, some groups with none."""
    groups, drawers = rng.integers(1, 11), rng.integers(1, 11)
    chances = rng.random((groups, drawers)) < rng.uniform(0.05, 0.6)
    return [np.flatnonzero(row).tolist() for row in chances]


def scipy_size(drawers_of: list[list[int]]) -> int:
    """Size of a maximum matching by Hopcroft and Karp as in scipy."""
    table = np.zeros((len(drawers_of), 12), dtype=int)
    for group, drawers in enumerate(drawers_of):
        table[group, drawers] = 1
    return int((maximum_bipartite_matching(csr_matrix(table), perm_type="column") >= 0).sum())


def test_matching_is_as_large_as_that_of_scipy_on_thousands_of_pairs() -> None:
    rng = np.random.default_rng(1)
    for _ in range(3000):
        drawers_of = random_drawers(rng)
        place = matching(drawers_of)
        held = [drawer for drawer in place if drawer is not None]
        assert len(held) == len(set(held)) == scipy_size(drawers_of)
        assert all(drawer is None or drawer in drawers_of[group] for group, drawer in enumerate(place))


def test_matching_is_as_large_as_that_of_networkx() -> None:
    rng = np.random.default_rng(2)
    for _ in range(300):
        drawers_of = random_drawers(rng)
        graph = nx.Graph([(("g", g), ("d", d)) for g, drawers in enumerate(drawers_of) for d in drawers])
        graph.add_nodes_from(("g", g) for g in range(len(drawers_of)))
        top = [("g", g) for g in range(len(drawers_of))]
        found = nx.bipartite.hopcroft_karp_matching(graph, top_nodes=top)
        assert len(found) // 2 == len(drawers_of) - matching(drawers_of).count(None)


def test_deficient_set_exists_exactly_where_the_matching_leaves_a_group_out() -> None:
    rng = np.random.default_rng(3)
    for _ in range(3000):
        drawers_of = random_drawers(rng)
        assert (deficient_set(drawers_of) is None) == (scipy_size(drawers_of) == len(drawers_of))


@settings(max_examples=300, deadline=None)
@given(st.lists(st.frozensets(st.integers(0, 6), max_size=4), min_size=1, max_size=8))
def test_deficient_set_is_one_drawer_short_and_every_part_of_it_can_be_matched(sets: list[frozenset[int]]) -> None:
    """Hall (1935): one drawer short. Inclusion-minimal: leave out any group and the rest has a drawer each."""
    drawers_of = [sorted(drawers) for drawers in sets]
    found = deficient_set(drawers_of)
    if found is None:
        assert None not in matching(drawers_of)
        return
    reached = {drawer for group in found.groups for drawer in drawers_of[group]}
    assert set(found.drawers) == reached
    assert len(found.drawers) == len(found.groups) - 1
    for left_out in found.groups:
        assert None not in matching([drawers_of[group] for group in found.groups if group != left_out])


def test_three_groups_two_high_drawers() -> None:
    """Worked example: A, B and C need a high drawer and there are two; D, which goes anywhere, is no part of it."""
    found = deficient_set([[0, 1], [0, 1], [0, 1], [0, 1, 2, 3]])
    assert found is not None
    assert found.groups == (0, 1, 2)
    assert found.drawers == (0, 1)


def test_a_group_without_any_drawer_is_a_deficient_set_by_itself() -> None:
    found = deficient_set([[0], [], [0, 1]])
    assert found is not None
    assert (found.groups, found.drawers) == ((1,), ())


def test_no_groups_and_no_drawers() -> None:
    assert matching([]) == ()
    assert deficient_set([]) is None
