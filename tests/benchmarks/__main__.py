"""One table of all that is measured, from one run on one machine.

Run as ``python -m tests.benchmarks [quick] [OUT.md]``; ``quick`` leaves out what takes longest. It tells whole commands
as multiples of importing the solver, pandas and shapely, in processor time over all processes, with nothing kept and
again with what the first run kept; then one or two figures of each other benchmark, whose own scripts say more.
Nothing else should run on the machine meanwhile.
"""

from __future__ import annotations

import os
import platform
import resource
import subprocess
import sys
from collections.abc import Iterator
from importlib.metadata import version
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from matcher.offer.model import best
from matcher.records.memory import forget
from tests.benchmarks import assignment_proof, curve_time, layout_foam, offer_time, screening_rate
from tests.benchmarks.assignment_cases import case

WORKSHOP = Path(__file__).parents[2] / "data" / "workshop"
IMPORTS = "import ortools.sat.python.cp_model, pandas, shapely"
COMMANDS = (
    "--help",
    "fit {} Alder-64 Glen-7",
    "fit {} Birch-134 Moor-13",
    "fit {} Maple-802 Dune-27",
    "plan {} Birch-134 Glen-7",
    "plan {} Linden-348 Heath-18",
    "compare {} Alder-64",
    "compare {} Birch-134",
)
LONG = (
    "fit {} Maple-802 Moor-13",
    "plan {} Maple-802 Heath-18",
    "compare {} Maple-802",
    "compare {} Maple-802 --why",
    "offer {}",
)
"""What is not looked at when it has to be quick: the largest set refused, divided over 18 drawers, in every cabinet."""
SEEDS, SECONDS, NEST = 5, 20.0, 10
"""Cases of each size of an assignment, and seconds that a rival and a free nest get."""

Row = tuple[str, str, str]
"""What is measured, the figure, and the script that says more."""


def processor_seconds(words: list[str], folder: str) -> float:
    """Processor time of a program and all that it starts, with ``folder`` as the place where it keeps things."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    env = {**os.environ, "XDG_CACHE_HOME": folder}
    subprocess.run([sys.executable, *words], env=env, capture_output=True, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def commands(quick: bool) -> Iterator[Row]:
    """Whole commands, cold and warm."""
    with TemporaryDirectory() as folder:
        unit = median(processor_seconds(["-c", IMPORTS], folder) for _ in range(3))
    yield "importing the solver, pandas and shapely", f"{unit:.2f} s = 1", ""
    for command in (*COMMANDS, *(() if quick else LONG)):
        words = ["-m", "matcher", *command.format(WORKSHOP).split()]
        with TemporaryDirectory() as folder:
            cold, warm = (processor_seconds(words, folder) / unit for _ in range(2))
        yield f"`matcher {command.format('data/workshop')}`", f"{cold:.1f} first, {warm:.1f} again", ""


def curves() -> Iterator[Row]:
    """Shape curves of large groups."""
    for name, group in curve_time.CASES.items():
        forget()
        first = curve_time.milliseconds(group)
        yield f"shape curve of {name}", f"{first:.0f} ms", "curve_time"


def proofs(quick: bool) -> Iterator[Row]:
    """Time to the proof of all goals, and the rivals' over it."""
    for groups, drawers in assignment_proof.FAMILIES[: 1 if quick else 2]:
        own, once, highs = [], [], []
        for seed in range(SEEDS):
            problem = case(groups, drawers, seed)
            own.append(assignment_proof.ours(problem)[0]["all"])
            once.append(assignment_proof.one_shot(problem, SECONDS)[0]["all"])
            highs.append(assignment_proof.highs(problem, SECONDS)[0]["all"])
        base = median(own)
        told = f"{base:.2f} s; one model {median(once) / base:.1f} x, HiGHS {median(highs) / base:.1f} x"
        yield f"proof of all goals, {groups} groups in {drawers} drawers", told, "assignment_proof"


def screening(quick: bool) -> Iterator[Row]:
    """Pairs a second against the plain loop, and how they grow."""
    plain = screening_rate.plain_loop()
    for size in screening_rate.SIZES[: 2 if quick else None]:
        row = screening_rate.screened_in(size, 2, plain)
        told = f"{row[1]} pairs in {row[3]} s: {row[4]} a second, {row[5]} x the plain loop; {row[7]} MB (this/worker)"
        yield f"screening {size} sets x {size} cabinets", told, "screening_rate"


def layouts(quick: bool) -> Iterator[Row]:
    """Ordered area over a free nest of the same pockets, and over the best rows of boxes."""
    found = list(layout_foam.rows(layout_foam.HOUSE, NEST, ["Birch-134"] if quick else []))
    nests, boxes = (sorted(row.alternating for row in found), [row.rectpack for row in found])
    tail = nests[int(0.9 * (len(nests) - 1))]
    told = f"median {median(nests):.2f}, nine in ten {tail:.2f}; over boxes {median(boxes):.2f}"
    yield f"ordered layouts of {len(found)} groups over free nests of {NEST} s", told, "layout_foam"


def offers(quick: bool) -> Iterator[Row]:
    """Time of the offer's choice beside HiGHS on the same program."""
    for sizes in offer_time.SIZES[: 1 if quick else 2]:
        market = offer_time.market_of(sizes)
        began = perf_counter()
        gain = best(market, market.sizes // 4, None, offer_time.WORK, offer_time.SEED).gain
        took = perf_counter() - began
        rival, seconds = offer_time.by_highs(market, market.sizes // 4)
        same = "same gain" if gain == rival else f"{gain} against {rival}"
        yield f"offer of {sizes} sizes", f"{took:.2f} s, HiGHS {seconds / took:.1f} x, {same}", "offer_time"


def main() -> None:
    """Print the table row by row, and write it where a file is named."""
    quick, files = "quick" in sys.argv[1:], [Path(word) for word in sys.argv[1:] if word != "quick"]
    libraries = ", ".join(f"{name} {version(name)}" for name in ("ortools", "shapely", "numpy", "pandas", "highspy"))
    machine = f"{os.cpu_count()} cores {platform.machine()}, Python {platform.python_version()}, {libraries}"
    lines = [f"Measured on {machine}.", "", "| what | figure | more in `tests.benchmarks` |", "| --- | --- | --- |"]
    print("\n".join(lines), flush=True)
    for section in (commands(quick), curves(), proofs(quick), screening(quick), layouts(quick), offers(quick)):
        for what, figure, script in section:
            lines.append(f"| {what} | {figure} | {script and f'`{script}`'} |")
            print(lines[-1], flush=True)
    for file in files:
        file.write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
