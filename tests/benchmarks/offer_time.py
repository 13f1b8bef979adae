"""Time and memory of the offer's choice beside HiGHS on the same market.

Run as ``python -m tests.benchmarks.offer_time [sizes ...]``. Each market is generated from a fixed seed: sets of four
to twelve groups, pairs of a set and a cabinet with up to two plans, each group of a plan served by some of the sizes of
that group. Columns: new sizes that may be made, pairs, plans, time of one choice (CP-SAT, one thread) and of HiGHS
(one thread, gap 0) on the same mixed-integer program, their ratio, whether both gain the same, time of the whole
trade-off curve over the time of the one choice, and the most memory so far. All columns come from one run.
"""

from __future__ import annotations

import resource
import sys
from random import Random
from time import perf_counter

import highspy

from matcher.offer.curve import trade_off
from matcher.offer.model import Market, best

SIZES = (50, 100, 200)
CABINETS, WORK, SEED, SETUP, SECONDS = 12, 60, 1, 15_000, 300


def market_of(sizes: int) -> Market:
    """A market with about so many sizes; a set has four to twelve groups of two to four sizes each."""
    random = Random(sizes)
    brings: list[int] = []
    needs: list[tuple[frozenset[int], ...]] = []
    either: list[frozenset[int]] = []
    made = 0
    while made < sizes:
        groups = []
        for _ in range(random.randint(4, 12)):
            count = random.randint(2, 4)
            groups.append(range(made, made + count))
            made += count
        for _ in range(CABINETS):
            worth, first = random.randint(50_000, 2_000_000), len(brings)
            for _ in range(random.randint(1, 2)):
                brings.append(worth)
                needs.append(tuple(_serving(random, group) for group in groups))
            either.append(frozenset(range(first, len(brings))))
    return Market(tuple(brings), tuple(needs), made, SETUP, either=tuple(either))


def _serving(random: Random, group: range) -> frozenset[int]:
    return frozenset(random.sample(group, random.randint(1, len(group) - 1)))


def by_highs(market: Market, most: int) -> tuple[int, float]:
    """Gain and seconds of the same choice as a mixed-integer program."""
    solver = highspy.Highs()
    solver.silent()
    for option, value in (("threads", 1), ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.5), ("time_limit", float(SECONDS))):
        solver.setOptionValue(option, value)
    offered = [solver.addBinary() for _ in market.brings]
    made = [solver.addBinary() for _ in range(market.sizes)]
    for bundle, served in zip(offered, market.needs, strict=True):
        for need in served:
            solver.addConstr(sum(made[s] for s in sorted(need)) - bundle >= 0)
    for plans in market.either:
        solver.addConstr(sum(offered[b] for b in sorted(plans)) <= 1)
    solver.addConstr(sum(made) <= most)
    gain = sum(worth * bundle for worth, bundle in zip(market.brings, offered, strict=True)) - market.setup * sum(made)
    began = perf_counter()
    solver.maximize(gain)
    return round(solver.getObjectiveValue()), perf_counter() - began


def main() -> None:
    """One line a market."""
    print("| sizes | pairs | plans | choice s | HiGHS s | HiGHS / choice | same gain | curve / choice | memory MB |")
    print("| --- | --- | --- | --- | --- | --- | --- | --- | --- |")
    for sizes in [int(word) for word in sys.argv[1:]] or SIZES:
        market = market_of(sizes)
        most = market.sizes // 4
        began = perf_counter()
        found = best(market, most, None, WORK, SEED)
        took = perf_counter() - began
        gain, highs = by_highs(market, most)
        began = perf_counter()
        trade_off(market, most, None, WORK, SEED)
        curve = perf_counter() - began
        same = "yes" if found.gain == gain and found.proved else f"no ({found.gain} proved {found.proved}, {gain})"
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        figures = f"{took:.2f} | {highs:.2f} | {highs / took:.1f} | {same} | {curve / took:.1f} | {memory:.0f}"
        print(f"| {market.sizes} | {len(market.either)} | {len(market.brings)} | {figures} |", flush=True)


if __name__ == "__main__":
    main()
