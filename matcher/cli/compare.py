"""``matcher compare``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from matcher.cli.options import CabinetsArg, CatalogueArg, FillOption, HouseOption, JsonOption
from matcher.cli.running import filling, load, progress, show
from matcher.cli.screening import screen_all

WorkersOption = Annotated[
    int | None, typer.Option("--workers", help="Processes to spread the work over (none: one a core, if worth it).")
]
SchedulerOption = Annotated[
    str, typer.Option("--scheduler", metavar="ADDRESS", help="Use the workers of this running Dask scheduler.")
]


def compare(
    catalogue: CatalogueArg,
    set_name: Annotated[str | None, typer.Argument(metavar="[SET]", help="Name of a set (none: every set).")] = None,
    cabinets: CabinetsArg = None,
    reference: Annotated[
        str, typer.Option("--reference", help="Cabinet whose planned organizers count as existing.")
    ] = "",
    changes: Annotated[bool, typer.Option("--changes", help="Also what changes from one variant to the next.")] = False,
    workers: WorkersOption = None,
    scheduler: SchedulerOption = "",
    fill: FillOption = None,
    house: HouseOption = None,
    json: JsonOption = False,
    out: Annotated[
        list[Path] | None,
        typer.Option("--out", help="Also write to FILE: .json or .csv, without SET also .parquet; repeatable."),
    ] = None,
) -> None:
    """Which variants hold it, with how many free drawers?

    Without SET every set is screened against every cabinet: verdicts and free drawers, both ends, but no plan. With
    --json, --out FILE.json, --reference or --changes every pair is planned instead.
    """
    from rich.console import Group as Stack

    from matcher.comparison import compare as compared
    from matcher.grouping import sets_of
    from matcher.report.document import comparison_document
    from matcher.report.files import check_writers, csv_text, json_text, write
    from matcher.report.terminal import comparison_view
    from matcher.report.variant_views import steps_document, steps_view
    from matcher.spreading import crew_of
    from matcher.variants import steps

    planned = set_name or json or reference or changes or any(path.suffix.lower() == ".json" for path in out or ())
    check_writers(out, (".json", ".csv") if planned else (".csv", ".parquet"))
    crew_of(workers, scheduler)
    filled = filling(fill)
    read, rules = load(catalogue, house)
    if not planned:
        screen_all(read, rules, cabinets or [], out or [], workers, scheduler)
        return
    names = [set_name] if set_name else list(sets_of(read))
    found = [compared(read, rules, name, cabinets or (), filled, reference, told=progress(json)) for name in names]
    told = [steps(one, read, rules) if changes else () for one in found]
    documents = [comparison_document(one) for one in found]
    if changes:
        documents = [one | {"steps": steps_document(step)} for one, step in zip(documents, told, strict=True)]
    document = documents[0] if set_name else documents
    views = [view for one, step in zip(found, told, strict=True) for view in (comparison_view(one), steps_view(step))]
    show(document, lambda: Stack(*views), json)
    rows = [{"set": one["set"], **row} for one in documents for row in one["variants"]]
    write(out, {".json": lambda: json_text(document), ".csv": lambda: csv_text(rows)})
