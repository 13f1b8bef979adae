"""What every command does round its one call: reads the catalogue, tells progress, hears Ctrl-C, prints."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from threading import Timer
from typing import TYPE_CHECKING, Any

import typer

if TYPE_CHECKING:
    from matcher.cli.options import CrewOptions
    from matcher.report import Writers
    from matcher.screening import Crew

YES, NO, OPEN = 0, 1, 3
EXITS = {"fits": YES, "does not fit": NO, "undecided": OPEN, "depends on the tape": OPEN}
"""Exit code of a command by the verdict it found; what depends on the tape is not decided."""
PATIENCE = 1.0
"""Seconds after which somebody who watches is told what is going on."""
GOALS = 5
PAIRS_WORTH_WORKERS = 12
"""Plans from which on processes save more time than their start takes, in round figures."""
STOPPING = "stopping with the best plan so far, or the first one there is; Ctrl-C again ends at once"


def crew_for(asked: CrewOptions, *, worth: bool) -> Crew:
    """The crew that the options name; if they name none, a process for each core where that is ``worth`` its start."""
    from matcher.screening import Crew, crew_of

    return crew_of(asked.workers, asked.scheduler) if asked.workers or asked.scheduler or worth else Crew()


def write_or_say(out: Iterable[Path] | None, writers: Writers) -> None:
    """Write the files; where the answer has nothing for one, a line on standard error says so."""
    from matcher.report import write

    for lacking in write(out, writers):
        typer.echo(lacking, err=True)


def show(document: Any, view: Callable[[], Any], json: bool) -> None:
    """Print the document as JSON, or else the view."""
    from matcher.report import json_text, print_out
    from matcher.report import show as shown

    if json:
        print_out(json_text(document), sys.stdout)
    else:
        shown(view())


@contextmanager
def progress(json: bool) -> Iterator[Callable[[int, int, str], None] | None]:
    """A bar on standard error with the cabinet that is being planned; nothing where nobody watches."""
    with _bar(json) as show:
        yield show and (lambda done, total, name: show(done, total, f"planning {name}" if name else ""))


@contextmanager
def goal_progress(json: bool) -> Iterator[Callable[[str, int, int], None] | None]:
    """A bar on standard error with what is being proved, its value and bound; nothing where nobody watches."""
    with _bar(json) as show:
        yield show and _goals_told(show)


@contextmanager
def before_writing(out: Iterable[Path] | None) -> Iterator[None]:
    """Within it no file named with --out is written yet; Ctrl-C says so."""
    try:
        yield
    except KeyboardInterrupt:
        if out:
            typer.echo(f"not written: {', '.join(map(str, out))}", err=True)
        raise


def show_so_far(view: Callable[[], Any], words: Iterable[str], json: bool) -> None:
    """What was found before Ctrl-C, and words on the rest; for JSON only these, as there is no whole document."""
    from rich.console import Group as Stack
    from rich.text import Text

    from matcher.report import show as shown

    if json:
        typer.echo("\n".join(words), err=True)
    else:
        shown(Stack(view(), *map(Text, words)))


def best_so_far() -> AbstractContextManager[None]:
    """Within it the first Ctrl-C ends the search with the best plan so far, a second one the program."""
    from matcher.packing import stoppable

    return stoppable(lambda: typer.echo(f"\n{STOPPING}", err=True))


def _goals_told(show: Callable[[int, int, str], None]) -> Callable[[str, int, int], None]:
    goals: dict[str, tuple[int, int]] = {}

    def told(name: str, value: int, bound: int) -> None:
        goals[name] = value, bound
        done = sum(value == bound for value, bound in goals.values())
        open_goals = [f"{name} {value} (bound {bound})" for name, (value, bound) in goals.items() if value != bound]
        show(done, GOALS, "proving " + ", ".join(open_goals) if open_goals else "goals proved so far")

    return told


@contextmanager
def _bar(json: bool) -> Iterator[Callable[[int, int, str], None] | None]:
    """What shows (done, total, words); the bar appears after a second and goes when the work is done."""
    if json or sys.stderr is None or not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn
    from rich.table import Column

    words = TextColumn("{task.description}", markup=False, table_column=Column(ratio=1, no_wrap=True))
    plain = BarColumn(12, "dim", "default", "default", "default")
    columns = (plain, TimeElapsedColumn(), words)
    bar = Progress(*columns, console=Console(stderr=True), transient=True, expand=True, refresh_per_second=4)
    task = bar.add_task("laying out organizers, looking for a plan", total=None)
    late = Timer(PATIENCE, bar.start)
    late.start()
    try:
        yield lambda done, total, told: bar.update(task, completed=done, total=total, description=told)
    finally:
        late.cancel()
        late.join()
        bar.stop()
