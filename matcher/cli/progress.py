"""Progress on standard error: a bar on a terminal, elsewhere a line every few seconds; nothing beside JSON."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Thread, Timer
from time import monotonic
from typing import TypeAlias

import typer

PATIENCE = 1.0
"""Seconds after which the bar appears."""
EVERY = 5.0
"""Seconds between two lines where no bar can be drawn."""
GOALS = 5
BEGUN = "laying out organizers, looking for a plan"

Shown: TypeAlias = Callable[[int, int, str], None]
"""Takes how much is done, of how much, and words; of how much is 0 where that is not known."""


@contextmanager
def progress(json: bool) -> Iterator[Callable[[int, int, str], None] | None]:
    """What tells the cabinet that is being planned."""
    with shown(json) as show:
        yield show and (lambda done, total, name: show(done, total, f"planning {name}" if name else ""))


@contextmanager
def goal_progress(json: bool) -> Iterator[Callable[[str, int, int], None] | None]:
    """What tells which goals are being proved, with their values and bounds in words."""
    with shown(json) as show:
        yield show and _goals_told(show)


@contextmanager
def shown(json: bool, begun: str = BEGUN) -> Iterator[Shown | None]:
    """What shows progress while the work goes on, first of all the words ``begun``."""
    if json or sys.stderr is None:
        yield None
    elif sys.stderr.isatty():
        with _bar(begun) as show:
            yield show
    else:
        with _lines(begun) as show:
            yield show


def _goals_told(show: Shown) -> Callable[[str, int, int], None]:
    goals: dict[str, tuple[int, int]] = {}

    def told(name: str, value: int, bound: int) -> None:
        goals[name] = value, bound
        proved = sum(value == bound for value, bound in goals.values())
        open_goals = [_goal_words(name, *known) for name, known in goals.items() if known[0] != known[1]]
        show(proved, GOALS, f"proving {', '.join(open_goals)}" if open_goals else "goals proved so far")

    return told


def _goal_words(name: str, value: int, bound: int) -> str:
    """A goal that is open; the number of drawers goes without its words, as it may be free or used ones."""
    from matcher.planning import in_words

    if name == "drawers":
        return f"drawers {value} (at best {bound})"
    return f"{name} {in_words(name, value, 'spread')} (at best {in_words(name, bound, 'spread')})"  # type: ignore[arg-type]


@contextmanager
def _bar(begun: str) -> Iterator[Shown]:
    """A bar that appears after a moment and goes when the work is done."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn
    from rich.table import Column

    words = TextColumn("{task.description}", markup=False, table_column=Column(ratio=1, no_wrap=True))
    plain = BarColumn(12, "dim", "default", "default", "default")
    columns = (plain, TimeElapsedColumn(), words)
    bar = Progress(*columns, console=Console(stderr=True), transient=True, expand=True, refresh_per_second=4)
    task = bar.add_task(begun, total=None)
    late = Timer(PATIENCE, bar.start)
    late.start()
    try:
        yield lambda done, total, told: bar.update(task, completed=done, total=total or None, description=told)
    finally:
        late.cancel()
        late.join()
        bar.stop()


@contextmanager
def _lines(begun: str) -> Iterator[Shown]:
    """A line every few seconds with what is known by then."""
    start, ended = monotonic(), Event()
    known = 0, 0, begun

    def show(done: int, total: int, words: str) -> None:
        nonlocal known
        known = done, total, words

    def tell() -> None:
        while not ended.wait(EVERY):
            done, total, words = known
            of = f"{done} of {total}, " if total else ""
            typer.echo(f"{monotonic() - start:.0f} s: {of}{words}", err=True)

    teller = Thread(target=tell, daemon=True)
    teller.start()
    try:
        yield show
    finally:
        ended.set()
        teller.join()
