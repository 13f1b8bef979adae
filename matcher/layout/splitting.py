"""A group too large for any drawer, split over the fewest organizers."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from itertools import accumulate, groupby

from matcher.layout.tree import reading_order, series_of
from matcher.records import Group, use_of


def parts(
    group: Group,
    goes_in: Callable[[Group], bool],
    most: int = 6,
) -> tuple[Group, ...] | None:
    """The fewest parts of a group, in reading order, such that each goes in; the group itself if it does as a whole.

    Where the same number of parts allows it, a part ends between two series, else between two sizes. Each part takes
    as much as it can. `goes_in` must say yes to less where it says yes to more.

    Returns
    -------
    tuple of Group or None
        Parts called ``NAME (1 of 2)``, ...; ``None`` if some size goes in nowhere or ``most`` parts do not suffice.
    """
    if goes_in(group):
        return (group,)
    runs = series_of(group.pieces)
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


def singles(group: Group) -> tuple[Group, ...]:
    """Each of a group's pieces by itself, in reading order: equal ones are one piece with a count, never torn apart."""
    return tuple(_part(group, [[n]]) for n in reading_order(group.pieces))


class _Cuts:
    """Where to cut ``count`` sizes in a row; ``tidy`` are the ends of series, the last size's end among them."""

    def __init__(self, count: int, tidy: Sequence[int], fits: Callable[[int, int], bool]) -> None:
        self.count = count
        self.tidy = tidy
        self.every = range(1, count + 1)
        self.fits = fits

    def fewest(self) -> list[tuple[int, int]] | None:
        """Begin and end of each part."""
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
        """The furthest end of a series from where ``left`` parts suffice for the rest, else the furthest size."""
        tidy = self._furthest(begin, self.tidy)
        if tidy > begin:
            rest = self._needed(tidy)
            if rest is not None and rest <= left:
                return tidy
        return self._furthest(begin, self.every)

    def _needed(self, begin: int) -> int | None:
        """Fewest parts for the sizes from ``begin`` on: every part as long as it can be."""
        number = 0
        while begin < self.count:
            end = self._furthest(begin, self.every)
            if end == begin:
                return None
            begin, number = end, number + 1
        return number

    def _furthest(self, begin: int, ends: Sequence[int]) -> int:
        """The last of ``ends`` up to which a part from ``begin`` goes in, ``begin`` if none, by bisection."""
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
    return set(accumulate(map(len, runs)))


def _part(group: Group, sizes: Sequence[Sequence[int]]) -> Group:
    """The group with some of its sizes only, their masses and their use."""
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
