"""Worker processes started here, which nobody else can give work to.

They hear of work through pipes that only this process and they hold, never at an address. What all items share, and
every result, goes through a file in a folder that no other user may enter: so large things are written once, and what
goes through a pipe is so short that a process that dies never leaves half of it there.
"""

from __future__ import annotations

import os
import pickle
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import lru_cache
from itertools import count
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.resource_tracker import ensure_running
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, TypeVar

from matcher.records import keep_in, store_in_force
from matcher.screening.crews import AHEAD, SpreadingError

S = TypeVar("S")
T = TypeVar("T")
R = TypeVar("R")

TIMES = 4
"""How often an item is given out before it counts as what the workers die of."""
BEGUN = "begun"
"""The file that a worker makes when it is ready for work."""


@contextmanager
def processes_of(workers: int) -> Iterator[Processes]:
    """So many worker processes; none is left afterwards, whatever they were doing."""
    with TemporaryDirectory(prefix="matcher-") as folder:
        started = Processes(workers, Path(folder))
        try:
            yield started
        finally:
            started.end()


@dataclass(slots=True)
class Errand:
    """The item ``number`` of a task under way, and how often it was given out."""

    task: Path
    number: int
    future: Future[None]
    given: int = 1

    @property
    def lost(self) -> bool:
        """Whether the processes ended before it was done; waits until that is known."""
        return isinstance(self.future.exception(), BrokenProcessPool)


class Processes:
    """So many worker processes, started as they are needed; ``folder`` is for this process and them alone."""

    def __init__(self, workers: int, folder: Path):
        self.workers = workers
        self.folder = folder
        self._tasks = count()
        self._start()

    def _start(self) -> None:
        """Get ready to start processes; each ends as soon as this process closes its end of the line, or dies."""
        context = get_context("spawn")
        theirs, self._line = context.Pipe(duplex=False)
        store = store_in_force()
        given = theirs, self.folder / BEGUN, store.folder if store else None
        self._pool = ProcessPoolExecutor(self.workers, context, _begin, given)

    def end(self) -> None:
        """End all processes at once, whatever they are doing."""
        with _uninterrupted():
            self._line.close()
            self._pool.shutdown(cancel_futures=True)

    def results(self, function: Callable[[S, T], R], shared: S, items: Sequence[T]) -> Iterator[R]:
        """Results in order, with only so many items under way that no worker waits and nothing piles up here.

        Raises
        ------
        SpreadingError
            Workers died over the same item again and again, or could not start, or the disk is full.
        """
        task = self.folder / str(next(self._tasks))
        _write(task, (function, shared, items))
        under_way: deque[Errand] = deque()
        for number in range(len(items)):
            under_way.append(Errand(task, number, self._given(task, number)))
            if len(under_way) >= AHEAD * self.workers:
                yield self._taken(under_way)
        while under_way:
            yield self._taken(under_way)
        task.unlink()

    def _given(self, task: Path, number: int) -> Future[None]:
        """The item on its way to a worker, or known to be lost at once as one died while it had nothing to do."""
        try:
            with _uninterrupted():
                return self._pool.submit(_work, task, number)
        except BrokenProcessPool as died:
            lost: Future[None] = Future()
            lost.set_exception(died)
            return lost
        except OSError as refused:
            raise SpreadingError(f"no worker process can be started: {refused.strerror}") from refused

    def _taken(self, under_way: deque[Errand]) -> Any:
        """The result of the first item under way; what the function raised for it is raised here."""
        first = under_way[0]
        while first.lost:
            self._give_again(under_way)
        under_way.popleft().future.result()
        made = _result(first.task, first.number)
        result = _read(made)
        made.unlink()
        return result

    def _give_again(self, under_way: deque[Errand]) -> None:
        """Start new processes for those of which one died, and give them what was lost with them."""
        self.end()
        if not (self.folder / BEGUN).exists():
            guard = 'a script must keep its work under if __name__ == "__main__":'
            raise SpreadingError(f"the worker processes ended while they started ({guard})")
        self._start()
        for errand in (errand for errand in under_way if errand.lost):
            if errand.given == TIMES:
                cause = "they were killed, or memory ran out; fewer workers need less"
                raise SpreadingError(f"the work was lost with the workers that did it, {TIMES} times: {cause}")
            errand.given += 1
            errand.future = self._given(errand.task, errand.number)


# ----------------------------------------------------------------------------------------------------- in the workers


def _begin(line: Connection, begun: Path, store: Path | None) -> None:
    """Get ready for work, with the store of the process that started this one, which alone interrupts are for."""
    keep_in(store)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with, args=(line,), daemon=True).start()
    with suppress(FileNotFoundError):  # the process that started this one has ended and cleared its folder away
        begun.touch()


def _end_with(line: Connection) -> None:
    """End this process once the other end of the line is closed, on purpose or because its process is gone."""
    line.poll(None)
    os._exit(1)


def _work(task: Path, number: int) -> None:
    """Do one item of a task and leave the result in its file."""
    function, shared, items = _held(task)
    try:
        result = function(shared, items[number])
    except Exception as fault:
        if _travels(fault):
            raise
        raise RuntimeError(f"{type(fault).__name__}: {fault}") from fault
    _write(_result(task, number), result)


@lru_cache(maxsize=1)
def _held(task: Path) -> Any:
    """Function, shared and items of a task: read once, then the same ones for all items."""
    return _read(task)


def _travels(fault: Exception) -> bool:
    """Whether an exception says the same after it was brought to another process."""
    try:
        return str(pickle.loads(pickle.dumps(fault))) == str(fault)
    except Exception:  # whatever its own class makes of it
        return False


# ------------------------------------------------------------------------------------------------------ on both sides


def _result(task: Path, number: int) -> Path:
    return task.with_name(f"{task.name}.{number}")


def _write(path: Path, made: Any) -> None:
    try:
        with path.open("wb") as stream:
            pickle.dump(made, stream, pickle.HIGHEST_PROTOCOL)
    except OSError as refused:
        raise SpreadingError(f"{path.parent}: cannot be written: {refused.strerror}") from refused


def _read(path: Path) -> Any:
    with path.open("rb") as stream:
        return pickle.load(stream)


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Hold an interrupt from the keyboard back while processes start or end: half a crew cannot be sent home cleanly.

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
        signal.raise_signal(signal.SIGINT)
