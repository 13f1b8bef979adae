"""Spreading over processes: the built-in ``map`` is the reference, for any crew, whatever happens to a worker."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from matcher.records.errors import UsageError
from matcher.screening.crews import Crew, SpreadingError, crew_of
from matcher.screening.hands import spread
from tests.cluster import Cluster, cluster

ROOT = Path(__file__).resolve().parents[1]
ITEMS = range(12)


def scaled(factor: int, item: int) -> tuple[int, int]:
    """An answer and who gave it."""
    time.sleep(0.02)
    return factor * item, os.getpid()


def refused(_: int, item: int) -> int:
    if item == 3:
        raise UsageError("item 3 is refused")
    return item


def dying(_: int, item: int) -> int:
    if item == 3:
        os._exit(1)
    return item


@pytest.fixture(scope="module")
def running() -> Iterator[Cluster]:
    with cluster(2) as started:
        yield started


def answers(crew: Crew) -> list[tuple[int, int]]:
    with spread(scaled, 7, ITEMS, crew) as results:
        return list(results)


def test_one_worker_is_this_process_and_starts_none() -> None:
    told: list[tuple[int, int]] = []
    with spread(scaled, 7, ITEMS, Crew(), lambda done, total: told.append((done, total))) as results:
        assert list(results) == [(7 * item, os.getpid()) for item in ITEMS]
    assert told == [(done, 12) for done in range(13)]


def test_workers_started_here_give_the_same_results_in_order() -> None:
    found = answers(Crew(2))
    assert [answer for answer, _ in found] == list(map((7).__mul__, ITEMS))
    workers = {worker for _, worker in found}
    assert len(workers) == 2
    assert os.getpid() not in workers
    assert not any(_alive(worker) for worker in workers), "workers outlive the work"


def test_a_running_cluster_gives_the_same_results_and_stays(running: Cluster) -> None:
    for _ in range(2):
        assert [answer for answer, _ in answers(crew_of(None, running.address))] == list(map((7).__mul__, ITEMS))


@pytest.mark.slow
def test_a_worker_killed_in_mid_run_changes_nothing() -> None:
    """Two workers, one killed for good after a few results: the other does its work again."""
    with cluster(2) as running, spread(scaled, 7, range(100), Crew(1, running.address)) as results:
        found = [next(results) for _ in range(10)]
        running.workers[0].kill()
        found += results
    assert [answer for answer, _ in found] == [7 * item for item in range(100)]


@pytest.mark.slow
def test_work_that_kills_every_worker_is_one_clear_error() -> None:
    with pytest.raises(SpreadingError, match="lost with the workers"), spread(dying, 0, ITEMS, Crew(2)) as results:
        list(results)


@pytest.mark.parametrize("crew", [Crew(), Crew(2)])
def test_an_error_in_the_work_is_raised_as_it_is(crew: Crew) -> None:
    with pytest.raises(UsageError, match="item 3 is refused"), spread(refused, 0, ITEMS, crew) as results:
        list(results)


@pytest.mark.parametrize("address", ["127.0.0.1:1", "tcp://127.0.0.1:1", "nowhere", "::", "no-such-protocol://x:1"])
def test_an_address_without_a_scheduler_is_one_clear_error(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("matcher.screening.workers.CONNECTING", 0.5)
    with pytest.raises(SpreadingError, match="no Dask scheduler answers"), spread(scaled, 1, ITEMS, Crew(1, address)):
        pass


def test_a_program_that_answers_in_another_language_is_one_clear_error() -> None:
    def answer(listening: socket.socket) -> None:
        connection, _ = listening.accept()
        connection.recv(100)
        connection.sendall(b"HTTP/1.0 400 Bad Request\r\n\r\n")
        connection.close()

    with socket.create_server(("127.0.0.1", 0)) as listening:
        threading.Thread(target=answer, args=(listening,), daemon=True).start()
        crew = Crew(1, f"127.0.0.1:{listening.getsockname()[1]}")
        with pytest.raises(SpreadingError, match="no Dask scheduler answers"), spread(scaled, 1, ITEMS, crew):
            pass


def test_a_crew_has_at_least_one_worker_and_one_source() -> None:
    assert crew_of(None).workers == len(os.sched_getaffinity(0))
    with pytest.raises(UsageError, match="--workers 0"):
        crew_of(0)
    with pytest.raises(UsageError, match="give one of them"):
        crew_of(2, "127.0.0.1:8786")


PROGRAM = """
import os
from matcher.spreading import Crew, spread
from tests.test_spreading import scaled

if __name__ == "__main__":
    with spread(scaled, 7, range({items}), Crew(2)) as results:
        print(next(results)[1], next(results)[1], flush=True)
        print(sum(answer for answer, _ in results))
"""


def test_nothing_is_said_on_standard_error() -> None:
    ran = subprocess.run(
        [sys.executable, "-c", PROGRAM.format(items=12)], cwd=ROOT, capture_output=True, text=True, timeout=60
    )
    assert ran.stdout.splitlines()[-1] == str(7 * sum(range(2, 12)))
    assert ran.stderr == ""


@pytest.mark.slow
@pytest.mark.parametrize("wait", ["for results", "while starting"])
def test_an_interrupt_from_the_keyboard_ends_all_processes_quietly(wait: str) -> None:
    """The terminal sends it to the whole process group; only the program itself says that it was interrupted."""
    ran = subprocess.Popen(
        [sys.executable, "-c", PROGRAM.format(items=10_000)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    assert ran.stdout is not None
    if wait == "for results":
        ran.stdout.readline()
    else:
        _until(lambda: len(_group(ran.pid)) > 1)
    os.killpg(ran.pid, signal.SIGINT)
    _, said = ran.communicate(timeout=60)
    assert said.count("Traceback") == 1
    assert said.rstrip().endswith("KeyboardInterrupt")
    assert "distributed -" not in said
    _until(lambda: not _group(ran.pid))


def _until(true: object, within: float = 20) -> None:
    """Wait until ``true()``; fails after ``within`` seconds."""
    end = time.monotonic() + within
    while not true():  # type: ignore[operator]
        assert time.monotonic() < end, "nothing happened"
        time.sleep(0.05)


def _group(leader: int) -> list[int]:
    """Living processes of a process group (Linux: the fifth field of /proc/PID/stat, state Z excluded)."""
    found = []
    for entry in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = entry.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[2]) == leader and fields[0] != "Z":
            found.append(int(entry.parent.name))
    return found


def _alive(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True
