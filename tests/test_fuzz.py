"""A short run of the fuzzing of readers and commands; a long one: ``python -m tests.fuzz --seconds 600``."""

from __future__ import annotations

import sys
import time
from datetime import UTC, datetime

import pytest

from tests import fuzz
from tests.fuzz import ROOM, Reached, Target, fuzzed, outcome, run_command

ROUNDS = 60
"""Inputs of each target."""


@pytest.mark.slow
def test_no_mutated_input_ends_otherwise_than_read_or_refused():
    """Other inputs every day; the day's number is the seed, with which a finding can be made again."""
    seed = datetime.now(UTC).date().toordinal()
    done = fuzzed(seed, lambda rounds: rounds < ROUNDS)
    assert {target.name: list(target.findings) for target in done if target.findings} == {}, f"seed {seed}"
    for target in done:
        assert target.outcomes.total() == ROUNDS
        assert target.outcomes["refused"], target.name


def reading(read) -> str:
    reached = Reached()
    try:
        return outcome(Target("it", read, []), {"a.csv": b"x"}, reached)
    finally:
        reached.stop()


def test_what_goes_wrong_is_a_finding(monkeypatch):
    assert reading(lambda folder: (folder / "a.csv").read_bytes()) == "read"
    assert reading(lambda folder: run_command("check", folder)) == "refused"
    assert reading(lambda _: 1 // 0).startswith("ZeroDivisionError")
    monkeypatch.setattr(fuzz, "SECONDS", 1)
    assert reading(lambda _: time.sleep(9)).startswith("OverdueError")
    assert reading(lambda _: run_command("check", "--no-such-option")).startswith("WrongEndError: exit code 2")


def test_lines_of_the_program_are_noticed():
    reached = Reached()
    before = sys.gettrace()
    try:
        outcome(Target("it", lambda folder: run_command("check", folder), []), {"a.csv": b"x"}, reached)
    finally:
        reached.stop()
    assert sys.gettrace() is before
    assert any(code.co_filename.startswith(ROOM) for code, _ in reached.lines)
