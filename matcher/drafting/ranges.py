"""A range of sizes as the sizes that a usual series has in it; asks where no series, or more than one, can be meant."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from matcher.drafting.vocabulary import Vocabulary
from matcher.records import System
from matcher.tools import SizingError, parse_size


class OpenError(Exception):
    """What has to be asked about a line before it can be read."""


def expanded(low: str, high: str, system: System, kind: str, pieces: int | None, known: Vocabulary) -> tuple[str, ...]:
    """Sizes from ``low`` to ``high``, as many as ``pieces`` says.

    Raises
    ------
    OpenError
        No usual series has both ends and so many sizes between them, or several have.
    """
    told = f"{low} to {high}"
    if pieces is None:
        raise OpenError(f"which sizes are in {told}? no number of pieces is given")
    found = {sizes for sizes in _between(low, high, system, kind, known) if len(sizes) == pieces}
    if len(found) == 1:
        return found.pop()
    reason = "more than one usual series has" if found else "no usual series has"
    raise OpenError(f"which {pieces} sizes are in {told}? {reason} so many")


def _between(low: str, high: str, system: System, kind: str, known: Vocabulary) -> Iterator[tuple[str, ...]]:
    """The sizes between both ends in every series of the kind that has both and ascends."""
    try:
        first, last = (parse_size(end, system, kind) for end in (low, high))
    except SizingError as wrong:
        raise OpenError(f"which sizes are in {low} to {high}? expected {wrong}") from wrong
    for series in known.series:
        if kind in series.kinds and series.system in ("", system):
            ranks = [parse_size(size, series.system, kind).rank for size in series.sizes]
            ascending = all(one < next_one for one, next_one in pairwise(ranks))
            if ascending and {first.rank, last.rank} <= set(ranks) and first.rank < last.rank and first.tip == last.tip:
                yield series.sizes[ranks.index(first.rank) : ranks.index(last.rank) + 1]


def unusual(size: str, system: System, kind: str, known: Vocabulary) -> bool:
    """Whether no usual series of the kind, where it has any, has this size.

    Raises
    ------
    OpenError
        It is smaller or larger than all of them: it may mean something else.
    """
    usual = [
        parse_size(other, series.system, kind)
        for series in known.series
        if kind in series.kinds and (series.system in ("", system) or not system)
        for other in series.sizes
    ]
    read = parse_size(size, system, kind)
    widths = [other.flats for other in usual if other.flats]
    if read.flats and widths and not min(widths) <= read.flats <= max(widths):
        raise OpenError(f"what does {size} mean? that is no usual size of this kind")
    own = (read.flats, read.smaller, read.tip, read.number)
    return bool(usual) and own not in [(other.flats, other.smaller, other.tip, other.number) for other in usual]
