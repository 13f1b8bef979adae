"""How cabinets that look alike are told apart: first by what can be counted, then by the fewest readings of a tape.

A reading may be off by the window: the tape's error and what drawers differ from the sizes their maker gives. Two
cabinets that differ by more than two windows in some size are surely told apart by it; whatever else differs in them
is named, so that none are called equal that are not.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

from matcher.house import House
from matcher.records import PER_MM, Cabinet, listed, remembered
from matcher.studies.inside_sizes import DIMENSIONS, Dimension, size_of
from matcher.studies.told_readings import COUNTABLE, Countable, Counted, count_of, own_drawers

EXACT = 10
"""Up to so many cabinets the tree has the least depth there is; above it each reading is the one that tells most."""


@dataclass(frozen=True, slots=True)
class Branch:
    """What is left where a reading is from ``start`` to below ``end``, or where ``number`` is counted.

    All of them ``None``: there is no such drawer.
    """

    start: int | None
    end: int | None
    tree: Tree
    number: int | None = None


@dataclass(frozen=True, slots=True)
class SizeDifference:
    """Drawers whose size is not the same in all of some cabinets, with the cabinets that have each size."""

    dimension: Dimension
    drawers: tuple[str, ...]
    sizes: tuple[tuple[int, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class Tree:
    """Cabinets still possible, and what tells them apart: a count, or a reading of a tape; without either none does.

    ``nearly`` are then the sizes that differ by too little to tell for sure, the greatest difference first, and
    ``differ`` what else is different in them: slots, blocks, load ratings.
    """

    cabinets: tuple[str, ...]
    drawer: str = ""
    dimension: Dimension | None = None
    branches: tuple[Branch, ...] = ()
    differ: tuple[str, ...] = ()
    counted: Countable | None = None
    nearly: tuple[SizeDifference, ...] = ()

    @property
    def depth(self) -> int:
        """The most readings of a tape that it takes."""
        return self._taped + max((branch.tree.depth for branch in self.branches), default=0)

    @property
    def readings(self) -> int:
        """Readings of a tape to all ends of the tree together."""
        return sum(branch.tree.readings + self._taped * branch.tree.ends for branch in self.branches)

    @property
    def ends(self) -> int:
        """How many ends the tree has."""
        return sum(branch.tree.ends for branch in self.branches) if self.branches else 1

    @property
    def _taped(self) -> int:
        return 1 if self.dimension else 0


ReadingRanges: TypeAlias = tuple[tuple[int | None, int | None, tuple[Cabinet, ...]], ...]
"""Start and end of the readings, and the cabinets that they leave."""


def window(house: House) -> int:
    """How far a reading may be from the size a maker gives."""
    return house.measure.tape + house.measure.off


def tell_apart(cabinets: Iterable[Cabinet], house: House) -> Tree:
    """What to count and the readings to take, one after another, to know which of the cabinets it is."""
    return _counting(tuple(sorted(cabinets, key=lambda cabinet: cabinet.name)), window(house))


def path_to(tree: Tree, cabinet: str) -> tuple[tuple[str, Dimension], ...]:
    """The readings (drawer, dimension) that lead to a cabinet's end of the tree, the first first."""
    for branch in tree.branches:
        if cabinet in branch.tree.cabinets:
            here = ((tree.drawer, tree.dimension),) if tree.dimension else ()
            return (*here, *path_to(branch.tree, cabinet))
    return ()


def counts_to(tree: Tree, cabinet: str) -> tuple[Counted, ...]:
    """What is counted on the way to a cabinet's end of the tree, with the numbers that it has."""
    for branch in tree.branches:
        if cabinet in branch.tree.cabinets:
            here = () if tree.counted is None or branch.number is None else (Counted(tree.counted, branch.number),)
            return (*here, *counts_to(branch.tree, cabinet))
    return ()


def _counting(cabinets: tuple[Cabinet, ...], off: int) -> Tree:
    """Counts first, each time what leaves the fewest at worst, then the tape."""
    counts = [(what, _by_count(cabinets, what)) for what in COUNTABLE]
    telling = [(what, parts) for what, parts in counts if len(parts) > 1]
    if not telling:
        return _tree(cabinets, off)
    what, parts = min(telling, key=lambda one: max(map(len, one[1].values())))
    branches = tuple(Branch(None, None, _counting(left, off), number) for number, left in sorted(parts.items()))
    return Tree(tuple(cabinet.name for cabinet in cabinets), branches=branches, counted=what)


def _by_count(cabinets: Sequence[Cabinet], what: Countable) -> dict[int, tuple[Cabinet, ...]]:
    found: dict[int, tuple[Cabinet, ...]] = {}
    for cabinet in cabinets:
        number = count_of(cabinet, what)
        found[number] = (*found.get(number, ()), cabinet)
    return found


@remembered(10_000)
def _tree(cabinets: tuple[Cabinet, ...], off: int) -> Tree:
    names = tuple(cabinet.name for cabinet in cabinets)
    questions = list(_questions(cabinets, off))
    if not questions:
        return Tree(names, differ=tuple(_differences(cabinets)), nearly=_nearly(cabinets))
    if len(cabinets) > EXACT:
        questions = [min(questions, key=lambda question: _largest(question[2]))]
    trees = [
        Tree(names, drawer, dimension, tuple(Branch(start, end, _tree(left, off)) for start, end, left in parts))
        for drawer, dimension, parts in questions
    ]
    return min(trees, key=lambda tree: (tree.depth, tree.readings))


def _largest(parts: ReadingRanges) -> tuple[int, int]:
    """The most cabinets a reading may leave, then the sum of those it leaves in all its cases."""
    counts = [len(left) for _, _, left in parts]
    return max(counts), sum(counts)


def _questions(cabinets: Sequence[Cabinet], off: int) -> Iterator[tuple[str, Dimension, ReadingRanges]]:
    """Readings that tell some of the cabinets apart, one for each way they do: the first drawer, width before depth."""
    asked = set()
    places = {box.name: (box.bank, box.row, box.name) for cabinet in cabinets for box in own_drawers(cabinet).values()}
    for dimension in DIMENSIONS:
        for drawer in sorted(places, key=lambda name: places[name]):
            parts = _parts(cabinets, drawer, dimension, off)
            left = tuple(part[2] for part in parts)
            if len(parts) > 1 and left not in asked:
                asked.add(left)
                yield drawer, dimension, parts


def _parts(cabinets: Sequence[Cabinet], drawer: str, dimension: Dimension, off: int) -> ReadingRanges:
    """What the readings of one size leave possible: overlapping runs of sizes that lie within two windows.

    Between the runs the limit is the middle of the last size before the later run and the first after the earlier
    one, which are more than two windows apart: so no reading within its window falls on the wrong side.
    """
    boxes = [(cabinet, own_drawers(cabinet).get(drawer)) for cabinet in cabinets]
    without = tuple(cabinet for cabinet, box in boxes if box is None)
    sizes = {cabinet: size_of(box, dimension) for cabinet, box in boxes if box is not None}
    values = sorted(set(sizes.values()))
    runs = _runs(values, 2 * off)
    limits = [_limit(values[begin - 1], values[end], off) for (_, end), (begin, _) in pairwise(runs)]
    parts: list[tuple[int | None, int | None, tuple[Cabinet, ...]]] = [
        (start, end, tuple(cabinet for cabinet in sizes if sizes[cabinet] in values[first:last]))
        for (first, last), start, end in zip(runs, [0, *limits], [*limits, None], strict=False)
    ]
    return (*parts, *([(None, None, without)] if without else []))


def _runs(values: Sequence[int], reach: int) -> list[tuple[int, int]]:
    """Longest runs of sorted values no further apart than ``reach``, as index ranges."""
    ends = [sum(other <= value + reach for other in values) for value in values]
    return [(i, end) for i, end in enumerate(ends) if i == 0 or end > ends[i - 1]]


def _limit(below: int, above: int, off: int) -> int:
    """A limit more than ``off`` above one size and at least ``off`` below another; in whole millimeters if one is."""
    middle = (below + above + 1) // 2
    whole = middle // PER_MM * PER_MM
    return whole if whole > below + off else middle


def _nearly(cabinets: Sequence[Cabinet]) -> tuple[SizeDifference, ...]:
    """Sizes that differ in cabinets which no tape surely tells apart; drawers that differ in the same way at once."""
    boxes = {cabinet.name: own_drawers(cabinet) for cabinet in cabinets}
    alike: dict[tuple[Dimension, tuple[tuple[int, tuple[str, ...]], ...]], list[str]] = defaultdict(list)
    for drawer in next(iter(boxes.values()), {}):
        for dimension in DIMENSIONS:
            sizes: dict[int, list[str]] = defaultdict(list)
            for name, own in boxes.items():
                sizes[size_of(own[drawer], dimension)].append(name)
            if len(sizes) > 1:
                alike[dimension, tuple((size, tuple(names)) for size, names in sorted(sizes.items()))].append(drawer)
    found = [SizeDifference(dimension, tuple(drawers), sizes) for (dimension, sizes), drawers in alike.items()]
    return tuple(sorted(found, key=lambda one: one.sizes[0][0] - one.sizes[-1][0]))


def _differences(cabinets: Sequence[Cabinet]) -> Iterator[str]:
    """What else differs in cabinets that no tape tells apart."""
    boxes = [own_drawers(cabinet) for cabinet in cabinets]
    for what, field in (("slot", "slot"), ("blocks", "obstructions"), ("load rating", "load_rating")):
        names = [name for name in (boxes[0] if boxes else ()) if len({getattr(own[name], field) for own in boxes}) > 1]
        if names:
            yield f"{what} of drawer{'s' if len(names) > 1 else ''} {listed(names)}"
