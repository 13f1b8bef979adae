"""``matcher compare`` without a set: every set against every cabinet."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from operator import itemgetter
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from matcher.cli.options import CrewOptions
from matcher.cli.progress import shown
from matcher.cli.running import crew_for
from matcher.records import FailedError

BEGUN = "reading groups and drawers"

if TYPE_CHECKING:
    from matcher.house import House
    from matcher.records import Catalogue


def screen_all(read: Catalogue, rules: House, cabinets: list[str], out: list[Path], crew_asked: CrewOptions) -> None:
    """Screen, stream the pairs to the files, print the summary."""
    from matcher.report import COLUMNS, screened, screening_view, show
    from matcher.screening import Tally, sweep

    asked = sweep(read, rules, (), cabinets)
    crew = crew_for(crew_asked, worth=asked.large)
    tally, faults = Tally(), list[str]()
    at = {name: place for place, name in enumerate(COLUMNS)}
    counted = itemgetter(*(at[name] for name in ("set", "cabinet", "verdict", "fewest_free")))
    with _said_what_is_kept(out), _bar() as told, closing(screened(asked, out, crew, told)) as blocks:
        for rows in blocks:
            tally.add(map(counted, rows))
            failed = [row for row in rows if row[at["decided_by"]] == "fault"]
            faults += [f"{row[at['set']]} in {row[at['cabinet']]}: {row[at['reason']]}" for row in failed]
    show(screening_view(tally))
    if faults:
        raise FailedError(faults)


@contextmanager
def _said_what_is_kept(out: list[Path]) -> Iterator[None]:
    """Within it Ctrl-C says that no file is written yet, and where that is kept which was worked out."""
    try:
        yield
    except KeyboardInterrupt:
        if out:
            told = f"{', '.join(map(str, out))}: not written; what was done is kept in {out[0]}.parts"
            typer.echo(f"{told}: the same command goes on from there", err=True)
        raise


@contextmanager
def _bar() -> Iterator[Callable[[str, int, int], None] | None]:
    """A bar for each stage on standard error with rate and time left; where no bar can be drawn, lines."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    console = Console(stderr=True)
    if not console.is_terminal:
        with shown(json=False, begun=BEGUN) as show:
            yield show and (lambda stage, done, total: show(done, total, stage))
        return
    rate = TextColumn("{task.fields[rate]}")
    bar = Progress(
        TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), rate, TimeRemainingColumn(),
        console=console, transient=True,
    )  # fmt: skip
    with bar:
        tasks = {stage: bar.add_task(stage, total=None, visible=False, rate="") for stage in ("groups", "pairs")}

        def told(stage: str, done: int, total: int) -> None:
            bar.update(tasks[stage], completed=done, total=total, visible=True)
            speed = bar.tasks[tasks[stage]].speed
            bar.update(tasks[stage], rate=f"{speed:,.0f}/s" if speed else "")

        yield told
