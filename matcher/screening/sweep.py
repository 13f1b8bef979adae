"""Every set against every cabinet: the fit tables first, then block after block of pairs, over processes."""

from __future__ import annotations

from collections.abc import Callable, Collection, Generator, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import Protocol, TypeAlias, TypeVar

from matcher import __version__
from matcher.house import House
from matcher.planning import find_cabinet, sets_of
from matcher.records import Catalogue, UnknownNameError, remembered
from matcher.screening.book import Book, Known, given, row_of
from matcher.screening.crews import Crew
from matcher.screening.fitting import FitTable, row_bytes, row_from, stacked
from matcher.screening.hands import gathered
from matcher.screening.pair_verdicts import decide
from matcher.screening.pairs import Pair

F = TypeVar("F")

ToldStage: TypeAlias = Callable[[str, int, int], None]
"""Told the stage (`STAGES`), how much of it is done, and of how much."""
BlockForm: TypeAlias = Callable[[Sequence[Pair]], F]
"""Brings a block's pairs into the form in which they are wanted, where they were made."""


class GroupsKept(Protocol):
    """Where rows of groups, as bytes, are kept from run to run."""

    def group(self, number: int, /) -> bytes | None:
        """What is kept for a group, if anything."""

    def add_group(self, number: int, content: bytes, /) -> None:
        """Keep it for a group."""


STAGES = ("groups", "pairs")
BLOCKS, LARGEST = 64, 20_000
"""Blocks a sweep is cut into, and pairs in the largest of them: fixed, so that any run goes on with any other's."""

PAIRS_PER_LAYOUT, WORTH_WORKERS = 1_000, 30_000
"""Pairs decided while one group is laid out, and pairs decided while workers start: measured, in round figures."""


@dataclass(frozen=True, slots=True)
class Sweep:
    """What is to be screened: ``blocks`` of sets (by index), each with all cabinets."""

    known: Known
    blocks: tuple[tuple[int, ...], ...]

    @property
    def pairs(self) -> int:
        """How many pairs there are."""
        return len(self.known.sets) * len(self.known.cabinets)

    @property
    def large(self) -> bool:
        """Whether it takes so long that starting processes pays: laying out a group takes as long as many pairs."""
        drawn = sum(bool(group.pieces) for group in self.known.groups)
        return self.pairs + PAIRS_PER_LAYOUT * drawn >= WORTH_WORKERS

    def identity(self) -> str:
        """Changes with anything that the results depend on."""
        known = self.known
        told = (__version__, known.sets, known.cabinets, known.catalogue, known.house, self.blocks)
        return sha256(repr(told).encode()).hexdigest()


def sweep(catalogue: Catalogue, house: House, sets: Iterable[str] = (), cabinets: Iterable[str] = ()) -> Sweep:
    """All pairs of these sets and cabinets (none named: all), in order of their names.

    Raises
    ------
    UnknownNameError
        A set or cabinet is not in the catalogue.
    """
    every = sets_of(catalogue)
    names = tuple(sorted(set(sets))) or every
    for name in names:
        if name not in every:
            raise UnknownNameError(f"no set {name!r} in the catalogue; it has: {', '.join(every)}")
    wanted = set(cabinets) or {cabinet.name for cabinet in catalogue.cabinets}
    chosen = tuple(find_cabinet(catalogue, name) for name in sorted(wanted))
    size = max(1, min(-(-len(names) // BLOCKS), LARGEST // max(1, len(chosen))))
    blocks = tuple(tuple(range(start, min(start + size, len(names)))) for start in range(0, len(names), size))
    return Sweep(given(catalogue, house, names, chosen), blocks)


def screen(
    catalogue: Catalogue,
    house: House,
    sets: Iterable[str] = (),
    cabinets: Iterable[str] = (),
    crew: Crew | None = None,
    told: ToldStage | None = None,
) -> Iterator[Pair]:
    """Every pair of these sets and cabinets (none named: all), in order of sets, then cabinets.

    Verdicts are those of `plan`; what is undecided there stays undecided here.

    Raises
    ------
    UnknownNameError
        A set or cabinet is not in the catalogue.
    SpreadingError
        The crew's workers could not be reached, or were lost.
    """
    asked = sweep(catalogue, house, sets, cabinets)
    return (pair for _, pairs in swept(asked, tuple, crew or Crew(), told=told) for pair in pairs)


def swept(
    asked: Sweep,
    form: BlockForm[F],
    crew: Crew,
    done: Collection[int] = (),
    told: ToldStage | None = None,
    kept: GroupsKept | None = None,
) -> Generator[tuple[int, F], None, None]:
    """Number and pairs of each block, in order, but for those ``done`` already; rows of groups are ``kept``."""
    left = [number for number in range(len(asked.blocks)) if number not in done]
    if not left:
        return
    known, before = asked.known, asked.pairs - _pairs(asked, left)

    drawers = len(known.drawers)
    rows: dict[int, FitTable] = {}
    missing = list[int]()
    for number in range(len(known.groups)):
        held = kept.group(number) if kept else None
        if held is None:
            missing.append(number)
        else:
            rows[number] = row_from(held, drawers)

    def tell_groups(count: int, _: int) -> None:
        if told:
            told("groups", len(known.groups) - len(missing) + count, len(known.groups))

    def tell_pairs(count: int, _: int) -> None:
        if told:
            told("pairs", before + _pairs(asked, left[:count]), asked.pairs)

    with gathered(crew) as hands:
        for number, row in zip(missing, hands.results(row_of, known, missing, tell_groups), strict=True):
            rows[number] = row
            if kept:
                kept.add_group(number, row_bytes(row))
        ready = replace(asked, known=replace(known, fits=stacked(rows[number] for number in sorted(rows))))
        yield from hands.results(_block, (ready, form), left, tell_pairs)


def _pairs(asked: Sweep, blocks: Iterable[int]) -> int:
    return sum(len(asked.blocks[number]) for number in blocks) * len(asked.known.cabinets)


def _block(shared: tuple[Sweep, BlockForm[F]], number: int) -> tuple[int, F]:
    """One block's pairs: the unit of work."""
    asked, form = shared
    every = range(len(asked.known.cabinets))
    return number, form(decide(_book(asked.known), asked.blocks[number], every))


@remembered(1)
def _book(known: Known) -> Book:
    """A process keeps what it adds to the table from block to block."""
    return Book(known)
