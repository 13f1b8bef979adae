"""``matcher changes``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from matcher.cli.options import JsonOption, NoStoreOption, OutOption, SourceOptions
from matcher.cli.progress import progress
from matcher.cli.running import EXITS, before_writing, show


def changes(
    old: Annotated[Path, typer.Argument(metavar="OLD", help="The catalogue as it was.")],
    new: Annotated[Path, typer.Argument(metavar="NEW", help="The catalogue as it is now.")],
    no_store: NoStoreOption = False,
    json: JsonOption = False,
    out: OutOption = None,
) -> None:
    """What do the edits of a catalogue do to bundles, foam and stock?"""
    from matcher.report import change_rows, changes_document, changes_view, check_writers, csv_text, json_text, write
    from matcher.studies import changes_between, worst_of

    check_writers(out, (".json", ".csv"), sources=[old, new])
    known = (SourceOptions(old, no_store=no_store).load(), SourceOptions(new, no_store=no_store).load())
    with before_writing(out), progress(json) as told:
        found = changes_between(*known, told)
    document = changes_document(found)
    write(out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(change_rows(found))})
    show(document, lambda: changes_view(found), json)
    raise typer.Exit(EXITS[worst_of(found.bundles)])
