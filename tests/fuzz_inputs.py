"""Sound inputs to begin with, and how they are mutated: cells, columns and rows of tables, tokens and bytes."""

from __future__ import annotations

import csv
import io
import re
import tempfile
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path
from random import Random
from typing import TypeAlias

from tests.catalogue_files import SOUND, folder, workbook
from tests.drawing_texts import BOX, block, circle, dxf_text, ellipse, insert, polyline, spline, svg_text, tags
from tests.trays import DRAWERS, ORGANIZERS

Files: TypeAlias = Mapping[str, bytes]
"""Contents by the names of files."""

NUMBERS = [
    "0",
    "-1",
    "1",
    "1e999",
    "-1e999",
    "nan",
    "1e15",
    "1e-15",
    "99999999999",
    "2147483648",
    "0.1",
    "3/8",
    "8-Mar",
    "560",
    "12.7",
    "?",
    "~5",
    "1,5",
    "''",
]
WORDS = [
    *NUMBERS,
    "",
    " ",
    "socket",
    "inch",
    "foam",
    "Low",
    "Oak",
    "in",
    "yes",
    "1-2",
    "T25",
    "no foam",
    "x" * 300,
    "ü",
    "扳手",
]
TOKEN = re.compile(rb"[+-]?[0-9]+(?:\.[0-9]*)?(?:[eE][+-]?[0-9]+)?|[A-Za-z_][A-Za-z_0-9]*|[^A-Za-z0-9_\s]+")
HOUSE = Path(__file__).resolve().parents[1] / "matcher" / "house" / "defaults" / "house.toml"
ENCODINGS = ("utf-8-sig", "utf-16", "latin-1", "cp1252")
CURVES = '<path d="M 0 0 L 40 0 C 50 30 50 60 40 90 Q 9 9 0 90 A 4 5 0 0 1 0 50 Z" transform="rotate(5) scale(2)"/>'


def seeds(target: str) -> list[Files]:
    """Inputs of a target that are as they should be."""
    trays = {"drawers.csv": DRAWERS.encode(), "organizers.csv": ORGANIZERS.encode()}
    sound = {f"{name}.csv": text.strip().encode() for name, text in SOUND.items()}
    if target in ("tables", "commands"):
        return [sound, trays, {"tools.csv": sound["tools.csv"], "drawers.csv": sound["drawers.csv"]}]
    if target == "workbook":
        with tempfile.TemporaryDirectory() as made:
            book = workbook(folder(Path(made) / "csv"), Path(made) / "book.xlsx")
            return [{"book.xlsx": book.read_bytes()}]
    if target == "house":
        return [
            {"house.toml": HOUSE.read_bytes()},
            {"house.toml": b"[order]\nswap = [[4, 5]]\n[goals]\noff = ['reach']\n"},
        ]
    if target == "svg":
        inside = (BOX, CURVES, f'<defs><g id="a">{BOX}</g></defs><use xlink:href="#a" x="3"/>', '<circle r="20"/>')
        return [{"piece.svg": svg_text(shape).encode()} for shape in inside]
    line = tags(0, "LINE", 8, 0, 10, 0, 20, 0, 11, 9, 21, 0) + tags(0, "ARC", 8, 0, 10, 0, 20, 0, 40, 9, 50, 0, 51, 90)
    smooth = spline(3, [0, 0, 0, 0, 1, 1, 1, 1], [(0, 0), (60, 0), (60, 90), (0, 0)])
    drawn = (polyline(bulge=0.5), circle(20), ellipse(30, 0.5), smooth, line)
    copied = dxf_text(insert("A", 41, 2, 50, 30), blocks=block("A", polyline()))
    return [*({"piece.dxf": dxf_text(entity).encode()} for entity in drawn), {"piece.dxf": copied.encode()}]


def mutated(target: str, files: Files, dice: Random) -> Files:
    """The input with one to four changes."""
    changed = dict(files)
    for _ in range(dice.choice((1, 1, 2, 4))):
        name = dice.choice(sorted(changed))
        if target in ("tables", "commands"):
            changed[name] = _table(changed[name], dice)
        elif target == "workbook" and dice.random() < 0.8:
            changed[name] = _archive(changed[name], dice)
        else:
            changed[name] = _tokens(changed[name], dice)
    return changed


# --------------------------------------------------------------------------------------------------------------- tables


def _table(content: bytes, dice: Random) -> bytes:
    """A table with another cell, row, column or encoding; now and then with other bytes."""
    if dice.random() < 0.1:
        return _tokens(content, dice)
    try:
        rows = list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))
    except (csv.Error, UnicodeDecodeError):
        return _tokens(content, dice)
    if not rows or not rows[0]:
        return content
    dice.choice(TABLE_CHANGES)(rows, dice)
    out = io.StringIO()
    csv.writer(out, delimiter=dice.choice(39 * "," + ";"), lineterminator=dice.choice(("\n", "\r\n"))).writerows(rows)
    code = dice.choice(ENCODINGS) if dice.random() < 0.1 else "utf-8"
    return out.getvalue().encode(code, errors="replace")


def _cell(rows: list[list[str]], dice: Random) -> None:
    row = dice.choice(rows)
    if row:
        row[dice.randrange(len(row))] = _word(dice)


def _word(dice: Random) -> str:
    if dice.random() < 0.6:
        return dice.choice(WORDS)
    return "".join(
        chr(dice.choice((dice.randrange(32, 127), dice.randrange(0xD7FF)))) for _ in range(dice.randrange(6))
    )


def _row_twice(rows: list[list[str]], dice: Random) -> None:
    rows.insert(dice.randrange(len(rows) + 1), list(dice.choice(rows)))


def _row_gone(rows: list[list[str]], dice: Random) -> None:
    rows.pop(dice.randrange(len(rows)))


def _column_gone(rows: list[list[str]], dice: Random) -> None:
    place = dice.randrange(len(rows[0]))
    for row in rows:
        del row[place : place + 1]


def _column_twice(rows: list[list[str]], dice: Random) -> None:
    place = dice.randrange(len(rows[0]))
    for row in rows:
        row.insert(place, row[place] if place < len(row) else "")


def _rows_mixed(rows: list[list[str]], dice: Random) -> None:
    dice.shuffle(rows)


def _cells_changed_over(rows: list[list[str]], dice: Random) -> None:
    one, other = dice.choice(rows), dice.choice(rows)
    place = dice.randrange(max(1, min(len(one), len(other))))
    one[place : place + 1], other[place : place + 1] = other[place : place + 1], one[place : place + 1]


def _units_changed(rows: list[list[str]], dice: Random) -> None:
    rows[0] = [cell.replace("_mm", "_in") if dice.random() < 0.5 else cell for cell in rows[0]]


TABLE_CHANGES: tuple[Callable[[list[list[str]], Random], None], ...] = (
    *(4 * (_cell,)),
    _row_twice,
    _row_gone,
    _column_gone,
    _column_twice,
    _rows_mixed,
    _cells_changed_over,
    _units_changed,
)

# ----------------------------------------------------------------------------------------------------- tokens and bytes


def _tokens(content: bytes, dice: Random) -> bytes:
    """Text with a token replaced, doubled or left out, or bytes changed, cut off or repeated."""
    places = [found.span() for found in TOKEN.finditer(content)]
    if places and dice.random() < 0.8:
        (start, end), (other, last) = dice.choice(places), dice.choice(places)
        number = content[start:end][-1:].isdigit()
        new = dice.choice((content[other:last], dice.choice(NUMBERS if number else WORDS).encode(), b""))
        return content[:start] + new + content[end:]
    start, end = sorted(dice.randrange(len(content) + 1) for _ in range(2))
    return dice.choice(
        (
            content[:start],
            content[:start] + content[end:],
            content[:end] + content[start:],
            content[:start] + content[start:end] * dice.choice((2, 9, 50)) + content[end:],
            content[:start] + bytes([dice.randrange(256)]) + content[start + 1 :],
        )
    )


def _archive(content: bytes, dice: Random) -> bytes:
    """An archive with one of its parts changed or left out."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            parts = {name: packed.read(name) for name in packed.namelist()}
    except Exception:
        return _tokens(content, dice)
    if not parts:
        return content
    name = dice.choice(sorted(parts))
    if dice.random() < 0.05:
        del parts[name]
    else:
        parts[name] = _tokens(parts[name], dice)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for part, text in parts.items():
            packed.writestr(part, text)
    return out.getvalue()
