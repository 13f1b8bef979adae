"""The sizes of a set's pieces: as a document, in a terminal, and as sheets to print, fill in and read back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, floor

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.catalogue import TEXT, BookSheet, SheetColumn, workbook
from matcher.planning import Outcome
from matcher.records import PER_KG, PER_MM, Bound, PieceCounts, Range, SizedPiece, counted, to_kg, to_mm
from matcher.report.document import Document
from matcher.report.grids import Grid
from matcher.studies import RULE, SizeList, in_doubt, worth_measuring

SIZES = ("length", "width", "height")
BOUNDS = {"likely": "likely", "least": "low", "greatest": "high"}
"""Words of a column for the bounds of a range."""
NUMBERS = {"mm": "0.0##", "kg": "0.000#", "cm2": "0.0", "count": "0"}
"""Number formats by the ending of a key."""
FILLED = ("length_mm", "width_mm", "height_mm", "mass_kg")
"""Columns to fill in, as the table of sizes has them."""
NAMED = ("set", "tool", "kind", "count", "system", "size", "drive")
LIKELY = tuple(f"likely_{name}" for name in FILLED)
ASIDE = ("basis", "in_doubt_cm2")
HOW_TO = (
    "to fill in: --out sizes.csv or sizes.xlsx, blank cells of length_mm, width_mm, height_mm and mass_kg as measured, "
    "then into the catalogue as its table sizes"
)


def sizes_document(found: SizeList) -> Document:
    """Every piece with its sizes, likely, least and greatest; the order is told by ``rule``."""
    basis = found.basis
    return {
        "set": found.set,
        "pockets_take": _taken(found.estimates),
        "rule": RULE,
        "basis": {
            "pieces": basis.total,
            "measured": basis.measured,
            "from standard": basis.standard,
            "estimated": basis.estimated,
        },
        "sizes": size_rows(found.pieces),
    }


def size_rows(pieces: Iterable[SizedPiece]) -> list[Document]:
    """One row a piece in the order given; ``length_mm`` and the like hold only what the catalogue gives."""
    return [_row(piece) for piece in pieces]


def plan_sizes(outcome: Outcome) -> list[Document]:
    """The rows of all pieces of a question's groups, what is worth measuring first."""
    return size_rows(worth_measuring(piece for group in outcome.question.groups for piece in group.pieces))


def _row(sized: SizedPiece) -> Document:
    piece = sized.piece
    given = {"length": piece.length, "width": piece.width, "height": piece.height}
    ranges = {name: getattr(sized.spread, name) if sized.spread else _exactly(getattr(sized, name)) for name in SIZES}
    mass = sized.spread.mass if sized.spread else Range(sized.mass_low, sized.mass_high, sized.mass_high)
    told: Document = {name: getattr(piece, name) for name in NAMED}
    told |= {f"{name}_mm": None if value is None else to_mm(value) for name, value in given.items()}
    told["mass_kg"] = None if piece.mass is None else to_kg(piece.mass)
    for word, bound in BOUNDS.items():
        told |= {f"{word}_{name}_mm": _rounded(ranges[name], bound, PER_MM, 1) for name in SIZES}
        told[f"{word}_mass_kg"] = _rounded(mass, bound, PER_KG, 4)
    told["basis"] = sized.basis
    told["in_doubt_cm2"] = round(in_doubt(sized) / PER_MM**2 / 100, 1)
    told["source"] = sized.source
    return told


def _exactly(size: int) -> Range:
    return Range(size, size, size)


def _rounded(span: Range, bound: str, per: int, decimals: int) -> float:
    """A value as it is where it is certain; else so many decimals of it, outward."""
    value: float = getattr(span, bound) / per
    if span.low == span.high:
        return value
    scaled = round(value * 10**decimals, 6)
    return float((floor(scaled) if bound == "low" else ceil(scaled)) / 10**decimals)


def _taken(estimates: Bound) -> str:
    return "the likely sizes" if estimates == "likely" else "the greatest sizes"


def basis_words(basis: PieceCounts) -> str:
    """On what sizes rest, in one line."""
    if not basis.total:
        return "basis: ready-made organizers"
    return (
        f"basis: {counted(basis.total, 'piece')}: {basis.measured} measured, "
        f"{basis.standard} from standard, {basis.estimated} estimated"
    )


# -------------------------------------------------------------------------------------------------------- terminal


def sizes_view(found: SizeList) -> RenderableType:
    """A row a piece: likely sizes, below them from least to greatest; where they are from stands under the table."""
    figures = ("*length\nmm", "*width\nmm", "*height\nmm", "*mass\ng")
    table = Grid("~tool", "*", *figures, "~=basis", "*doubt\ncm²", "*from")
    rows = size_rows(found.pieces)
    numbers = {source: number for number, source in enumerate(dict.fromkeys(row["source"] for row in rows), 1)}
    for row in rows:
        told = [range_cell(row, f"{name}_mm") for name in SIZES]
        doubt = f"{row['in_doubt_cm2']:.1f}" if row["in_doubt_cm2"] else ""
        mass, number = range_cell(row, "mass_kg", 1000), str(numbers[row["source"]])
        table.add_row(row["tool"], str(row["count"]), *told, mass, row["basis"], doubt, number)
    return Stack(
        Text.assemble((found.set, "bold"), f": {basis_words(found.basis)}"),
        Text(f"{RULE}; pockets take {_taken(found.estimates)}"),
        table,
        *(Text(f"from {number}: {source}") for source, number in numbers.items()),
        Text(HOW_TO),
    )


def range_cell(row: Document, key: str, times: int = 1) -> str:
    """The likely value; below it the least and the greatest where they differ, outward, from 10 up without decimals."""
    likely, low, high = (times * row[f"{word}_{key}"] for word in BOUNDS)
    if low == high:
        return f"{likely:.1f}"
    digits = 0 if high >= 10 else 1
    least, most = floor(round(low * 10**digits, 6)), ceil(round(high * 10**digits, 6))
    return f"{likely:.1f}\n{least / 10**digits:.{digits}f}-{most / 10**digits:.{digits}f}"


# ---------------------------------------------------------------------------------------------------------- sheets


def sizes_book(found: SizeList) -> bytes:
    """The list as a workbook: sheet ``sizes`` to fill in, sheet ``bounds`` with how far sizes may be off, and why."""
    return workbook(size_sheets(size_rows(found.pieces)))


def size_sheets(rows: Sequence[Document]) -> tuple[BookSheet, BookSheet]:
    """The two sheets of a list of sizes."""
    bounds = tuple(f"{word}_{name}" for name in FILLED for word in ("least", "greatest"))
    return (
        _sheet("sizes", (*NAMED, *FILLED, *LIKELY, *ASIDE), rows),
        _sheet("bounds", ("set", "tool", "size", "drive", *bounds, "basis", "source"), rows),
    )


def _sheet(name: str, keys: Sequence[str], rows: Sequence[Document]) -> BookSheet:
    columns = tuple(SheetColumn(_heading(key), _number(key), needed=key in FILLED) for key in keys)
    return BookSheet(name, columns, [[row[key] for key in keys] for row in rows])


def _heading(key: str) -> str:
    """A column to fill in by its name in the catalogue; any other in words, its unit in brackets."""
    words = key.split("_")
    if key in FILLED or words[-1] not in NUMBERS:
        return key
    return f"{' '.join(words[:-1])} ({words[-1]})" if len(words) > 1 else key


def _number(key: str) -> str:
    return NUMBERS.get(key.split("_")[-1], TEXT)
