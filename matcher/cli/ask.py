"""``matcher ask``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from matcher.cli.options import JsonOption, SourceOptions, WishOptions
from matcher.cli.progress import shown
from matcher.cli.running import EXITS, OPEN, before_writing, show

QUESTION_HELP = "'GROUP of SET in 22 1/4 x 16 3/8 x 2 3/4', 'SET in 3 of 565 x 415 x ? mm; ~560 x 415 x 120 mm'."
OUT_HELP = "Also write to FILE.json; repeatable."


def ask(
    source: SourceOptions,
    question: Annotated[str, typer.Argument(metavar="QUESTION", help=QUESTION_HELP)],
    wished: WishOptions,
    json: JsonOption = False,
    out: Annotated[list[Path] | None, typer.Option("--out", metavar="FILE", help=OUT_HELP)] = None,
) -> None:
    """Does this go into these drawers, as told on the phone?"""
    from matcher.catalogue import split_question
    from matcher.report import asked_document, asked_view, check_writers, json_text, write
    from matcher.studies import ask_drawers

    check_writers(out, (".json",), sources=[source.catalogue])
    what, drawers = split_question(question)
    read, rules = source.load()
    with before_writing(out), shown(json):
        asked = ask_drawers(read, rules, what, drawers, wished.wishes())
    document = asked_document(asked)
    write(out, {".json": lambda: json_text(document)})
    show(document, lambda: asked_view(asked), json)
    raise typer.Exit(EXITS.get(asked.verdict, OPEN))
