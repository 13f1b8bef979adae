"""``matcher offer``."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated

import typer

from matcher.cli.numbers import plain_number, plain_whole
from matcher.cli.options import CrewOptions, FillOption, JsonOption, OutOption, SourceOptions, WhyOption, filling
from matcher.cli.progress import progress
from matcher.cli.running import PAIRS_WORTH_WORKERS, before_writing, crew_for, show

MOST, MONEY = plain_whole(0, 1_000_000), plain_number(0, 1_000_000_000)


def offer(
    source: SourceOptions,
    asked: CrewOptions,
    bundle: Annotated[
        str | None,
        typer.Argument(metavar="[BUNDLE]", help="One bundle of the offer, as 'SET in CABINET': the rows behind it."),
    ] = None,
    max_new_sizes: Annotated[
        int | None,
        typer.Option("--max-new-sizes", metavar="NUMBER", parser=MOST, help="At most so many new sizes."),
    ] = None,
    budget: Annotated[
        Decimal | None,
        typer.Option("--budget", metavar="MONEY", parser=MONEY, help="Most money for set-up of new sizes."),
    ] = None,
    max_bundles: Annotated[
        int | None, typer.Option("--max-bundles", metavar="NUMBER", parser=MOST, help="At most so many bundles.")
    ] = None,
    each_set: Annotated[bool, typer.Option("--each-set", help="At least one bundle of every set.")] = False,
    fill: FillOption = None,
    why: WhyOption = False,
    json: JsonOption = False,
    out: OutOption = None,
) -> None:
    """Which bundles, with which few new foam sizes?"""
    from matcher.offer import bundle_named, limits_of, plan_offer
    from matcher.report import (
        Writers,
        bundle_rows,
        bundle_trace_view,
        check_writers,
        csv_text,
        json_text,
        offer_book,
        offer_document,
        offer_page,
        offer_view,
        write,
    )
    from matcher.screening import gathered

    check_writers(out, (".json", ".csv", ".xlsx", ".html"), sources=[source.catalogue])
    read, rules = source.load()
    limits = limits_of(rules, max_new_sizes, None if budget is None else float(budget), max_bundles, each_set=each_set)
    if bundle is not None:
        bundle_named(read, bundle)
    crew = crew_for(asked, worth=len(read.demand) >= PAIRS_WORTH_WORKERS)
    with before_writing(out), gathered(crew) as hands, progress(json) as told:
        found = plan_offer(read, rules, limits, filling(fill), told, hands)
    document = offer_document(found)
    writers: Writers = {
        ".json": lambda: json_text(document),
        ".csv": lambda: csv_text(bundle_rows(document)),
        ".xlsx": lambda: offer_book(document),
        ".html": lambda: offer_page(found),
    }
    write(out, writers)
    show(document, lambda: bundle_trace_view(found, bundle) if bundle else offer_view(found, why=why), json)
