"""Worker processes started here, or those of a cluster that runs already, and the connection to them."""

from __future__ import annotations

import asyncio
import logging
import signal
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from multiprocessing.resource_tracker import ensure_running
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from matcher import __version__
from matcher.screening.crews import Crew, SpreadingError

if TYPE_CHECKING:
    from distributed import Client

CONNECTING = 5
"""Seconds for reaching a scheduler."""

_SETTINGS = {
    "distributed.nanny.pre-spawn-environ.DASK_LOGGING__DISTRIBUTED": "critical",
    "distributed.nanny.pre-spawn-environ.MALLOC_TRIM_THRESHOLD_": 2**28,
    "distributed.nanny.pre-spawn-environ.MALLOC_MMAP_THRESHOLD_": 2**25,
    "distributed.worker.profile.enabled": False,
    "distributed.admin.large-graph-warning-threshold": "1GB",
}


@contextmanager
def client_of(crew: Crew) -> Iterator[Client]:
    """A connection to the crew's scheduler, whose workers run this version; those started here are gone afterwards.

    Raises
    ------
    SpreadingError
        The workers could not be reached, or do not run this version.
    """
    import dask
    import distributed  # noqa: F401  its settings must be there before they are changed for a while

    with ExitStack() as stack:
        stack.enter_context(_silence())
        stack.enter_context(dask.config.set(_SETTINGS))
        with _uninterrupted():
            target = crew.scheduler or stack.enter_context(_started(crew.workers))
            client = stack.enter_context(_connected(target))
        _check_versions(client, crew)
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
    return __version__
