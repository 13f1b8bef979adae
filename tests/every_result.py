"""Every command that writes results, with every suffix it knows, over a small catalogue.

The set ``tools`` goes into the cabinet ``wide`` and not into ``low``. Whether ``bar`` goes into ``rated`` is undecided:
by its size alone the pry bar weighs between 0.38 and 0.64 kg, and the drawer may carry 0.5 kg.

Run as a script, ``python -m tests.every_result CATALOGUE FOLDER`` writes them all into a new folder.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

from typer.testing import CliRunner

from matcher.cli import app

TABLES = {
    "drawers": """
cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm,load_rating_kg,slot
wide,1,1,1,560,400,100,40,
wide,2,1,2,560,400,100,40,
wide,3,1,3,560,400,100,40,
wide,4,1,4,560,400,150,40,no foam
low,1,1,1,560,400,10,,
rated,1,1,1,560,400,100,0.5,
""",
    "tools": """
set,tool,kind,count,system,size,drive,length_mm,width_mm,height_mm,mass_kg,group
tools,block,other,3,,,,100,40,20,1,blocks
tools,bar,other,1,,,,200,30,20,1,blocks
tools,socket 13,socket,2,metric,13,3/8,,,,,
tools,socket 9/16,socket,1,inch,9/16,3/8,,,,,
bar,pry bar,pry bar,1,,300 mm,,,,,,bar
""",
    "organizers": """
set,group,width_mm,depth_mm,height_mm,field_width_mm,field_depth_mm,mass_kg,foam
tools,tray,565,390,50,480,360,1,black
""",
    "foam": """
foam,length_mm,width_mm,thickness_mm,price
black,1200,600,30,20
gray,1200,600,50,30
""",
    "demand": """
set,cabinet,units,margin
tools,wide,100,9
tools,low,10,5
bar,rated,10,5
""",
}

PLAN = ("json", "csv", "xlsx", "html", "svg", "pdf")
TAPE = ("json", "csv")
CUT = ("json", "csv", "xlsx", "svg", "dxf")
EVERY: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "plan": (("plan", "tools", "wide"), PLAN),
    "plan-no": (("plan", "tools", "low"), PLAN),
    "plan-open": (("plan", "bar", "rated"), PLAN),
    "group": (("plan", "tools", "wide", "--group", "blocks"), PLAN),
    "group-no": (("plan", "tools", "low", "--group", "blocks"), PLAN),
    "group-open": (("plan", "bar", "rated", "--group", "bar"), PLAN),
    "alternatives": (("plan", "tools", "wide", "--alternatives", "2"), PLAN),
    "sheet": (("plan", "tools", "wide", "--sheet"), TAPE),
    "sheet-no": (("plan", "tools", "low", "--sheet"), TAPE),
    "estimates": (("plan", "tools", "wide", "--estimates"), TAPE),
    "estimates-no": (("plan", "tools", "low", "--estimates"), TAPE),
    "tolerance": (("plan", "tools", "wide", "--tolerance", "50"), TAPE),
    "tolerance-no": (("plan", "tools", "low", "--tolerance", "50"), TAPE),
    "measured": (("plan", "tools", "wide", "--measured", "{readings}"), TAPE),
    "measured-no": (("plan", "tools", "low", "--measured", "{readings}"), TAPE),
    "fit": (("fit", "tools"), ("json", "csv", "xlsx")),
    "fit-sheet": (("fit", "tools", "--sheet"), TAPE),
    "fit-tolerance": (("fit", "tools", "--tolerance", "50"), TAPE),
    "fit-measured": (("fit", "tools", "--measured", "{readings}"), TAPE),
    "compare": (("compare", "tools"), ("json", "csv", "xlsx", "html")),
    "changes": (("compare", "tools", "--changes"), ("json", "csv", "xlsx", "html")),
    "planned": (("compare", "--fill", "pack"), ("json", "csv", "xlsx", "html")),
    "pairs": (("compare",), ("csv", "parquet")),
    "cut": (("cut", "tools", "wide", "--allow-estimates"), CUT),
    "cut-no": (("cut", "tools", "low"), CUT),
    "cut-open": (("cut", "bar", "rated"), CUT),
    "offer": (("offer",), ("json", "csv", "xlsx", "html")),
}
"""Words of every question after ``matcher``, the catalogue left out, and the suffixes that it writes."""


def catalogue(at: Path) -> Path:
    """Write the small catalogue, and beside it a buyer's readings of both cabinets."""
    at.mkdir()
    for name, text in TABLES.items():
        (at / f"{name}.csv").write_text(text.strip() + "\n", encoding="utf-8")
    rows = "cabinet,drawer,inside_width_mm,inside_depth_mm,clear_height_mm\nwide,2,558,399,99\nlow,1,559,400,11\n"
    at.with_name("readings.csv").write_text(rows, encoding="utf-8")
    return at


def words_of(name: str, source: Path, files: Iterable[Path]) -> list[str]:
    """The words of a question that is to write these files."""
    command, *rest = EVERY[name][0]
    asked = [word.format(readings=source.with_name("readings.csv")) for word in rest]
    return [command, str(source), *asked, *(word for file in files for word in ("--out", str(file)))]


def written(source: Path, to: Path) -> None:
    """Ask everything, every file that can be written included; what is printed goes into a file too."""
    for name, (_, suffixes) in EVERY.items():
        ended = CliRunner().invoke(app, words_of(name, source, [to / f"{name}.{suffix}" for suffix in suffixes]))
        (to / f"{name}.txt").write_text(ended.stdout, encoding="utf-8")


if __name__ == "__main__":
    written(Path(sys.argv[1]), Path(sys.argv[2]))
