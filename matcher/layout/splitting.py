"""Splits a group that is too large for any drawer into parts, over the fewest organizers."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from itertools import accumulate, groupby, pairwise
from typing import TypeAlias

from matcher.house import SideRules
from matcher.layout.tree import reading_order, series_of
from matcher.records import Group, use_of

GroupUnit: TypeAlias = tuple[tuple[int, int], ...]
"""What is never divided any further: indices of pieces, and of each how many tools."""


def parts(
    group: Group,
    goes_in: Callable[[Group], bool],
    sides: SideRules,
    most: int = 6,
) -> tuple[Group, ...] | None:
    """The fewest parts of a group, in reading order, such that each goes in; the group itself if it goes in as a whole.

    A part ends between two series if that takes no more parts, else between two sizes. Each part is as large as it can
    be. If ``goes_in`` is true of some of the pieces, it must be true of fewer of them, too.

    Returns
    -------
    tuple of Group or None
        Parts called ``NAME (1 of 2)``, ...; ``None`` if some size does not go in by itself, or if more than ``most``
        parts are needed.
    """
    if goes_in(group):
        return (group,)
    runs = series_of(group.pieces, sides)
    sizes = [list(size) for run in runs for _, size in groupby(run, lambda n: group.pieces[n].rank)]
    ends_of_series = _ends(runs)
    tidy = [end for end, rows in enumerate(accumulate(map(len, sizes)), 1) if rows in ends_of_series]
    spans = _Cuts(len(sizes), tidy, cache(lambda begin, end: goes_in(_part(group, sizes[begin:end])))).fewest()
    if spans is None or len(spans) > most:
        return None
    names = [f"{group.name} ({number} of {len(spans)})" for number in range(1, len(spans) + 1)]
    return tuple(
        replace(_part(group, sizes[begin:end]), name=name) for name, (begin, end) in zip(names, spans, strict=True)
    )


def units(group: Group, sides: SideRules, most: Callable[[Group], int]) -> tuple[tuple[GroupUnit, ...], ...]:
    """What a group may be divided into, in reading order: of each series at most so many runs, about equal in number.

    Each entry is a series as its units. A tool of a row with a count is like that of a row of its own.
    """
    return tuple(
        _runs([n for n in run for _ in range(group.pieces[n].piece.count)], most(_part(group, [run])))
        for run in series_of(group.pieces, sides)
    )


def _runs(tools: Sequence[int], most: int) -> tuple[GroupUnit, ...]:
    """Tools, given as the piece of each, in so many runs at most."""
    number = min(most, len(tools))
    ends = [len(tools) * n // number for n in range(number + 1)]
    return tuple(tuple(Counter(tools[begin:end]).items()) for begin, end in pairwise(ends))


def run_of(group: Group, run: Sequence[GroupUnit]) -> Group:
    """The part of a group that is a run of its units, still under the group's name; the group itself if that is all."""
    counts: dict[int, int] = {}
    for n, count in (row for unit in run for row in unit):
        counts[n] = counts.get(n, 0) + count
    if all(counts.get(n) == piece.piece.count for n, piece in enumerate(group.pieces)):
        return group
    dealt = tuple(
        piece if counts[n] == piece.piece.count else replace(piece, piece=replace(piece.piece, count=counts[n]))
        for n, piece in enumerate(group.pieces)
        if n in counts
    )
    return _part(replace(group, pieces=dealt), [range(len(dealt))])


def cuts_series(before: Group, after: Group, sides: SideRules) -> bool:
    """Whether a series goes on from a part of a group to the next one."""
    last = before.pieces[reading_order(before.pieces, sides)[-1]]
    first = after.pieces[reading_order(after.pieces, sides)[0]]
    return len(series_of((last, first), sides)) == 1


def singles(group: Group, sides: SideRules) -> tuple[Group, ...]:
    """Groups of one tool each, in reading order; of a piece with a count one tool stands for all."""
    return tuple(
        _part(replace(group, pieces=(replace(piece, piece=replace(piece.piece, count=1)),)), [[0]])
        for piece in (group.pieces[n] for n in reading_order(group.pieces, sides))
    )


class _Cuts:
    """Where to cut a sequence of ``count`` sizes into parts.

    A place is given as the number of sizes before it. ``tidy`` are the places where a series ends, the last of all
    included. ``fits`` says whether the sizes between two places go in as one part.
    """

    def __init__(self, count: int, tidy: Sequence[int], fits: Callable[[int, int], bool]) -> None:
        self.count = count
        self.tidy = tidy
        self.every = range(1, count + 1)
        self.fits = fits

    def fewest(self) -> list[tuple[int, int]] | None:
        """Beginning and end of each of the fewest parts; ``None`` if some size does not go in."""
        left = self._needed(0)
        if left is None:
            return None
        spans: list[tuple[int, int]] = []
        begin = 0
        while begin < self.count:
            left -= 1
            end = self._end(begin, left)
            spans.append((begin, end))
            begin = end
        return spans

    def _end(self, begin: int, left: int) -> int:
        """The end of a part from ``begin``: the furthest end of a series, if ``left`` parts are enough for the rest.

        Else it is the furthest end of a size.
        """
        tidy = self._furthest(begin, self.tidy)
        if tidy > begin:
            rest = self._needed(tidy)
            if rest is not None and rest <= left:
                return tidy
        return self._furthest(begin, self.every)

    def _needed(self, begin: int) -> int | None:
        """How many parts the sizes from ``begin`` on need at least; ``None`` if some size does not go in."""
        number = 0
        while begin < self.count:
            end = self._furthest(begin, self.every)
            if end == begin:
                return None
            begin, number = end, number + 1
        return number

    def _furthest(self, begin: int, ends: Sequence[int]) -> int:
        """The last of ``ends`` up to which a part from ``begin`` goes in, by bisection; ``begin`` if there is none."""
        low = bisect_right(ends, begin)
        high, start = len(ends), low
        while low < high:
            middle = (low + high) // 2
            if self.fits(begin, ends[middle]):
                low = middle + 1
            else:
                high = middle
        return ends[low - 1] if low > start else begin


def _ends(runs: Sequence[Sequence[int]]) -> set[int]:
    """How many pieces there are up to the end of each run."""
    return set(accumulate(map(len, runs)))


def _part(group: Group, sizes: Sequence[Sequence[int]]) -> Group:
    """The group with only some of its sizes, given as indices of pieces; masses and use are theirs."""
    pieces = tuple(group.pieces[n] for n in sorted(n for size in sizes for n in size))
    systems = {piece.piece.system for piece in pieces}
    return replace(
        group,
        system=systems.pop() if len(systems) == 1 else group.system,
        pieces=pieces,
        organizer=None,
        mass_low=sum(piece.mass_low * piece.piece.count for piece in pieces),
        mass_high=sum(piece.mass_high * piece.piece.count for piece in pieces),
        use=use_of(pieces),
        part_of=group.name,
    )
