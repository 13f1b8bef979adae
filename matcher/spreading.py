"""Spreads a function over items on several processes with Dask: results in order, the same for any number of workers.

A `Crew` says where the work is done: in this process, in worker processes started here (on loopback, without a
dashboard), or on a cluster that runs already. Dask is imported only when the work leaves this process. What was running
on a worker that dies is run again on another one. As with every program that starts processes, a script of one's own
must keep its work under ``if __name__ == "__main__":``.
"""

from __future__ import annotations

import asyncio
import logging
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from importlib.metadata import version
from multiprocessing.resource_tracker import ensure_running
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

from matcher.errors import MatcherError, UsageError

if TYPE_CHECKING:
    from distributed import Client, Future

S = TypeVar("S")
T = TypeVar("T")
R = TypeVar("R")

Told: TypeAlias = Callable[[int, int], None]
"""Told how many items are done, and of how many."""
ToldName: TypeAlias = Callable[[int, int, str], None]
"""Told how many items are done, of how many, and the one that is next (none at the end)."""

AHEAD = 4
"""Items a worker is given before the first of them is asked back: it never waits, and results do not pile up."""
CONNECTING, LISTENING, ALONE_FOR = 5, 5, 60
"""Seconds: for reaching a scheduler, between looks at whether it has workers, and how long to go on without any."""


class SpreadingError(MatcherError):
    """The workers could not be reached, do not run this version, or were all lost."""


@dataclass(frozen=True, slots=True)
class Crew:
    """Who does the work: ``workers`` processes started here, or those of the scheduler at ``scheduler``.

    One worker without a scheduler is this process itself.
    """

    workers: int = 1
    scheduler: str = ""

    @property
    def at_home(self) -> bool:
        """Whether the work stays in this process."""
        return self.workers == 1 and not self.scheduler


def crew_of(workers: int | None, scheduler: str = "") -> Crew:
    """A crew of so many workers (``None``: one for each core this process may use) or of a cluster's.

    Raises
    ------
    UsageError
        Both are given, or there would be no worker.
    """
    if scheduler and workers is not None:
        raise UsageError("--workers and --scheduler: give one of them; a cluster brings its own workers")
    if workers is not None and workers < 1:
        raise UsageError(f"--workers {workers}: expected a whole number from 1")
    return Crew(1, scheduler) if scheduler else Crew(workers or len(os.sched_getaffinity(0)))


@dataclass(frozen=True, slots=True)
class Hands:
    """A crew at work: ``client`` reaches its processes, ``None`` is this process."""

    client: Client | None = None

    def results(
        self, function: Callable[[S, T], R], shared: S, items: Sequence[T], told: Told | None = None
    ) -> Iterator[R]:
        """The results of ``function(shared, item)`` for all items, in their order, as they come.

        ``function``, ``shared``, items and results must be picklable; ``shared`` is brought to each worker once. An
        exception raised by ``function`` is raised here.

        Raises
        ------
        SpreadingError
            The workers were all lost.
        """
        if self.client is None:
            return _reported((function(shared, item) for item in items), len(items), told)
        return _reported(_results(self.client, function, shared, items), len(items), told)


ALONE = Hands()
"""This process."""


@contextmanager
def gathered(crew: Crew) -> Iterator[Hands]:
    """The crew at work on one task after another; it goes home at the end, or when the block is left early.

    Raises
    ------
    SpreadingError
        The workers could not be reached, or do not run this version.
    """
    if crew.at_home:
        yield ALONE
        return
    with _client(crew) as client:
        _check_versions(client, crew)
        yield Hands(client)


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


# ------------------------------------------------------------------------------------------------------------ workers


_SETTINGS = {
    "distributed.nanny.pre-spawn-environ.DASK_LOGGING__DISTRIBUTED": "critical",
    "distributed.nanny.pre-spawn-environ.MALLOC_TRIM_THRESHOLD_": 2**28,
    "distributed.nanny.pre-spawn-environ.MALLOC_MMAP_THRESHOLD_": 2**25,
    "distributed.worker.profile.enabled": False,
    "distributed.admin.large-graph-warning-threshold": "1GB",
}


@contextmanager
def _client(crew: Crew) -> Iterator[Client]:
    """A connection to the crew's scheduler; workers started here are gone afterwards."""
    import dask
    import distributed  # noqa: F401  its settings must be there before they are changed for a while

    with ExitStack() as stack:
        stack.enter_context(_silence())
        stack.enter_context(dask.config.set(_SETTINGS))
        with _uninterrupted():
            target = crew.scheduler or stack.enter_context(_started(crew.workers))
            client = stack.enter_context(_connected(target))
        yield client


def _connected(target: Any) -> Client:
    from distributed import Client

    if isinstance(target, str):
        _check_answers(target)
    return Client(target, timeout=CONNECTING, set_as_default=False)


def _check_answers(address: str) -> None:
    """Refuse an address that is none, or where something else than a scheduler answers, before a client waits for it.

    Asked in a thread of its own, as a notebook's has an event loop running already.
    """
    try:
        with ThreadPoolExecutor(1) as threads:
            kind = threads.submit(asyncio.run, _kind_of(address)).result()
    except Exception as refused:  # whatever Dask makes of an answer in another language
        text = f"--scheduler {address}: no Dask scheduler answers at this address (expected HOST:PORT)"
        raise SpreadingError(text) from refused
    if kind != "Scheduler":
        raise SpreadingError(f"--scheduler {address}: this is the address of a {kind.lower()}, not of a scheduler")


async def _kind_of(address: str) -> str:
    """What a Dask process says it is."""
    from distributed.comm.core import connect
    from distributed.core import send_recv

    comm = await connect(address, timeout=CONNECTING)
    try:
        return str((await send_recv(comm, op="identity"))["type"])
    finally:
        comm.abort()


@contextmanager
def _started(workers: int) -> Iterator[Any]:
    """Worker processes on loopback."""
    from distributed import LocalCluster

    with (
        TemporaryDirectory(prefix="matcher-") as folder,
        LocalCluster(
            n_workers=workers,
            threads_per_worker=1,
            host="127.0.0.1",
            dashboard_address="127.0.0.1:0",
            scheduler_kwargs={"dashboard": False},
            local_directory=folder,
            memory_limit=0,
            silence_logs=logging.CRITICAL,
        ) as cluster,
    ):
        yield cluster


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Hold an interrupt from the keyboard back while workers start: half a crew cannot be sent home cleanly.

    Threads and processes started meanwhile keep the signal blocked: interrupts are for the process that started them.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    held: list[int] = []
    ensure_running()  # else the first start of a process would unblock the signal again
    handler = signal.signal(signal.SIGINT, lambda number, _: held.append(number))
    mask = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, mask)
        signal.signal(signal.SIGINT, handler)
    if held:
        raise KeyboardInterrupt


@contextmanager
def _silence() -> Iterator[None]:
    """No log lines of Dask on standard error: what matters is raised."""
    loggers = [logging.getLogger(name) for name in ("distributed", "tornado", "asyncio")]
    levels = [logger.level for logger in loggers]
    for logger in loggers:
        logger.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        for logger, level in zip(loggers, levels, strict=True):
            logger.setLevel(level)


def _check_versions(client: Client, crew: Crew) -> None:
    """Refuse workers of a cluster that would not give the results that this program gives."""
    if not crew.scheduler:
        return
    try:
        theirs = set(client.run(_version).values())
    except ImportError as missing:
        raise SpreadingError(f"--scheduler {crew.scheduler}: its workers lack this program ({missing})") from missing
    if not theirs:
        raise SpreadingError(f"--scheduler {crew.scheduler}: it has no workers")
    if theirs != {_version()}:
        told = ", ".join(sorted(theirs))
        raise SpreadingError(f"--scheduler {crew.scheduler}: its workers run version {told}, this is {_version()}")


def _version() -> str:
    return version("matcher")


# ------------------------------------------------------------------------------------------------------------ results


def _results(client: Client, function: Callable[[S, T], R], shared: S, items: Sequence[T]) -> Iterator[R]:
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
    except (KilledWorker, CancelledError) as lost:
        raise SpreadingError(f"the work was lost with the workers that did it: {lost}") from lost


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
