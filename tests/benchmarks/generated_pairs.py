"""Verdicts on generated pairs of a set and a cabinet: how many stay undecided, how long it takes, whether laws hold.

Run: ``python -m tests.benchmarks.generated_pairs [PAIRS [FIRST [laws]]]`` (default 100 from seed 0). One to three sets
of 60 to 330 pieces are planned together. With ``laws`` each pair that fits is asked again after changes that can only
help (`tests.laws`).
"""

from __future__ import annotations

import sys
from collections import Counter
from statistics import median, quantiles
from time import process_time

from rich.console import Console

from tests.generated import catalogue
from tests.laws import decided, helped


def main(pairs: int, first: int, laws: bool) -> None:
    """Print a line for each pair that is undecided or breaks a law, then the sums."""
    console, verdicts, seconds, broken, asked = Console(width=120), Counter[str](), [], 0, 0
    for seed in range(first, first + pairs):
        known = catalogue(seed, sets=1 + seed % 3, cabinets=1, pieces=(60, 330))
        start = process_time()
        found = decided(known)
        seconds.append(process_time() - start)
        verdicts[found.verdict] += 1
        if found.verdict == "undecided":
            console.print(f"seed {seed}: undecided in {seconds[-1]:.0f} s: {found.reasons[-1].text}")
        if not laws or found.verdict != "fits":
            continue
        for change, other in helped(known, seed):
            after, asked = decided(other), asked + 1
            if after.verdict != "fits" or (found.together.proved and after.together.value > found.together.value):
                broken += 1
                told = f"{found.together.value} to {after.verdict} {after.together.value}"
                console.print(f"seed {seed}: {change}: together {told}")
    console.print(f"{pairs} pairs: {', '.join(f'{count} {verdict}' for verdict, count in sorted(verdicts.items()))}")
    console.print(f"seconds of CPU: median {median(seconds):.1f}, nine in ten {quantiles(seconds, n=10)[-1]:.1f}")
    if laws:
        console.print(f"laws: {broken} of {asked} changes that can only help made it worse")


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:3]]
    main(*(numbers + [100, 0][len(numbers) :]), laws="laws" in sys.argv[3:])
