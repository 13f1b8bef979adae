"""A crew at work: results of a function over items, wherever they are made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from typing import Protocol, TypeAlias, TypeVar

from matcher.screening.crews import Crew
from matcher.screening.processes import processes_of
from matcher.screening.results import results_of
from matcher.screening.workers import client_of

S = TypeVar("S")
T = TypeVar("T")
R = TypeVar("R")

Told: TypeAlias = Callable[[int, int], None]
"""Told how many items are done, and of how many."""
ToldName: TypeAlias = Callable[[int, int, str], None]
"""Told how many items are done, of how many, and the one that is next (none at the end)."""


class Work(Protocol):
    """Where a function is applied to items."""

    def __call__(self, function: Callable[[S, T], R], shared: S, items: Sequence[T], /) -> Iterator[R]:
        """The results of ``function(shared, item)`` for all items, in their order, as they are asked for."""


def _here(function: Callable[[S, T], R], shared: S, items: Sequence[T]) -> Iterator[R]:
    return (function(shared, item) for item in items)


@dataclass(frozen=True, slots=True)
class Hands:
    """A crew at work; without one it is this process."""

    work: Work = _here

    def results(
        self, function: Callable[[S, T], R], shared: S, items: Sequence[T], told: Told | None = None
    ) -> Iterator[R]:
        """The results of ``function(shared, item)`` for all items, in their order, as they come.

        ``function``, ``shared``, items and results must be picklable; ``shared`` is brought to each worker once. An
        exception raised by ``function`` is raised here.

        Raises
        ------
        SpreadingError
            The workers were all lost, or died over the same item again and again.
        """
        return _reported(self.work(function, shared, items), len(items), told)


ALONE = Hands()
"""This process."""


@contextmanager
def gathered(crew: Crew) -> Iterator[Hands]:
    """The crew at work on one task after another; it goes home at the end, or when the block is left early.

    Raises
    ------
    SpreadingError
        The cluster's workers could not be reached, or do not run this version.
    """
    if crew.at_home:
        yield ALONE
    elif crew.scheduler:
        with client_of(crew.scheduler) as client:
            yield Hands(partial(results_of, client))
    else:
        with processes_of(crew.workers) as started:
            yield Hands(started.results)


@contextmanager
def spread(
    function: Callable[[S, T], R], shared: S, items: Sequence[T], crew: Crew, told: Told | None = None
) -> Iterator[Iterator[R]]:
    """The results of one task, see `Hands.results`; no process is started for less than two items."""
    with gathered(crew if len(items) > 1 else Crew()) as hands:
        yield hands.results(function, shared, items, told)


def telling(results: Iterator[R], names: Sequence[str], told: ToldName | None) -> Iterator[R]:
    """The results, each told of by its name before it is taken, and the end."""
    for done, name in enumerate(names):
        if told:
            told(done, len(names), name)
        yield next(results)
    if told:
        told(len(names), len(names), "")


def _reported(results: Iterator[R], total: int, told: Told | None) -> Iterator[R]:
    """The results, each told as done once it was taken."""
    if told:
        told(0, total)
    for done, result in enumerate(results, 1):
        yield result
        if told:
            told(done, total)
