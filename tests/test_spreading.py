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

from matcher.records.errors import BrokenPlanError, CatalogueError, CellError, MissingExtraError, UsageError
from matcher.screening.crews import Crew, SpreadingError, crew_of
from matcher.screening.hands import gathered, spread
from matcher.screening.processes import TIMES, _uninterrupted
from tests.cluster import Cluster, cluster

ROOT = Path(__file__).resolve().parents[1]
ITEMS = range(12)


def scaled(factor: int, item: int) -> tuple[int, int]:
    """An answer and who gave it."""
    time.sleep(0.02)
    return factor * item, os.getpid()


class TwoWordsError(Exception):
    """It cannot be made again from its text, as the pickling of exceptions tries to."""

    def __init__(self, one: str, other: str):
        super().__init__(f"{one}, {other}")


CELLS = tuple(CellError("tools.csv", row, "size", "13", "a width") for row in (2, 3))
FAULTS = {
    "usage": UsageError("item 3 is refused"),
    "catalogue": CatalogueError(CELLS),
    "broken plan": BrokenPlanError("tray 1 overlaps tray 2"),
    "stranger": TwoWordsError("one", "other"),
}


def refused(fault: str, item: int) -> int:
    if item == 3:
        raise FAULTS[fault]
    return item


def dying(log: str, item: int) -> int:
    """End the process that does item 3, each time noted in a file."""
    if item == 3:
        with Path(log).open("a") as stream:
            stream.write("died\n")
        os._exit(1)
    return item


def listening(_: int, item: int) -> list[str]:
    """Sockets of this process and of the one that started it that others could connect to, by any protocol.

    In Linux's /proc/net/tcp state 0A is LISTEN; a named socket in /proc/net/unix is one that others find.
    """
    time.sleep(0.05)
    ours = {link for process in (os.getpid(), os.getppid()) for link in _sockets(process)}
    found = []
    for table in ("tcp", "tcp6"):
        rows = [row.split() for row in Path(f"/proc/net/{table}").read_text().splitlines()[1:]]
        found += [f"{table} {row[1]}" for row in rows if row[3] == "0A" and row[9] in ours]
    named = [row.split() for row in Path("/proc/net/unix").read_text().splitlines()[1:]]
    return found + [row[7] for row in named if len(row) > 7 and row[6] in ours]


def _sockets(process: int) -> list[str]:
    """Numbers of the sockets a process holds."""
    links = []
    for handle in Path(f"/proc/{process}/fd").iterdir():
        try:
            links.append(str(handle.readlink()))
        except OSError:  # closed meanwhile
            continue
    return [link[len("socket:[") : -1] for link in links if link.startswith("socket:[")]


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
def test_a_process_killed_in_mid_run_changes_nothing() -> None:
    with spread(scaled, 7, range(60), Crew(2)) as results:
        found = [next(results) for _ in range(10)]
        os.kill(found[-1][1], signal.SIGKILL)
        found += results
    assert [answer for answer, _ in found] == [7 * item for item in range(60)]


@pytest.mark.slow
def test_a_process_killed_between_two_tasks_changes_nothing() -> None:
    with gathered(Crew(2)) as hands:
        workers = {worker for _, worker in hands.results(scaled, 7, ITEMS)}
        for worker in workers:
            os.kill(worker, signal.SIGKILL)
        assert [answer for answer, _ in hands.results(scaled, 8, ITEMS)] == [8 * item for item in ITEMS]


@pytest.mark.slow
def test_work_that_kills_every_worker_is_tried_so_often_and_then_one_clear_error(tmp_path: Path) -> None:
    log = tmp_path / "log"
    told = f"lost with the workers that did it, {TIMES} times: they were killed"
    with pytest.raises(SpreadingError, match=told), spread(dying, str(log), ITEMS, Crew(2)) as results:
        list(results)
    assert 1 <= len(log.read_text().splitlines()) <= TIMES


@pytest.mark.parametrize("crew", [Crew(), Crew(2)])
@pytest.mark.parametrize("fault", ["usage", "catalogue", "broken plan"])
def test_an_error_in_the_work_is_raised_as_it_is(crew: Crew, fault: str) -> None:
    with pytest.raises(type(FAULTS[fault])) as raised, spread(refused, fault, ITEMS, crew) as results:
        list(results)
    assert str(raised.value) == str(FAULTS[fault])
    assert vars(raised.value) == vars(FAULTS[fault]), "the command line prints the cells one by one"


@pytest.mark.parametrize("where", ["here", "cluster"])
def test_a_fault_that_cannot_be_made_again_keeps_its_text(where: str, running: Cluster) -> None:
    crew = Crew(2) if where == "here" else Crew(1, running.address)
    with pytest.raises(Exception, match="one, other"), spread(refused, "stranger", ITEMS, crew) as results:
        list(results)


def test_a_catalogue_error_comes_whole_from_a_cluster_too(running: Cluster) -> None:
    crew = Crew(1, running.address)
    with pytest.raises(CatalogueError) as raised, spread(refused, "catalogue", ITEMS, crew) as results:
        list(results)
    assert raised.value.cells == CELLS


def test_workers_started_here_listen_nowhere_and_keep_their_files_to_themselves(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever may send a worker work may run any code as this user: there is no address, no open folder."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    with spread(listening, 0, ITEMS, Crew(2)) as results:
        assert [found for found in results if found] == []
        (folder,) = tmp_path.iterdir()
        assert folder.stat().st_mode & 0o077 == 0
    assert not list(tmp_path.iterdir())


def slowly(_: int, item: int) -> int:
    time.sleep(0.2)
    return item


def test_a_scheduler_that_dies_in_mid_run_is_one_clear_error(capfd: pytest.CaptureFixture[str]) -> None:
    def dying(started: Cluster) -> None:
        with spread(slowly, 0, ITEMS, Crew(1, started.address)) as results:
            next(results)
            started.scheduler.kill()
            list(results)

    with cluster(1) as started, pytest.raises(SpreadingError, match=r"lost.*connection|connection.*lost"):
        dying(started)
    assert capfd.readouterr().err == ""


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


def test_a_cluster_without_its_extra_is_one_sentence_that_names_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """As on a machine without Dask, where processes started here do all they can with it."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    crew = Crew(1, "127.0.0.1:8786")
    with pytest.raises(MissingExtraError, match=r"'\.\[cluster\]'"), spread(scaled, 7, ITEMS, crew):
        pass
    assert [answer for answer, _ in answers(Crew(2))] == [7 * item for item in ITEMS]


def test_a_crew_has_at_least_one_worker_and_one_source() -> None:
    assert crew_of(None).workers == len(os.sched_getaffinity(0))
    with pytest.raises(UsageError, match="workers 0"):
        crew_of(0)
    with pytest.raises(UsageError, match="give one of them"):
        crew_of(2, "127.0.0.1:8786")


PROGRAM = """
import os
from matcher.screening.crews import Crew
from matcher.screening.hands import spread
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


def test_an_interrupt_while_a_process_starts_goes_afterwards_to_whoever_listens() -> None:
    """The program may have been started to ignore it, or listen itself so that a search ends with what it has."""
    heard: list[int] = []
    before = signal.signal(signal.SIGINT, lambda number, _: heard.append(number))
    try:
        with _uninterrupted():
            os.kill(os.getpid(), signal.SIGINT)
            time.sleep(0.01)
            assert heard == []
        time.sleep(0.01)
        assert heard == [signal.SIGINT]
    finally:
        signal.signal(signal.SIGINT, before)


def test_a_script_without_a_guard_is_told_so_once(tmp_path: Path) -> None:
    """Every process would start others; the reason is said by each of them, the error once."""
    script = tmp_path / "script.py"
    script.write_text(PROGRAM.format(items=12).replace('if __name__ == "__main__":', "if True:"))
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    ran = subprocess.run(
        [sys.executable, script], cwd=ROOT, env=environment, capture_output=True, text=True, timeout=60
    )
    assert ran.returncode == 1
    assert ran.stderr.count("ended while they started (a script") == 1
    assert not ran.stdout


@pytest.mark.slow
def test_processes_end_with_the_program_that_started_them_even_if_it_is_killed(tmp_path: Path) -> None:
    ran = subprocess.Popen(
        [sys.executable, "-c", PROGRAM.format(items=10_000)],
        cwd=ROOT,
        env={**os.environ, "TMPDIR": str(tmp_path)},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        start_new_session=True,
    )
    assert ran.stdout is not None
    ran.stdout.readline()
    ran.kill()
    ran.communicate(timeout=60)
    _until(lambda: not _group(ran.pid))


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
