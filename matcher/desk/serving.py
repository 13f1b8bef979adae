"""Serves the desk on this machine alone."""

from __future__ import annotations

import socket
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import uvicorn

from matcher.desk.memory import DeskMemory
from matcher.desk.routes import make_app
from matcher.house import House
from matcher.records import Catalogue, UsageError

LOOPBACK = "127.0.0.1"


def serve(catalogue: Catalogue, rules: House, source: Path, port: int, told: Callable[[str], None]) -> None:
    """Serve the catalogue of a ``source`` until Ctrl-C.

    ``told`` the address once it listens, when the matrix of the first page begins to fill.

    Port 0 takes any that is free.

    Raises
    ------
    UsageError
        The port is taken or not allowed.
    """
    memory = DeskMemory(catalogue, source.name, rules, source)
    with _listening(port) as listening:
        chosen = listening.getsockname()[1]
        config = uvicorn.Config(
            make_app(memory, chosen),
            log_level="warning",
            server_header=False,
            proxy_headers=False,
            lifespan="off",
            ws="none",
            timeout_graceful_shutdown=1,
        )
        memory.fill_matrix(memory.first)
        told(f"http://{LOOPBACK}:{chosen}/")
        with suppress(KeyboardInterrupt):
            uvicorn.Server(config).run(sockets=[listening])


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
