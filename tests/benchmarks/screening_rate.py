"""Screening rate against the plain loop (model per pair), its growth with the catalogue, and memory.

Run: ``python -m tests.benchmarks.screening_rate [LARGEST]`` (default 1000 sets x 1000 cabinets). Generated catalogues,
see `tests.screening_cases`; fit tables and, with two workers, starting them are part of the time. The plain loop is
`deciding.verdict_of` for a sample of the pairs of a catalogue of its own.
"""

from __future__ import annotations

import resource
import sys
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

from rich.console import Console
from rich.table import Table

from matcher.planning.deciding import verdict_of
from matcher.planning.question import ask
from matcher.report.pair_files import COLUMNS, screened
from matcher.screening.crews import Crew
from matcher.screening.sweep import sweep
from tests.builders import HOUSE
from tests.screening_cases import generated

SIZES = (32, 100, 300, 1000)
"""Sets, and cabinets: from about a thousand pairs to a million."""
PLAIN = 100
"""Sets and cabinets of the catalogue that the plain loop is measured on."""
SAMPLE = 300
DECIDED_BY = list(COLUMNS).index("decided_by")


def main(largest: int) -> None:
    """Print one table."""
    table = Table("catalogue", "pairs", "workers", "s", "pairs/s", "x plain loop", "by model", "MB (this/worker)")
    plain = plain_loop()
    table.add_row(f"{PLAIN} x {PLAIN}", f"sample of {SAMPLE}", "plain loop", "", f"{plain:,.0f}", "1", "100 %", "")
    for size in (size for size in SIZES if size <= largest):
        for workers in (1, 2):
            table.add_row(*screened_in(size, workers, plain))
    Console(width=110).print(table)


def plain_loop() -> float:
    """Pairs a second of the model, pair by pair, everything it remembers included."""
    known = generated(PLAIN, PLAIN)
    names = sorted({row.set for row in known.organizers})
    pairs = [(names[n % len(names)], known.cabinets[7 * n % PLAIN].name) for n in range(SAMPLE)]
    start = perf_counter()
    for name, cabinet in pairs:
        verdict_of(ask(known, HOUSE, name, cabinet))
    return SAMPLE / (perf_counter() - start)


def screened_in(size: int, workers: int, plain: float) -> list[str]:
    asked = sweep(generated(size, size), HOUSE)
    deciders: Counter[str] = Counter()
    start = perf_counter()
    with TemporaryDirectory() as folder:
        for held in screened(asked, [Path(folder) / "pairs.csv"], Crew(workers)):
            deciders.update(row[DECIDED_BY] for row in held)
    took = perf_counter() - start
    rate = asked.pairs / took
    modelled = f"{100 * deciders['model'] / asked.pairs:.2f} %"
    memory = "/".join(
        f"{resource.getrusage(who).ru_maxrss // 1024}" for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    )
    told = [f"{size} x {size}", f"{asked.pairs:,}", str(workers), f"{took:.1f}", f"{rate:,.0f}", f"{rate / plain:,.0f}"]
    return [*told, modelled, memory]


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else SIZES[-1])
