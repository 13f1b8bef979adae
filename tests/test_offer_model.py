"""The plain market: equal to brute force, to a second solver, and to published covering problems."""

from itertools import combinations, product
from random import Random

import highspy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.offer.curve import next_step, trade_off
from matcher.offer.medians import medians
from matcher.offer.model import CostStep, Market, best, fewest
from matcher.offer.serving import steps_of

WORK, SEED = 20, 1


@st.composite
def markets(draw):
    sizes = draw(st.integers(1, 5))
    bundles = draw(st.integers(1, 5))
    serving = st.frozensets(st.integers(0, sizes - 1), max_size=3)
    return Market(
        brings=tuple(draw(st.lists(st.integers(-50, 400), min_size=bundles, max_size=bundles))),
        needs=tuple(tuple(draw(st.lists(serving, max_size=3))) for _ in range(bundles)),
        sizes=sizes,
        setup=draw(st.integers(0, 120)),
        barred=draw(st.frozensets(st.integers(0, bundles - 1), max_size=1)),
        promises=tuple(draw(st.lists(st.frozensets(st.integers(0, bundles - 1), min_size=1, max_size=2), max_size=2))),
        either=tuple(draw(st.lists(st.frozensets(st.integers(0, bundles - 1), min_size=1, max_size=3), max_size=2))),
        steps=tuple(
            CostStep(draw(st.integers(0, bundles - 1)), draw(serving), draw(st.integers(1, 60)))
            for _ in range(draw(st.integers(0, 4)))
        ),
    )


def _paid(market, chosen, made):
    """Steps of the chosen bundles that no size made saves."""
    return sum(one.cost for one in market.steps if one.bundle in chosen and not one.saved_by & set(made))


def _choices(market, most_sizes, most_bundles):
    """(promises kept, gain, minus sizes) of everything that may be chosen."""
    every = range(len(market.brings))
    for made in (set(some) for n in range(most_sizes + 1) for some in combinations(range(market.sizes), n)):
        able = [b for b in every if b not in market.barred and all(need & made for need in market.needs[b])]
        for count in range(min(len(able), most_bundles) + 1):
            for chosen in combinations(able, count):
                if any(len(plans & set(chosen)) > 1 for plans in market.either):
                    continue
                kept = sum(bool(promise & set(chosen)) for promise in market.promises)
                gain = sum(market.brings[b] for b in chosen) - market.setup * len(made) - _paid(market, chosen, made)
                yield kept, gain, -len(made)


@settings(max_examples=60, deadline=None)
@given(markets(), st.integers(0, 5), st.integers(0, 5))
def test_the_best_choice_is_that_of_brute_force(market, most_sizes, most_bundles):
    found = best(market, most_sizes, most_bundles, WORK, SEED)
    wanted = max(_choices(market, min(most_sizes, market.sizes), most_bundles))
    assert (found.kept, found.gain, -len(found.sizes)) == wanted
    assert found.proved
    assert found.bound == found.gain


@settings(max_examples=40, deadline=None)
@given(markets(), st.integers(-50, 300))
def test_the_fewest_sizes_for_a_gain_are_those_of_brute_force(market, gain):
    found = fewest(market, 0, gain, None, WORK, SEED)
    counts = [-minus for _, reached, minus in _choices(market, market.sizes, 99) if reached >= gain]
    assert found.proved
    assert (len(found.choice.sizes) if found.choice else None) == min(counts, default=None)


@settings(max_examples=25, deadline=None)
@given(markets())
def test_every_point_of_the_curve_is_the_best_of_its_limit_and_no_worse_than_the_last(market):
    points = trade_off(market, market.sizes + 1, None, WORK, SEED)
    reached = [(point.choice.kept, point.choice.gain) for point in points]
    assert [point.limit for point in points] == list(range(market.sizes + 2))
    assert reached == sorted(reached)
    assert reached == [max(_choices(market, min(limit, market.sizes), 99))[:2] for limit in range(market.sizes + 2)]
    assert all(point.choice.proved and len(point.choice.sizes) <= point.limit for point in points)


@settings(max_examples=40, deadline=None)
@given(markets(), st.integers(0, 3))
def test_the_next_step_is_where_the_curve_rises_next(market, limit):
    # Most promises first, then gain: the first point of the curve beyond the one at hand, by brute force.
    at = best(market, min(limit, market.sizes), None, WORK, SEED)
    step = next_step(market, at, None, WORK, SEED)
    better = [one for one in _choices(market, market.sizes, 99) if one[:2] > (at.kept, at.gain)]
    assert step.proved
    if not better:
        assert step.choice is None
        return
    count = min(-minus for _, _, minus in better)
    wanted = max(one for one in better if -one[2] <= count)
    assert (step.choice.kept, step.choice.gain) == wanted[:2]
    assert (step.more_kept, step.more_gain) == (wanted[0] - at.kept, wanted[1] - at.gain)
    assert step.more_sizes == len(step.choice.sizes) - len(at.sizes)


def _by_highs(market, most_sizes):
    """The gain of the same market as a mixed-integer program, by HiGHS; musts as hard rows."""
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    offered = [solver.addBinary() for _ in market.brings]
    made = [solver.addBinary() for _ in range(market.sizes)]
    for b, needs in enumerate(market.needs):
        for need in needs:
            solver.addConstr(sum(made[s] for s in need) - offered[b] >= 0)
    for b in market.barred:
        solver.addConstr(offered[b] <= 0)
    for promise in market.promises:
        solver.addConstr(sum(offered[b] for b in promise) >= 1)
    for plans in market.either:
        solver.addConstr(sum(offered[b] for b in plans) <= 1)
    solver.addConstr(sum(made) <= most_sizes)
    brings = sum(value * variable for value, variable in zip(market.brings, offered, strict=True))
    solver.maximize(brings - market.setup * sum(made))
    return round(solver.getObjectiveValue())


@pytest.mark.parametrize("seed", range(3))
def test_larger_markets_reach_the_value_of_a_second_solver(seed):
    # HiGHS (highspy) solves the same market, written down again as a mixed-integer program.
    random = Random(seed)
    sizes, bundles = 60, 50
    needs = tuple(
        tuple(frozenset(random.sample(range(sizes), random.randint(1, 3))) for _ in range(random.randint(2, 6)))
        for _ in range(bundles)
    )
    brings = tuple(random.randint(5_000, 90_000) for _ in range(bundles))
    market = Market(brings, needs, sizes, 15_000, frozenset({3}), (frozenset({0}), frozenset({1, 2})))
    found = best(market, 20, None, WORK, SEED)
    assert found.proved
    assert found.kept == 2
    assert found.gain == _by_highs(market, 20)


@pytest.mark.parametrize("seed", range(3))
def test_facility_location_reaches_the_value_of_a_second_solver(seed):
    # Uncapacitated facility location with equal opening costs: a customer is a pair, serving it from a facility is one
    # of its plans, which needs the one size that is the facility. HiGHS solves the same.
    random = Random(seed)
    facilities, customers = [[(random.random(), random.random()) for _ in range(count)] for count in (15, 25)]
    worth = [
        round(1000 * (1.5 - ((cx - fx) ** 2 + (cy - fy) ** 2) ** 0.5)) for cx, cy in customers for fx, fy in facilities
    ]
    rows = len(facilities)
    market = Market(
        brings=tuple(worth),
        needs=tuple((frozenset({f}),) for _ in customers for f in range(rows)),
        sizes=rows,
        setup=900,
        either=tuple(frozenset(range(c * rows, (c + 1) * rows)) for c in range(len(customers))),
    )
    for most in (1, 3, rows):
        found = best(market, most, None, WORK, SEED)
        assert found.proved
        assert found.gain == _by_highs(market, most)


def _dearly(random, sizes, bundles):
    """What it costs to serve each place: bundle, existing size or ``None``, and new sizes. No order, no steps."""
    places = []
    for b in range(bundles):
        for _ in range(random.randint(2, 5)):
            ready = random.choice([None, None, random.randint(0, 9_000)])
            new = {s: random.choice([0, 0, random.randint(1, 9_000)]) for s in random.sample(range(sizes), 4)}
            places.append((b, ready, new if ready is None else {s: cost for s, cost in new.items() if cost < ready}))
    return places


def _by_assignment(market, places, most_sizes):
    """The gain by HiGHS where every place is assigned to one size that is made, or to the existing one."""
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    offered = [solver.addBinary() for _ in market.brings]
    made = [solver.addBinary() for _ in range(market.sizes)]
    gain = sum(value * variable for value, variable in zip(market.brings, offered, strict=True))
    gain -= market.setup * sum(made)
    for b, ready, new in places:
        served = {s: solver.addBinary() for s in new}
        for s, variable in served.items():
            solver.addConstr(variable - made[s] <= 0)
            gain -= new[s] * variable
        ways = list(served.values())
        if ready is not None:
            ways.append(solver.addBinary())
            gain -= ready * ways[-1]
        solver.addConstr(sum(ways) - offered[b] == 0)
    solver.addConstr(sum(made) <= most_sizes)
    solver.maximize(gain)
    return round(solver.getObjectiveValue())


@pytest.mark.parametrize("seed", range(4))
def test_work_on_foam_is_weighed_as_a_second_solver_assigns_it(seed):
    # The radius formulation of the model against the plain assignment of places to sizes, by HiGHS.
    random = Random(seed)
    sizes, bundles = 20, 14
    places = _dearly(random, sizes, bundles)
    needs = tuple(
        tuple(frozenset(new) for b, ready, new in places if b == bundle and ready is None) for bundle in range(bundles)
    )
    steps = tuple(step for b, ready, new in places for step in steps_of(b, ready, new))
    brings = tuple(random.randint(5_000, 60_000) for _ in range(bundles))
    market = Market(brings, needs, sizes, 12_000, steps=steps)
    for most in (0, 4, sizes):
        found = best(market, most, None, WORK, SEED)
        assert found.proved
        assert found.gain == _by_assignment(market, places, most)


@given(st.none() | st.integers(0, 9), st.dictionaries(st.integers(0, 4), st.integers(0, 9), min_size=1), st.data())
def test_steps_add_up_to_the_cheapest_way_that_is_made(ready, new, data):
    made = data.draw(st.frozensets(st.sampled_from(sorted(new)), min_size=0 if ready is not None else 1))
    # As in an offer: a new size counts beside an existing one only where it costs less.
    new = new if ready is None else {s: cost for s, cost in new.items() if cost < ready}
    market = Market((0,), ((),), 5, 0, steps=tuple(steps_of(0, ready, new)))
    ways = [cost for s, cost in new.items() if s in made] + ([] if ready is None else [ready])
    assert market.work((0,), made) == min(ways)
    assert market.work((), made) == 0


def _lines_of(dimension):
    """Lines of the affine space over three elements: triples of points that sum to 0, all different."""
    points = list(product(range(3), repeat=dimension))
    place = {point: index for index, point in enumerate(points)}
    lines = set()
    for one, other in combinations(points, 2):
        third = tuple(-(a + b) % 3 for a, b in zip(one, other, strict=True))
        lines.add(frozenset({place[one], place[other], place[third]}))
    return len(points), sorted(lines, key=sorted)


@pytest.mark.parametrize(("dimension", "optimum"), [(2, 5), (3, 18)])
def test_covers_of_steiner_triple_systems(dimension, optimum):
    # Set covering problems A9 and A27: fewest points that meet every line, 5 and 18 (Fulkerson, Nemhauser and Trotter,
    # 1974, values from memory; they are 3^d less the largest cap sets of 4 and 9 points). One bundle that must stay
    # and needs an organizer per line, each served by the sizes of its three points, is that problem.
    points, lines = _lines_of(dimension)
    assert len(lines) == points * (points - 1) // 6
    market = Market((10_000,), (tuple(lines),), points, 100, promises=(frozenset({0}),))
    found = fewest(market, 1, None, None, WORK, SEED)
    assert (len(found.choice.sizes), found.proved) == (optimum, True)
    assert best(market, points, None, WORK, SEED).gain == 10_000 - 100 * optimum
    assert best(market, optimum - 1, None, WORK, SEED).kept == 0


def _cover(wanted, sizes):
    """The fewest of ``sizes`` (sets) that hold all that is wanted: one bundle that must stay, with a need for each."""
    needs = tuple(frozenset(s for s, one in enumerate(sizes) if element in one) for element in wanted)
    market = Market((1,), (needs,), len(sizes), 1, promises=(frozenset({0}),))
    found = fewest(market, 1, None, None, WORK, SEED)
    assert found.proved
    return len(found.choice.sizes)


@pytest.mark.parametrize(("points", "triples"), [(4, 3), (5, 4), (6, 6), (7, 7), (8, 11)])
def test_covering_every_pair_by_triples(points, triples):
    # Covering numbers C(v, 3, 2) = ceil(v/3 ceil((v-1)/2)), Fort and Hedlund, 1958 (from memory).
    assert triples == -(-points * (-(-(points - 1) // 2)) // 3)
    every = [set(combinations(triple, 2)) for triple in combinations(range(points), 3)]
    assert _cover(list(combinations(range(points), 2)), every) == triples


@pytest.mark.parametrize(("side", "queens"), [(4, 2), (5, 3), (6, 3), (7, 4), (8, 5)])
def test_the_fewest_queens_that_reach_every_square(side, queens):
    # OEIS A075458, queens dominating an n x n board (from memory): 1, 1, 1, 2, 3, 3, 4, 5, 5, 5.
    squares = list(product(range(side), repeat=2))
    reached = [{(x, y) for x, y in squares if x == a or y == b or abs(x - a) == abs(y - b)} for a, b in squares]
    assert _cover(squares, reached) == queens


def test_the_set_cover_example_of_the_encyclopedia():
    # Universe 1..5, sets {1,2,3} {2,4} {3,4} {4,5}: two sets cover it (Wikipedia, Set cover problem, from memory).
    sets = [{1, 2, 3}, {2, 4}, {3, 4}, {4, 5}]
    needs = tuple(frozenset(s for s, one in enumerate(sets) if element in one) for element in range(1, 6))
    found = fewest(Market((1,), (needs,), 4, 1, promises=(frozenset({0}),)), 1, None, None, WORK, SEED)
    assert found.choice.sizes == (0, 3)


@settings(max_examples=40, deadline=None)
@given(st.data(), st.integers(1, 3), st.integers(0, 1), st.integers(0, 12))
def test_medians_take_the_least_money_first_and_existing_rows_for_nothing(data, most, free, opening):
    rows, columns = 3 + free, range(data.draw(st.integers(1, 4)))
    cells = st.none() | st.integers(0, 9)
    money = [[data.draw(cells) for _ in columns] for _ in range(rows)]
    costs = [[None if money[r][c] is None else data.draw(st.integers(0, 30)) for c in columns] for r in range(rows)]
    every = []
    for by in product(range(rows), repeat=len(columns)):
        opened = {r for r in by if r >= free}
        if len(opened) <= most and all(money[r][c] is not None for c, r in enumerate(by)):
            paid = opening * len(opened) + sum(money[r][c] for c, r in enumerate(by))
            every.append((paid, len(opened), sum(costs[r][c] for c, r in enumerate(by))))
    if not every:
        with pytest.raises(ValueError, match=r"no .* serve"):
            medians(costs, most, WORK, SEED, money=money, opening=opening, free=free)
        return
    found = medians(costs, most, WORK, SEED, money=money, opening=opening, free=free)
    opened = {r for r in found.served_by if r >= free}
    paid = opening * len(opened) + sum(money[r][c] for c, r in enumerate(found.served_by))
    assert found.proved
    if any(any(row) for row in money):
        assert (paid, len(opened), found.cost) == min(every)
    else:
        assert (len(opened), found.cost) == min(one[1:] for one in every)


@settings(max_examples=40, deadline=None)
@given(
    st.integers(1, 5).flatmap(
        lambda columns: st.lists(
            st.lists(st.none() | st.integers(0, 30), min_size=columns, max_size=columns), min_size=1, max_size=5
        )
    ),
    st.integers(1, 5),
)
def test_medians_are_those_of_brute_force(costs, most):
    columns = range(len(costs[0]))
    every = [
        (count, sum(min(row[c] for row in some if row[c] is not None) for c in columns))
        for count in range(1, min(most, len(costs)) + 1)
        for some in combinations(costs, count)
        if all(any(row[c] is not None for row in some) for c in columns)
    ]
    if every:
        found = medians(costs, most, WORK, SEED)
        assert (len(found.rows), found.cost) == min(every)
        assert found.proved
    else:
        with pytest.raises(ValueError, match=r"no .* serve"):
            medians(costs, most, WORK, SEED)
