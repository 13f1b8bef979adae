"""Results of a task from a cluster's workers, in order, without waiting for ever for workers that are gone."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

from matcher.screening.crews import AHEAD, SpreadingError

if TYPE_CHECKING:
    from distributed import Client, Future

S = TypeVar("S")
T = TypeVar("T")
R = TypeVar("R")

LISTENING, ALONE_FOR = 5, 60
"""Seconds: between looks at whether there are workers, and how long to go on without any."""


def results_of(client: Client, function: Callable[[S, T], R], shared: S, items: Sequence[T]) -> Iterator[R]:
    """Results in order, with only so many items under way that no worker waits and nothing piles up here."""
    held = client.submit(_held, shared, pure=False)
    under_way: deque[Future[Any]] = deque()
    ahead = AHEAD * max(1, _workers(client))
    for item in items:
        under_way.append(client.submit(function, held, item, pure=False))
        if len(under_way) >= ahead:
            yield _taken(client, under_way.popleft())
    while under_way:
        yield _taken(client, under_way.popleft())


def _held(shared: S) -> S:
    """What all items share, as a result of its own: held by the workers, and made again if they are lost."""
    return shared


def _taken(client: Client, future: Future[Any]) -> Any:
    """The result once it is there; never waits for ever for workers that do not come back."""
    from distributed import CancelledError, KilledWorker

    try:
        _wait(client, future)
        return future.result()
    except KilledWorker as lost:
        raise SpreadingError(f"the work was lost with the workers that did it: {lost}") from lost
    except CancelledError as lost:
        raise SpreadingError("the work was lost with its workers, or with the connection to the scheduler") from lost


def _wait(client: Client, future: Future[Any]) -> None:
    from distributed import wait

    without = 0
    while without < ALONE_FOR:
        try:
            with client.as_current():
                wait([future], timeout=LISTENING)
            return
        except TimeoutError:
            without = 0 if _workers(client) else without + LISTENING
    raise SpreadingError(f"all workers are gone, and none came back within {ALONE_FOR} seconds")


def _workers(client: Client) -> int:
    return len(client.scheduler_info(n_workers=-1)["workers"])
