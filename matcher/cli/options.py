"""Arguments and options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from matcher.cli.completion import cabinet_names, set_names

CatalogueArg = Annotated[Path, typer.Argument(metavar="CATALOGUE", help="Folder of CSV files, or one .xlsx workbook.")]
SET_HELP = "Name of a set; A+B plans several in one cabinet."
SetArg = Annotated[str, typer.Argument(metavar="SET", help=SET_HELP, autocompletion=set_names)]
CabinetArg = Annotated[str, typer.Argument(metavar="CABINET", help="Name of a cabinet.", autocompletion=cabinet_names)]
CabinetsArg = Annotated[
    list[str] | None,
    typer.Argument(metavar="CABINET", help="Cabinets (none: all).", autocompletion=cabinet_names),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print one JSON document and nothing else.")]
OUT_HELP = "Also write to FILE: .json, .csv or .xlsx; compare and offer .html too; repeatable."
OutOption = Annotated[list[Path] | None, typer.Option("--out", metavar="FILE", help=OUT_HELP)]
FillOption = Annotated[
    str | None,
    typer.Option("--fill", metavar="spread|pack", help="spread: fewest unused drawers; pack: most free drawers."),
]
PIN_HELP = "'GROUP in drawer B3', 'GROUP not in row 1', 'GROUP apart from GROUP' or 'keep bank 2 free'; repeatable."
PinOption = Annotated[list[str] | None, typer.Option("--pin", metavar="WISH", help=PIN_HELP)]
KEEP_FREE_HELP = "So many drawers stay free: '2', '2 of 100 mm' or '2 of 3 15/16 in' clear height; repeatable."
KeepFreeOption = Annotated[list[str] | None, typer.Option("--keep-free", metavar="NUMBER", help=KEEP_FREE_HELP)]
TIER_HELP = "Groups and families that come first from the top, in this order, with commas."
TierOption = Annotated[str, typer.Option("--tier", metavar="ORDER", help=TIER_HELP)]
GOALS_HELP = "Goals in the order wished, with commas: order, neighbors, recut, reach; drawers is always first."
GoalsOption = Annotated[str, typer.Option("--goals", metavar="ORDER", help=GOALS_HELP)]
OffOption = Annotated[list[str] | None, typer.Option("--off", metavar="GOAL", help="Leave a goal out; repeatable.")]
KEEP_HELP = "A plan written earlier (JSON): as few groups as possible move."
KeepOption = Annotated[Path | None, typer.Option("--keep", metavar="PLAN.json", help=KEEP_HELP)]
MEASURED_HELP = "A buyer's readings: a CSV file, or a catalogue with the table measured."
MeasuredOption = Annotated[Path | None, typer.Option("--measured", metavar="FILE", help=MEASURED_HELP)]
UnitOption = Annotated[
    str, typer.Option("--unit", metavar="NUMBER", help="Order or serial number of the cabinet that was measured.")
]
HouseOption = Annotated[Path | None, typer.Option("--house", metavar="FILE", help="Another house rule file (TOML).")]
WorkersOption = Annotated[
    int | None,
    typer.Option(
        "--workers", metavar="NUMBER", help="Processes to spread the work over (none: one a core, if worth it)."
    ),
]
SchedulerOption = Annotated[
    str, typer.Option("--scheduler", metavar="ADDRESS", help="Use the workers of this running Dask scheduler.")
]
