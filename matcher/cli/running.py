"""What every command does round its one call: hears Ctrl-C, writes, prints."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

if TYPE_CHECKING:
    from matcher.cli.options import CrewOptions
    from matcher.report import Writers
    from matcher.screening import Crew

YES, NO, OPEN = 0, 1, 3
EXITS = {"fits": YES, "does not fit": NO, "undecided": OPEN, "depends on the tape": OPEN}
"""Exit code of a command by the verdict it found; what depends on the tape is not decided."""
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
