"""A small sound catalogue as files, to be spoiled one cell at a time."""

from __future__ import annotations

import csv
from pathlib import Path

from matcher.catalogue.tables import tables
from matcher.catalogue.writing import write_workbook

SOUND: dict[str, str] = {
    "tools": """
set,tool,kind,count,system,size,drive,length_mm,width_mm,height_mm,mass_kg,use,two_hands,group
Oak,socket 13,socket,1,metric,13,3/8,,,,,5,no,
Oak,socket 9/16,socket,2,SAE,9/16,3/8,,,,,,no,
Oak,wrench 10,combination wrench,1,metric,10,,,,,,,,
Oak,ratchet,ratchet,1,,,3/8,,,,,20,,
Oak,bench puller,other,1,,,,300,120,60,2.5,,yes,pullers
Fir,drill in its case,cased,1,,,,380,300,110,3.2,,,
""",
    "organizers": """
set,group,width_in,depth_in,height_in,field_width_in,field_depth_in,field_left_in,field_front_in,tier,mass_lb,foam
Fir,hex keys,22 7/16,16,1-1/2,20,14,1,1,2,1.5,black
""",
    "drawers": """
cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm,load_rating_kg,above_ground_mm,slot,liner_mm
Low,1,1,1,570,400,75,40,600,foam,2
Low,2,1,2,570,400,150,0,400,no foam,0
Top,A,1,1,570,400,50,,1200,,
Top,B,1,2,570,400,50,,1100,,
Wide,01,1-2,1,1100,400,75,,,,
Wide,02,1,2,540,400,75,,,blocked,
""",
    "obstructions": """
cabinet,drawer,left_mm,front_mm,width_mm,depth_mm,height_mm
Low,1,490,0,80,90,75
""",
    "cabinets": """
cabinet,label,model_line,stands_on,mass_kg,price
Top,chest,North,Low,20,199.90
Low,base,North,,45,
""",
    "pins": """
set,cabinet,rule,group,other,drawer,bank,row
Oak,Low,in,drive tools,,1,,
,Top,keep free,,,,,4
,,apart,chrome sockets,hex keys,,,
Oak+Fir,Wide,not in,pullers,,02,1,2
""",
    "groups": """
group,family,tier,kinds,share
sockets of all sorts,sockets,1,socket; Deep Socket,yes
""",
    "relations": """
group,other,wish,weight
pullers,hex keys,near,3
""",
    "measured": """
cabinet,drawer,inside_width_in,inside_depth_in,clear_height_in,by,date
Low,1,22 3/8,,,buyer,2025-03-08
""",
    "foam": """
foam,length_in,width_in,thickness_in,tolerance_in,density_lb_ft3,price
black,48,24,1-1/2,1/16,2,18.5
""",
    "demand": """
set,cabinet,units,margin,year,offered
Oak,Low,120,35.5,2025,must
Oak+Fir,Top,10,-2,2025,no
""",
}


def records(table: str) -> list[list[str]]:
    """Rows of cells of a sound table, header first."""
    return list(csv.reader(SOUND[table].strip().splitlines()))


def folder(at: Path, **changed: str | None) -> Path:
    """Write the sound tables with some changed, or left out where ``None``."""
    at.mkdir(parents=True, exist_ok=True)
    for name, text in {**SOUND, **changed}.items():
        if text is not None:
            (at / f"{name}.csv").write_text(text.strip() + "\n", encoding="utf-8")
    return at


def with_cell(table: str, row: int, column: str, value: str, to: str = "") -> str:
    """The table's text with one cell changed (``row`` as in a spreadsheet) and its column renamed ``to``."""
    rows = records(table)
    place = rows[0].index(column)
    if row > 1:
        rows[row - 1][place] = value
    rows[0][place] = to or (value if row == 1 else column)
    return "\n".join(",".join(f'"{cell.replace(chr(34), chr(34) * 2)}"' for cell in cells) for cells in rows)


def workbook(source: Path, at: Path) -> Path:
    """The same catalogue as a workbook."""
    write_workbook(tables(source), at)
    return at
