"""Ctrl-C and SIGTERM end every command in order, and a kill spoils nothing that the next run reads or writes."""

import os
import signal
import sys
from random import Random
from time import sleep

import pytest

from matcher import __main__ as program
from tests.interruptions import Place, tried

IMPORTED = """
import os, signal
os.kill(os.getpid(), signal.SIGINT)
for _ in range(1000):
    pass
whole = True
"""


def ended_with(monkeypatch, capsys, command):
    """Exit code and standard error of the program where its command does this."""
    monkeypatch.setattr("matcher.cli.app", command)
    with pytest.raises(SystemExit) as ended:
        program.main()
    return ended.value.code, capsys.readouterr().err


@pytest.mark.parametrize(("number", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_a_signal_lets_the_command_clear_away(monkeypatch, capsys, number, code):
    cleared = []

    def command():
        try:
            os.kill(os.getpid(), number)
            sleep(5)
        finally:
            cleared.append("temporary files")

    assert ended_with(monkeypatch, capsys, command) == (code, "stopped\n")
    assert cleared


def test_a_signal_in_the_middle_of_an_import_is_heard_after_it(monkeypatch, capsys, tmp_path):
    (tmp_path / "half_imported.py").write_text(IMPORTED, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)

    def command():
        import half_imported  # noqa: F401

        sleep(5)

    assert ended_with(monkeypatch, capsys, command) == (130, "stopped\n")
    assert sys.modules.pop("half_imported").whole


def test_signals_mean_afterwards_what_they_meant_before(monkeypatch, capsys):
    before = signal.getsignal(signal.SIGINT), signal.getsignal(signal.SIGTERM)
    ended_with(monkeypatch, capsys, lambda: sys.exit(0))
    assert (signal.getsignal(signal.SIGINT), signal.getsignal(signal.SIGTERM)) == before


@pytest.mark.slow
@pytest.mark.parametrize("name", ["plan", "compare by processes", "sweep", "check into a folder"])
def test_what_is_ended_at_random_moments_leaves_nothing_broken(tmp_path, name):
    found = tried(Place(tmp_path / "place"), name, Random(f"20 {name}"), times=3)
    assert found.ended.total() == 3
    assert not found.wrong
