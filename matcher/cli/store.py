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
    from matcher.records import Store
    from matcher.report import store_document, store_line

    kept = Store(store_folder())
    gone = kept.empty() if empty else None
    held = kept.extent()
    show(store_document(kept.folder, held, gone), lambda: store_line(kept.folder, held, gone), json)
