"""``matcher release``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from matcher.cli.kept import counting
from matcher.cli.options import AddToOption, CabinetArg, JsonOption, KeepOption, SetArg, SourceOptions, WishOptions
from matcher.cli.progress import goal_progress
from matcher.cli.running import EXITS, before_writing, best_so_far, show

PREFIX_HELP = "What new parts begin with, such as F-; numbers go on after those there are."
OUT_HELP = "Copy the catalogue with the new rows, and plan.json, to a new FOLDER; or to a new FILE.xlsx."


def release(
    source: SourceOptions,
    set_name: SetArg,
    cabinet: CabinetArg,
    wished: WishOptions,
    part_prefix: Annotated[str, typer.Option("--part-prefix", metavar="PREFIX", help=PREFIX_HELP)],
    keep: KeepOption = None,
    add_to: AddToOption = None,
    json: JsonOption = False,
    out: Annotated[Path | None, typer.Option("--out", metavar="PATH", help=OUT_HELP)] = None,
) -> None:
    """Which parts does a plan become?"""
    from matcher.catalogue import plan_beside, write_release
    from matcher.planning import Fits, answer, ask, with_best_part
    from matcher.report import check_copy, json_text, release_document, release_view
    from matcher.studies import check_prefix, new_rows, released_as

    check_prefix(part_prefix)
    if out:
        check_copy(out, source.catalogue)
    read, rules = source.load()
    question = counting(ask(read, rules, set_name, cabinet, wished.wishes(keep, add_to=add_to)), keep)
    with before_writing([out] if out else None), best_so_far(), goal_progress(json) as told:
        outcome = with_best_part(answer(question, told))
    plan = released_as(outcome, read, part_prefix) if isinstance(outcome, Fits) else None
    document = release_document(outcome, plan)
    if out and plan:
        for left in write_release(source.catalogue, out, new_rows(plan), json_text(document)):
            typer.echo(f"note: {left}", err=True)
        typer.echo(f"{out}: written; 'matcher check {out} --plan {plan_beside(out)}' tells whether it holds", err=True)
    elif out:
        typer.echo(f"not written: {out}", err=True)
    show(document, lambda: release_view(outcome, plan), json)
    raise typer.Exit(EXITS[outcome.verdict])
