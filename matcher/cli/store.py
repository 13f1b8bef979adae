"""``matcher store``."""

from __future__ import annotations

from typing import Annotated

import typer

from matcher.cli.options import JsonOption, store_folder
from matcher.cli.running import show


def store(
    empty: Annotated[bool, typer.Option("--empty", help="Delete all that is kept; nothing but time is lost.")] = False,
    json: JsonOption = False,
) -> None:
    """Where is kept what earlier runs worked out, and how much?"""
    from matcher.records import Store, UsageError
    from matcher.report import store_document, store_line

    folder = store_folder()
    if folder is None:
        raise UsageError("this user has no home folder, so nothing is kept; set XDG_CACHE_HOME to a folder for it")
    kept = Store(folder)
    gone = kept.empty() if empty else None
    held = kept.extent()
    show(store_document(kept.folder, held, gone), lambda: store_line(kept.folder, held, gone), json)
