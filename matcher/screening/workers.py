"""The workers of a Dask cluster that runs already, and the connection to them.

Whoever can reach its scheduler can have it run any code: it asks nobody who they are. So this program starts none.
"""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from typing import TYPE_CHECKING

from matcher import __version__
from matcher.records import need
from matcher.screening.crews import SpreadingError

if TYPE_CHECKING:
    from distributed import Client

CONNECTING = 5
"""Seconds for reaching a scheduler."""

LOGGERS = ("distributed", "tornado", "asyncio")
"""What Dask logs under; of loggers within these some have a level of their own."""
_SETTINGS = {"distributed.admin.large-graph-warning-threshold": "1GB"}


@contextmanager
def client_of(scheduler: str) -> Iterator[Client]:
    """A connection to the scheduler at this address, whose workers run this version.

    Raises
    ------
    SpreadingError
        The workers could not be reached, they do not run this version, or the connection was lost.
    MissingExtraError
        Dask is not installed.
    """
    need("cluster", "a scheduler")
    import dask
    from distributed import Client
    from distributed.comm.core import CommClosedError

    with _silence(), dask.config.set(_SETTINGS):
        _check_answers(scheduler)
        try:
            with Client(scheduler, timeout=CONNECTING, set_as_default=False) as client:
                _check_versions(client, scheduler)
                yield client
        except CommClosedError as lost:
            raise SpreadingError(f"scheduler {scheduler}: the connection was lost in the middle of the work") from lost


def _check_answers(address: str) -> None:
    """Refuse an address that is none, or where something else than a scheduler answers, before a client waits for it.

    Asked in a thread of its own, as a notebook's has an event loop running already.
    """
    try:
        with ThreadPoolExecutor(1) as threads:
            kind = threads.submit(asyncio.run, _kind_of(address)).result()
    except Exception as refused:  # whatever Dask makes of an answer in another language
        text = f"scheduler {address}: no Dask scheduler answers at this address (expected HOST:PORT)"
        raise SpreadingError(text) from refused
    if kind != "Scheduler":
        raise SpreadingError(f"scheduler {address}: this is the address of a {kind.lower()}, not of a scheduler")


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
def _silence() -> Iterator[None]:
    """No log lines of Dask on standard error: what matters is raised."""
    known = [name for name in logging.root.manager.loggerDict if name.split(".")[0] in LOGGERS]
    loggers = [logging.getLogger(name) for name in {*LOGGERS, *known}]
    levels = [logger.level for logger in loggers]
    for logger in loggers:
        logger.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        for logger, level in zip(loggers, levels, strict=True):
            logger.setLevel(level)


def _check_versions(client: Client, scheduler: str) -> None:
    """Refuse workers that would not give the results that this program gives."""
    try:
        theirs = set(client.run(_version).values())
    except ImportError as missing:
        raise SpreadingError(f"scheduler {scheduler}: its workers lack this program ({missing})") from missing
    if not theirs:
        raise SpreadingError(f"scheduler {scheduler}: it has no workers")
    if theirs != {_version()}:
        told = ", ".join(sorted(theirs))
        raise SpreadingError(f"scheduler {scheduler}: its workers run version {told}, this is {_version()}")


def _version() -> str:
    return __version__
