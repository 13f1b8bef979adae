"""Serves the desk on this machine alone."""

from __future__ import annotations

import secrets
import socket
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import Timer
from types import FrameType

import uvicorn

from matcher.desk.memory import DeskMemory
from matcher.desk.routes import make_app
from matcher.house import House
from matcher.records import Catalogue, UsageError

LOOPBACK = "127.0.0.1"
LEAVE = 3.0
"""Seconds after Ctrl-C in which pages under way may come to an end."""


class _Server(uvicorn.Server):
    """Ends in order at the first Ctrl-C or SIGTERM, and with ``leave`` at the second, or where that takes too long."""

    def __init__(self, config: uvicorn.Config, leave: Callable[[], None]):
        super().__init__(config)
        self.leave = leave

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:  # noqa: ARG002  uvicorn calls it
        """Take down that somebody asked for an end. No signal is raised again: what began is put in order first."""
        if self.should_exit:
            self.leave()
        last = Timer(LEAVE, self.leave)
        last.daemon = True
        last.start()
        self.should_exit = True


def serve(
    catalogue: Catalogue, rules: House, source: Path, port: int, told: Callable[[str], None], leave: Callable[[], None]
) -> None:
    """Serve the catalogue of a ``source`` until Ctrl-C or SIGTERM.

    ``told`` the address once it listens, when the matrix of the first page begins to fill. ``leave`` ends the process:
    it is called where somebody does not wait for an end in order.

    Port 0 takes any that is free.

    Raises
    ------
    UsageError
        The port is taken or not allowed.
    """
    memory = DeskMemory(catalogue, source.name, rules, source)
    token = secrets.token_urlsafe(32)
    with _listening(port) as listening, _own_folder() as folder:
        chosen = listening.getsockname()[1]
        config = uvicorn.Config(
            make_app(memory, chosen, token),
            log_level="warning",
            server_header=False,
            proxy_headers=False,
            lifespan="off",
            ws="none",
            timeout_graceful_shutdown=1,
        )
        memory.fill_matrix(memory.first)
        told(f"http://{LOOPBACK}:{chosen}/?token={token}")

        def leave_nothing() -> None:
            folder.cleanup()
            leave()

        with suppress(KeyboardInterrupt):
            _Server(config, leave_nothing).run(sockets=[listening])


@contextmanager
def _own_folder() -> Iterator[tempfile.TemporaryDirectory[str]]:
    """A folder that holds all temporary files of this process, so that none is left whenever it ends."""
    before = tempfile.tempdir
    made = tempfile.TemporaryDirectory(prefix="matcher-desk-", ignore_cleanup_errors=True)
    tempfile.tempdir = made.name
    try:
        yield made
    finally:
        tempfile.tempdir = before
        made.cleanup()


def _listening(port: int) -> socket.socket:
    made = socket.socket()
    try:
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        made.bind((LOOPBACK, port))
        made.listen()
    except OSError as taken:
        made.close()
        raise UsageError(f"--port {port}: {taken.strerror}; name another one, or 0 for any") from taken
    return made
