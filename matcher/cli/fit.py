"""``matcher fit``."""

from __future__ import annotations

import typer

from matcher.cli.options import (
    CabinetsArg,
    CatalogueArg,
    FillOption,
    GoalsOption,
    HouseOption,
    JsonOption,
    KeepFreeOption,
    OffOption,
    OutOption,
    PinOption,
    SetArg,
    TierOption,
)
from matcher.cli.running import NO, OPEN, YES, load, progress, show, wishes_of


def fit(
    catalogue: CatalogueArg,
    set_name: SetArg,
    cabinets: CabinetsArg = None,
    pin: PinOption = None,
    keep_free: KeepFreeOption = None,
    tier: TierOption = "",
    goals: GoalsOption = "",
    off: OffOption = None,
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

    check_writers(out, (".json", ".csv"))
    wishes = wishes_of(fill, pin, keep_free, tier, goals, off)
    read, rules = load(catalogue, house)
    found = compared(read, rules, set_name, cabinets or (), told=progress(json), wishes=wishes)
    outcomes = [variant.outcome for variant in found.variants]
    document = [plan_document(outcome) for outcome in outcomes]
    show(document, lambda: fit_view(outcomes), json)
    rows = comparison_document(found)["variants"]
    write(out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(rows)})
    verdicts = {outcome.verdict for outcome in outcomes}
    raise typer.Exit(NO if "does not fit" in verdicts else OPEN if "undecided" in verdicts else YES)
