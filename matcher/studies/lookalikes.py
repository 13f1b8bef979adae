"""Which of several cabinets that look alike it is: what a few readings leave possible, and the reading to take next.

A reading may be off by the window: the tape's error and what drawers differ from the sizes their maker gives. Two
cabinets that differ by more than two windows in some size are told apart by it; all others cannot be by tape.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

from matcher.house import House
from matcher.planning import find_cabinet
from matcher.records import PER_MM, Cabinet, Catalogue, Drawer, Measurement, remembered
from matcher.studies.inside_sizes import DIMENSIONS, Dimension, size_of
from matcher.studies.readings import Reading, readings_of

EXACT = 10
"""Up to so many cabinets the tree has the least depth there is; above it each reading is the one that tells most."""


@dataclass(frozen=True, slots=True)
class Branch:
    """What is left where a reading is from ``start`` to below ``end``; both ``None``: there is no such drawer."""

    start: int | None
    end: int | None
    tree: Tree


@dataclass(frozen=True, slots=True)
class Tree:
    """Cabinets still possible, and the reading that tells them apart; without one no reading can.

    ``differ`` then names what is different in them though no tape tells: slots, blocks, load ratings.
    """

    cabinets: tuple[str, ...]
    drawer: str = ""
    dimension: Dimension | None = None
    branches: tuple[Branch, ...] = ()
    differ: tuple[str, ...] = ()

    @property
    def depth(self) -> int:
        """The most readings it takes."""
        return 1 + max(branch.tree.depth for branch in self.branches) if self.branches else 0

    @property
    def readings(self) -> int:
        """Readings to all ends of the tree together."""
        return sum(branch.tree.readings + branch.tree.ends for branch in self.branches)

    @property
    def ends(self) -> int:
        """How many ends the tree has."""
        return sum(branch.tree.ends for branch in self.branches) if self.branches else 1


@dataclass(frozen=True, slots=True)
class Lookalike:
    """A cabinet beside a buyer's readings; ``against`` are those that exclude it, none where it is possible."""

    cabinet: str
    against: tuple[Reading, ...]
    lacking: tuple[str, ...]

    @property
    def possible(self) -> bool:
        """Whether no reading excludes it."""
        return not self.against and not self.lacking


@dataclass(frozen=True, slots=True)
class Identity:
    """What the readings of a cabinet taken for ``cabinet`` say of its look-alikes, and how to go on."""

    cabinet: str
    readings: tuple[Reading, ...]
    lookalikes: tuple[Lookalike, ...]
    tree: Tree


ReadingRanges: TypeAlias = tuple[tuple[int | None, int | None, tuple[Cabinet, ...]], ...]
"""Start and end of the readings, and the cabinets that they leave."""


def identify(
    catalogue: Catalogue, house: House, cabinet_name: str, measured: Iterable[Measurement] = (), unit: str = ""
) -> Identity:
    """Which cabinets of the same model line the readings leave possible, and what tells those apart.

    Raises
    ------
    UnknownNameError
        The cabinet is not in the catalogue.
    UsageError
        There are readings, but none of this cabinet, or a drawer was measured more than once.
    """
    cabinet, rows = find_cabinet(catalogue, cabinet_name), tuple(measured)
    own = _own(cabinet)
    readings = tuple(one for one in readings_of(cabinet, rows, unit) if one.drawer in own) if rows else ()
    alike = model_line(catalogue.cabinets, cabinet)
    found = lookalikes(alike, readings, house)
    left = {one.cabinet for one in found if one.possible}
    return Identity(cabinet_name, readings, found, tell_apart((one for one in alike if one.name in left), house))


def model_line(cabinets: Iterable[Cabinet], cabinet: Cabinet) -> tuple[Cabinet, ...]:
    """The cabinets of one model line, by name; the cabinet alone where it names no line."""
    same = [other for other in cabinets if cabinet.model_line and other.model_line == cabinet.model_line]
    return tuple(sorted(same or [cabinet], key=lambda other: other.name))


def window(house: House) -> int:
    """How far a reading may be from the size a maker gives."""
    return house.measure.tape + house.measure.off


def lookalikes(cabinets: Iterable[Cabinet], readings: Sequence[Reading], house: House) -> tuple[Lookalike, ...]:
    """Every cabinet with what excludes it: readings further from its sizes than the window, drawers it lacks.

    The readings of ``against`` carry the cabinet's own size as the nominal one.
    """
    found = []
    for cabinet in sorted(cabinets, key=lambda one: one.name):
        boxes = _own(cabinet)
        known = [reading for reading in readings if reading.drawer in boxes]
        here = [
            Reading(one.drawer, one.dimension, size_of(boxes[one.drawer], one.dimension), one.value) for one in known
        ]
        against = tuple(one for one in here if abs(one.value - one.nominal) > window(house))
        lacking = tuple(dict.fromkeys(one.drawer for one in readings if one.drawer not in boxes))
        found.append(Lookalike(cabinet.name, against, lacking))
    return tuple(found)


def tell_apart(cabinets: Iterable[Cabinet], house: House) -> Tree:
    """The readings to take, one after another, to know which of the cabinets it is."""
    return _tree(tuple(sorted(cabinets, key=lambda cabinet: cabinet.name)), window(house))


def path_to(tree: Tree, cabinet: str) -> tuple[tuple[str, Dimension], ...]:
    """The readings (drawer, dimension) that lead to a cabinet's end of the tree, the first first."""
    for branch in tree.branches:
        if cabinet in branch.tree.cabinets and tree.dimension:
            return ((tree.drawer, tree.dimension), *path_to(branch.tree, cabinet))
    return ()


@remembered(10_000)
def _tree(cabinets: tuple[Cabinet, ...], off: int) -> Tree:
    names = tuple(cabinet.name for cabinet in cabinets)
    questions = list(_questions(cabinets, off))
    if not questions:
        return Tree(names, differ=tuple(_differences(cabinets)))
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
    places = {box.name: (box.bank, box.row, box.name) for cabinet in cabinets for box in _own(cabinet).values()}
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
    boxes = [(cabinet, _own(cabinet).get(drawer)) for cabinet in cabinets]
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


def _own(cabinet: Cabinet) -> dict[str, Drawer]:
    """The cabinet's own drawers by name, without those of what it stands on."""
    return {box.name: box for box in cabinet.drawers if box.cabinet == cabinet.name}


def _differences(cabinets: Sequence[Cabinet]) -> Iterator[str]:
    """What differs in cabinets that no tape tells apart."""
    boxes = [_own(cabinet) for cabinet in cabinets]
    for name in boxes[0] if boxes else ():
        for what, field in (("slot", "slot"), ("blocks in it", "obstructions"), ("load rating", "load_rating")):
            if len({getattr(own[name], field) for own in boxes}) > 1:
                yield f"drawer {name}: {what}"
