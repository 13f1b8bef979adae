"""``matcher fit``."""

from __future__ import annotations

import typer

from matcher.cli.options import CabinetsArg, CatalogueArg, FillOption, HouseOption, JsonOption, OutOption, SetArg
from matcher.cli.running import NO, OPEN, YES, filling, load, progress, show


def fit(
    catalogue: CatalogueArg,
    set_name: SetArg,
    cabinets: CabinetsArg = None,
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: OutOption = None,
) -> None:
    """Will it fit, and if not, what is short?"""
    from matcher.comparison import compare as compared
    from matcher.report.document import comparison_document, plan_document
    from matcher.report.files import check_writers, csv_text, json_text, write
    from matcher.report.terminal import fit_view
    from matcher.report.workbook import fit_book

    check_writers(out, (".json", ".csv", ".xlsx"))
    read, rules = load(catalogue, house)
    with progress(json) as told:
        found = compared(read, rules, set_name, cabinets or (), filling(fill), told=told)
    outcomes = [variant.outcome for variant in found.variants]
    document = [plan_document(outcome) for outcome in outcomes]
    show(document, lambda: fit_view(outcomes), json)
    rows = comparison_document(found)["variants"]
    write(
        out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(rows), ".xlsx": lambda: fit_book(document)}
    )
    verdicts = {outcome.verdict for outcome in outcomes}
    raise typer.Exit(NO if "does not fit" in verdicts else OPEN if "undecided" in verdicts else YES)
