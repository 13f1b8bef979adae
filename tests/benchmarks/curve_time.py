"""Time that the shape curve of a large group takes the first time and from the cache.

Run as ``python -m tests.benchmarks.curve_time``: sockets of three drives and runs of wrenches, in milliseconds of
processor time: with nothing known, and again from memory.
"""

from __future__ import annotations

from time import process_time

from matcher.layout.curves import curve
from matcher.records.laid_out import Group
from matcher.records.memory import forget
from tests.pieces import HOUSE, group_of, socket, wrench

DRIVES = (("1/4", range(4, 15)), ("3/8", range(8, 20)), ("1/2", range(10, 28)))


def sockets(systems: tuple[str, ...]) -> Group:
    """Sockets and deep sockets of three drives: 82 of each system."""
    return group_of(
        *(
            socket(n, drive, system, kind, length=0.6 * n + (60 if kind == "deep socket" else 20))
            for drive, ranks in DRIVES
            for n in ranks
            for system in systems
            for kind in ("socket", "deep socket")
        )
    )


def wrenches(count: int) -> Group:
    """One run of ever larger wrenches from 6 mm on, a quarter of a millimeter apart: closer than any real one."""
    return group_of(*(wrench(6 + n / 4) for n in range(count)))


CASES = {
    "15 wrenches": wrenches(15),
    "120 wrenches": wrenches(120),
    "82 sockets": sockets(("metric",)),
    "164 sockets": sockets(("inch", "metric")),
}


def milliseconds(group: Group) -> float:
    """Processor time of one look at a group's curve."""
    start = process_time()
    curve(group, HOUSE)
    return 1e3 * (process_time() - start)


def main() -> None:
    """Print the table."""
    print(f"{'group':16}{'points':>8}{'first ms':>10}{'again ms':>10}")
    for name, group in CASES.items():
        forget()
        first, again = milliseconds(group), min(milliseconds(group) for _ in range(3))
        print(f"{name:16}{len(curve(group, HOUSE)):8}{first:10.0f}{again:10.3f}")


if __name__ == "__main__":
    main()
