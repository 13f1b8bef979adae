"""Arguments and options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

CatalogueArg = Annotated[Path, typer.Argument(help="Folder of CSV files, or one .xlsx workbook.")]
SetArg = Annotated[str, typer.Argument(metavar="SET", help="Name of a set; A+B plans several in one cabinet.")]
CabinetArg = Annotated[str, typer.Argument(help="Name of a cabinet.")]
CabinetsArg = Annotated[list[str] | None, typer.Argument(metavar="[CABINET]...", help="Cabinets (none: all).")]
JsonOption = Annotated[bool, typer.Option("--json", help="Print one JSON document and nothing else.")]
OUT_HELP = "Also write to FILE: .json or .csv; plan, compare and offer .html too; plan .svg; repeatable."
OutOption = Annotated[list[Path] | None, typer.Option("--out", help=OUT_HELP)]
FillOption = Annotated[
    str | None, typer.Option("--fill", help="spread: fewest unused drawers; pack: most free drawers.")
]
PIN_HELP = "'GROUP in drawer B3', 'GROUP not in row 1', 'GROUP apart from GROUP' or 'keep bank 2 free'; repeatable."
PinOption = Annotated[list[str] | None, typer.Option("--pin", help=PIN_HELP)]
MEASURED_HELP = "A buyer's readings: a CSV file, or a catalogue with the table measured."
MeasuredOption = Annotated[Path | None, typer.Option("--measured", help=MEASURED_HELP)]
UnitOption = Annotated[str, typer.Option("--unit", help="Order or serial number of the cabinet that was measured.")]
HouseOption = Annotated[Path | None, typer.Option("--house", help="Another house rule file (TOML).")]
