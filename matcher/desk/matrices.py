"""Every set in every cabinet at a glance: the matrix on the first page, which fills set by set, small sets first."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from itertools import product
from threading import Semaphore
from typing import Literal, TypeAlias

from matcher.house import House
from matcher.packing import AbandonedError, Stop, abandon, ending
from matcher.planning import sets_of
from matcher.records import Catalogue
from matcher.screening import Pair, screen

State: TypeAlias = Literal["filling", "filled", "ended", "failed"]
MOST = 2_000
"""Pairs that a person may still look at one by one; own choice."""


@dataclass(slots=True)
class Matrix:
    """Pairs by set and cabinet, as far as they were looked at, and what ends that."""

    pairs: dict[tuple[str, str], Pair] = field(default_factory=dict)
    state: State = "filling"
    stop: Stop = field(default_factory=Stop)


def small(catalogue: Catalogue) -> bool:
    """Whether a catalogue has so few pairs that a person may look at each."""
    return len(sets_of(catalogue)) * len(catalogue.cabinets) <= MOST


def filled(matrix: Matrix, catalogue: Catalogue, rules: House, turns: Semaphore) -> None:
    """Fill a matrix pair by pair: what is laid out for one is remembered for the next, and plans get their turn."""
    try:
        with ending(matrix.stop):
            for name, cabinet in product(_smallest_first(catalogue), catalogue.cabinets):
                abandon()
                with turns:
                    (pair,) = screen(catalogue, rules, [name], [cabinet.name])
                matrix.pairs[name, cabinet.name] = pair
        matrix.state = "filled"
    except AbandonedError:
        matrix.state = "ended"
    except Exception:
        matrix.state = "failed"
        raise


def _smallest_first(catalogue: Catalogue) -> list[str]:
    """The sets by the number of their rows: what is answered soonest comes first."""
    rows = Counter(row.set for row in catalogue.pieces) + Counter(row.set for row in catalogue.organizers)
    return sorted(sets_of(catalogue), key=lambda name: (rows[name], name))
