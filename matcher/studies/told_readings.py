"""What somebody in front of a cabinet counts and measures, typed in words: ``13 drawers``, ``B3 width 515``."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from matcher.records import PER_INCH, PER_MM, Cabinet, Drawer, UsageError
from matcher.studies.inside_sizes import DIMENSIONS, Dimension
from matcher.tools import SizingError, number, tidy

Countable: TypeAlias = Literal["drawers", "banks", "rows"]
COUNTABLE: tuple[Countable, ...] = ("drawers", "banks", "rows")
EXPECTED = (
    "expected a drawer, width, depth or height, and its inside size: 'B3 width 515' (in mm), 'B3 depth 16 3/8'; or "
    "what can be counted: '13 drawers', '2 banks', '6 rows'"
)
LONGEST = 10_000
"""Millimeters; no drawer is larger."""

_COUNT = re.compile(r"(?P<number>[1-9][0-9]{0,2})\s+(?P<what>drawer|bank|row)s?", re.IGNORECASE)
_SIZE = re.compile(
    r"(?:drawer\s+)?(?P<drawer>\S.*?)\s+(?:inside\s+|clear\s+)?(?P<side>width|depth|height)[:=]?\s+(?P<size>.+)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Counted:
    """How many drawers, banks or rows somebody counts."""

    what: Countable
    number: int


@dataclass(frozen=True, slots=True)
class Taped:
    """What a tape says of one size of one drawer, whichever cabinet it is."""

    drawer: str
    dimension: Dimension
    value: int


ToldReading: TypeAlias = Counted | Taped


def told_reading(text: str) -> ToldReading:
    """A reading in words; a size without a unit is in millimeters unless it is a fraction of an inch.

    Raises
    ------
    UsageError
        It is neither a count nor a size of a drawer.
    """
    said = tidy(text)
    if count := _COUNT.fullmatch(said):
        what = next(word for word in COUNTABLE if word.startswith(count["what"].lower()))
        return Counted(what, int(count["number"]))
    sized = _SIZE.fullmatch(said)
    if not sized:
        raise UsageError(f"reading {text!r}: {EXPECTED}")
    try:
        value, unit = number(sized["size"], "reading", EXPECTED)
    except SizingError as wrong:
        raise UsageError(f"reading {text!r}, size {sized['size']!r}: {wrong.expected}") from wrong
    length = round(value * (PER_INCH if unit == "inch" else PER_MM))
    if not 0 < length <= LONGEST * PER_MM:
        raise UsageError(f"reading {text!r}, size {sized['size']!r}: expected more than 0 and at most {LONGEST} mm")
    side = sized["side"].lower()
    return Taped(sized["drawer"], next(one for one in DIMENSIONS if one.endswith(side)), length)


def own_drawers(cabinet: Cabinet) -> dict[str, Drawer]:
    """The cabinet's own drawers by name, without those of what it stands on."""
    return {box.name: box for box in cabinet.drawers if box.cabinet == cabinet.name}


def count_of(cabinet: Cabinet, what: Countable) -> int:
    """How many drawers or banks a cabinet has, or rows in the bank with the most; without what it stands on.

    A drawer across several banks counts as one drawer, and in each of them as a row.
    """
    boxes = own_drawers(cabinet).values()
    if what == "drawers":
        return len(boxes)
    banks = [bank for box in boxes for bank in range(box.bank, box.last_bank + 1)]
    return len(set(banks)) if what == "banks" else _most(banks)


def _most(banks: Iterable[int]) -> int:
    """How often the bank stands in the list that stands in it most often."""
    every = list(banks)
    return max((every.count(bank) for bank in set(every)), default=0)
