"""A real Dask scheduler and workers on loopback, each a process of its own, as a user would start them."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[1]


@dataclass(frozen=True)
class Cluster:
    """Where the scheduler listens, its process and the workers'."""

    address: str
    scheduler: subprocess.Popen[bytes]
    workers: tuple[subprocess.Popen[bytes], ...]


@contextmanager
def cluster(workers: int) -> Iterator[Cluster]:
    """A scheduler with so many workers of one thread each; all of them are gone afterwards."""
    started: list[subprocess.Popen[bytes]] = []

    def start(program: str, *options: str) -> None:
        command = [
            sys.executable,
            "-m",
            f"distributed.cli.dask_{program}",
            "--host",
            "127.0.0.1",
            "--no-dashboard",
            "--dashboard-address",
            "127.0.0.1:0",
        ]
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        started.append(subprocess.Popen([*command, *options], cwd=ROOT, **quiet))  # type: ignore[call-overload]

    with TemporaryDirectory() as folder:
        told = Path(folder) / "scheduler.json"
        try:
            start("scheduler", "--port", "0", "--scheduler-file", str(told))
            address = _address(told)
            for _ in range(workers):
                start("worker", address, "--nthreads", "1", "--no-nanny", "--local-directory", folder)
            _wait_for(address, workers)
            yield Cluster(address, started[0], tuple(started[1:]))
        finally:
            for process in started:
                process.kill()
                process.wait()


def _address(told: Path) -> str:
    """The address in the file that the scheduler writes once it listens."""
    for _ in range(600):
        try:
            return str(json.loads(told.read_text())["address"])
        except (OSError, ValueError):
            time.sleep(0.05)
    raise TimeoutError("the scheduler did not start")


def _wait_for(address: str, workers: int) -> None:
    from distributed import Client

    with Client(address, set_as_default=False) as client:
        client.wait_for_workers(workers, timeout=60)
