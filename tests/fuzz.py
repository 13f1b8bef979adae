"""Mutated input for every reader and for two commands, guided by which lines of the program it reaches.

``python -m tests.fuzz --seconds 60 --seed 1`` tries as many inputs as the seconds allow and tells what came of them. An
input that reaches a line that none before it reached is kept and mutated again; that is all its guidance. A finding is
an input that ends in an error other than the program's own ones, in a wrong exit code, or not within twenty seconds.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import random
import resource
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import CodeType, FrameType
from typing import Any, TypeAlias

from matcher.__main__ import main as command
from matcher.catalogue.reading import read_catalogue
from matcher.house.reading import read_house
from matcher.records.errors import MatcherError
from matcher.tools.notation import SizingError
from matcher.tools.outline_files import outline_reading
from tests.fuzz_inputs import Files, mutated, seeds

ROOM = str(Path(__file__).resolve().parents[1] / "matcher")
SECONDS, SPACE = 20, 4 * 10**9
"""That one input may take, and bytes of address space for all."""
ANSWERED = {0, 1, 3}
"""Exit codes of an answer."""
Tracer: TypeAlias = Callable[[FrameType, str, Any], Any]


class WrongEndError(Exception):
    """A command that ended as none may end."""


class OverdueError(BaseException):
    """An input that took too long; no error handler of the program catches it."""


@dataclass
class Target:
    """What is fuzzed: how its files are read, and the inputs that are mutated, more often those that were read."""

    name: str
    read: Callable[[Path], object]
    kept: list[Files]
    refused: list[Files] = field(default_factory=list)
    outcomes: Counter[str] = field(default_factory=Counter)
    findings: dict[str, Files] = field(default_factory=dict)


# --------------------------------------------------------------------------------------------- which lines were reached


class Reached:
    """Lines of the program that any input has reached; before Python 3.12 found by tracing."""

    def __init__(self) -> None:
        self.lines: set[tuple[CodeType, int]] = set()
        if hasattr(sys, "monitoring"):
            monitoring = sys.monitoring
            monitoring.use_tool_id(monitoring.COVERAGE_ID, "fuzz")
            monitoring.register_callback(monitoring.COVERAGE_ID, monitoring.events.LINE, self._line)
            monitoring.set_events(monitoring.COVERAGE_ID, monitoring.events.LINE)

    def _line(self, code: CodeType, line: int) -> object:
        if code.co_filename.startswith(ROOM):
            self.lines.add((code, line))
        return sys.monitoring.DISABLE

    def _called(self, frame: FrameType, _event: str, _argument: object) -> Tracer | None:
        return self._within if frame.f_code.co_filename.startswith(ROOM) else None

    def _within(self, frame: FrameType, _event: str, _argument: object) -> Tracer:
        self.lines.add((frame.f_code, frame.f_lineno))
        return self._within

    @contextlib.contextmanager
    def watching(self) -> Iterator[None]:
        """Within it lines are noticed."""
        if hasattr(sys, "monitoring"):
            yield
            return
        sys.settrace(self._called)
        try:
            yield
        finally:
            sys.settrace(None)

    def stop(self) -> None:
        """Notice no line any more."""
        if hasattr(sys, "monitoring"):
            sys.monitoring.set_events(sys.monitoring.COVERAGE_ID, 0)
            sys.monitoring.free_tool_id(sys.monitoring.COVERAGE_ID)


# ---------------------------------------------------------------------------------------------------------- the targets


def run_command(*words: object) -> None:
    """Call the command; raises where its exit code, its standard error or what it leaves behind is wrong."""
    out, err, argv = io.StringIO(), io.StringIO(), sys.argv
    sys.argv, code = ["matcher", *map(str, words)], 0
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            command()
    except SystemExit as ended:
        code = int(ended.code or 0)
    finally:
        sys.argv = argv
    lines = err.getvalue().splitlines()
    if code == 2 and lines and all(line.startswith("error: ") for line in lines) and not out.getvalue():
        raise MatcherError
    if code not in ANSWERED:
        raise WrongEndError(f"exit code {code}: {lines[:1]}")


def check_and_fit(folder: Path) -> None:
    """A catalogue through ``check``, then its first set through ``fit`` in one cabinet."""
    run_command("check", folder)
    known = read_catalogue(folder)
    sets = sorted({piece.set for piece in known.pieces} | {row.set for row in known.organizers})
    run_command("fit", folder, "--no-store", "--", sets[0], known.cabinets[0].name)


def targets() -> list[Target]:
    """Everything that is fuzzed."""
    reads: Mapping[str, Callable[[Path], object]] = {
        "tables": read_catalogue,
        "workbook": lambda folder: read_catalogue(folder / "book.xlsx"),
        "house": lambda folder: read_house(folder / "house.toml"),
        "svg": lambda folder: outline_reading(folder / "piece.svg"),
        "dxf": lambda folder: outline_reading(folder / "piece.dxf"),
        "commands": check_and_fit,
    }
    return [Target(name, read, seeds(name)) for name, read in reads.items()]


# ------------------------------------------------------------------------------------------------------------- the loop


def outcome(target: Target, files: Files, reached: Reached) -> str:
    """Read, refused, or what went wrong, with the line of the program where it did."""

    def overdue(*_: object) -> None:
        raise OverdueError

    before = signal.signal(signal.SIGALRM, overdue)
    signal.alarm(SECONDS)
    try:
        with tempfile.TemporaryDirectory() as made, reached.watching():
            for name, content in files.items():
                (Path(made) / name).write_bytes(content)
            target.read(Path(made))
    except (MatcherError, SizingError):
        return "refused"
    except (Exception, OverdueError) as failed:
        ours = [frame for frame in traceback.extract_tb(failed.__traceback__) if frame.filename.startswith(ROOM)]
        place = f" at {Path(ours[-1].filename).name}, line {ours[-1].lineno}" if ours else ""
        return f"{type(failed).__name__}{place}: {str(failed)[:120]}"
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)
    return "read"


def tried(target: Target, dice: random.Random, reached: Reached) -> None:
    """One more mutated input of a target."""
    base = target.refused if target.refused and dice.random() < 0.25 else target.kept
    files, known = mutated(target.name, dice.choice(base), dice), len(reached.lines)
    found = outcome(target, files, reached)
    if found in ("read", "refused"):
        target.outcomes[found] += 1
        if len(reached.lines) > known:
            (target.kept if found == "read" else target.refused).append(files)
    else:
        target.outcomes["findings"] += 1
        target.findings.setdefault(found, files)


def fuzzed(seed: int, goes_on: Callable[[int], bool], only: str = "") -> list[Target]:
    """All targets in turn, an input each, as long as ``goes_on`` says so of the number of rounds done."""
    dice, reached, rounds = random.Random(seed), Reached(), 0
    chosen = [target for target in targets() if only in ("", target.name)]
    try:
        for target in chosen:
            for files in target.kept:
                first = outcome(target, files, reached)
                assert first in ("read", "refused"), f"{target.name}: {first}"
        while goes_on(rounds):
            for target in chosen:
                tried(target, dice, reached)
            rounds += 1
    finally:
        reached.stop()
    return chosen


def main() -> None:
    """Fuzz, print what came of it, write findings to a folder; exit code 1 where there are some."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--target", default="", help="only this one")
    parser.add_argument("--keep", type=Path, default=Path("fuzz_findings"), help="folder for inputs that failed")
    asked = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_AS, (SPACE, resource.getrlimit(resource.RLIMIT_AS)[1]))
    os.environ["PYTHONWARNINGS"] = "ignore"
    ends = time.monotonic() + asked.seconds
    done = fuzzed(asked.seed, lambda _: time.monotonic() < ends, asked.target)
    for target in done:
        print(
            f"{target.name}: {target.outcomes.total()} tried",
            dict(target.outcomes),
            f"{len(target.kept) + len(target.refused)} kept",
        )
        for number, (told, files) in enumerate(target.findings.items()):
            place = asked.keep / f"{target.name}-{asked.seed}-{number}"
            place.mkdir(parents=True, exist_ok=True)
            for name, content in files.items():
                (place / name).write_bytes(content)
            print(f"  {place}: {told}")
    sys.exit(any(target.findings for target in done))


if __name__ == "__main__":
    main()
