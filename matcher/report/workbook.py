"""Results as workbooks, one sheet a question, from the same documents as JSON: equal figures, units in the headings.

A question that has no answer has no sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from matcher.catalogue import MIXED, TEXT, BookSheet, SheetChart, SheetColumn, workbook
from matcher.records import PER_INCH, PER_MM
from matcher.report.document import Document, variant_rows
from matcher.report.files import in_one_cell
from matcher.report.offer_documents import bundle_rows
from matcher.report.size_views import size_sheets

UNITS = {
    "mm": ("mm", "0.0"),
    "m2": ("m2", "0.00"),
    "inch": ("in", "# ??/32"),
    "kg": ("kg", "0.0"),
    "minutes": ("minutes", "0.0"),
    "share": ("share", "0.0%"),
}
"""By the ending of a key: the unit in the heading, and the number format."""
MONEY = ("cost", "margin", "brings", "earns", "gain", "price", "setup")
"""Endings of keys that hold money."""

MM_PER_INCH = PER_INCH / PER_MM
SENTENCES = "_in_words"
"""Ending of keys that hold sentences, which stand in one cell together."""

PARTS = {
    "placements",
    "goals",
    "margins",
    "free",
    "serves",
    "sheets",
    "cutters",
    "first_article",
    "organizers",
    "blanks",
}
OWN_SHEETS = PARTS | {
    "left_out",
    "fits_but",
    "cautions",
    "turns",
    "blanks",
    "taken_drawers",
    "in_stock",
    "order_of_cuts",
}
"""Lists of rows that are not squeezed into one cell."""

FILL = SheetChart("bar", "How full each drawer is", "drawer", ("fill (share)",), "drawer", "share of its area")
FREE = SheetChart(
    "bar", "Free drawers", "cabinet", ("fewest free", "free drawers", "most free"), "cabinet", "drawers left free"
)
CURVE = SheetChart("line", "What more sizes bring", "new sizes", ("gain",), "new foam sizes", "gain")


def plan_book(document: Document, sizes: Sequence[Document] = (), picture: bytes = b"") -> bytes:
    """One plan: the answer with its poster as a ``picture`` (PNG), then placements, free drawers, goals, margins,
    reasons, cautions; sizes of its pieces."""
    told = in_own_unit(document)
    answer = replace(_facts("answer", told), picture=picture)
    return _book([answer, *_plan_sheets([told], named=False), *size_sheets(sizes)])


def fit_book(documents: Sequence[Document]) -> bytes:
    """One row a cabinet, then the same sheets as a plan with the cabinet in front."""
    inch = all(document.get("lengths", "in") == "in" for document in documents)
    answered = [in_own_unit(document) if inch else document for document in documents if document["verdict"]]
    rows = [_plain(document) | document.get("basis", {}) for document in documents]
    return _book([_table("cabinets", rows), *_plan_sheets(answered, named=True)])


def compare_book(documents: Sequence[Document]) -> bytes:
    """Every variant of every set in ranked order; goals, reasons, cautions; what changes where that was asked."""
    rows = [{"set": one["set"], **row} for one in documents for row in variant_rows(one)]
    variants = [row for row in rows if row["verdict"]]
    named = ("set", "cabinet")
    chart = FREE if len(documents) == 1 and variants else None
    return _book(
        [
            _table("variants", map(_plain, rows), chart),
            _table("left out", _within(documents, ("set",), "left_out")),
            _table("fits but", _within(variants, named, "fits_but")),
            _table("to cut", _within(variants, named, "blanks")),
            _table("goals", _goals(variants, named)),
            _table("reasons", _within(variants, named, "reasons")),
            _table("cautions", _within(variants, named, "cautions")),
            *_step_sheets(documents),
        ]
    )


def offer_book(document: Document) -> bytes:
    """The offer: totals, bundles, sizes and what each serves, existing organizers, the curve, the widest sizes."""
    return _book(
        [
            _facts("answer", document),
            _table("bundles", bundle_rows(document)),
            _table("bundle organizers", _within(document["bundles"], ("set", "cabinet"), "organizers")),
            _table("sizes", map(_plain, document["sizes"])),
            _table("sizes serve", _within(document["sizes"], ("name", "group"), "serves")),
            _table("existing", map(_plain, document["existing"])),
            _table("existing serve", _within(document["existing"], ("group", "part", "revision"), "serves")),
            _table("curve", document["curve"], CURVE),
            _table("widest", document["widest"]),
            _table("statements", [{"statement": line} for line in document["statements"]]),
        ]
    )


def cut_book(document: Document) -> bytes:
    """What is to be cut: totals, blanks, refits, stock, sheets, setup sheets, guesses."""
    setups = document["setup_sheets"]
    named = ("group", "drawer", "note")
    return _book(
        [
            _facts("answer", document),
            _table("left out", document["left_out"]),
            _table("blanks", document["blanks"]),
            _table("refits", document["refits"]),
            _table("in stock", document["in_stock"]),
            _table("stock", map(_stock, document["stocks"])),
            _table("sheets", _cut_sheets(document)),
            _table("setup", map(_plain, setups)),
            _table("cutters", _within(setups, named, "cutters")),
            _table("order of cuts", _within(setups, named, "order_of_cuts")),
            _table("first article", _within(setups, named, "first_article")),
            _table("not measured", document["guesses"]),
            _table("reasons", document["reasons"]),
            _table("cautions", document["cautions"]),
            _table("while cutting", [{"caution": text} for text in document["work_cautions"]]),
        ]
    )


def in_own_unit(document: Document) -> Document:
    """The same with its lengths in inches where the document tells them so: exact values, shown as fractions."""
    told: Document = _in_inches(document) if document["lengths"] == "in" else document
    return told


def _in_inches(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {_inch_key(key): _inches(key, _in_inches(one)) for key, one in value.items()}
    return [_in_inches(one) for one in value] if isinstance(value, list) else value


def _inch_key(key: str) -> str:
    return f"{key.removesuffix('_mm')}_inch" if key.endswith("_mm") else key


def _inches(key: str, value: Any) -> Any:
    return value / MM_PER_INCH if key.endswith("_mm") and isinstance(value, int | float) else value


# ------------------------------------------------------------------------------------------------------------ content


def _plan_sheets(documents: Sequence[Document], *, named: bool) -> Iterator[BookSheet | None]:
    """Placements, free drawers and so on; with the cabinet in front where there are several."""
    names = ("cabinet",) if named else ()
    yield _table("left out", _within(documents, names, "left_out"))
    yield _table("fits but", _within(documents, names, "fits_but"))
    yield _table("placements", _within(documents, names, "placements"))
    yield _table("free drawers", _within(documents, names, "free"))
    yield _table("taken drawers", _within(documents, names, "taken_drawers"))
    yield _table("goals", _goals(documents, names))
    yield _table("margins", _within(documents, names, "margins"), None if named else FILL)
    parts = [{name: one[name] for name in names} | one["part"] for one in documents if one["part"]]
    yield _table("part", _within(parts, names, "placements"))
    yield _table("stays outside", _within(parts, names, "outside"))
    yield _table("would turn it", _within(documents, names, "turns"))
    yield _table("reasons", _within(documents, names, "reasons"))
    yield _table("cautions", _within(documents, names, "cautions"))


def _goals(owners: Iterable[Document], names: Sequence[str]) -> Iterator[Document]:
    """Every number of every goal, one a row, with what it counts."""
    for owner in owners:
        for goal in owner["goals"]:
            for amount in goal["amounts"]:
                yield {
                    **{name: owner[name] for name in names},
                    "goal": goal["name"],
                    "counted in": amount["unit"],
                    "value": amount["value"],
                    "bound": amount["bound"],
                    "standing": goal["standing"],
                    "contributions": goal["contributions"],
                }


def _step_sheets(documents: Iterable[Document]) -> Iterator[BookSheet | None]:
    steps = [{"set": one["set"], **step} for one in documents for step in one.get("steps", ())]
    if steps:
        yield _table("steps", map(_plain, steps))
        yield _table("carried over", _within(steps, ("set", "before", "after"), "organizers"))


def _stock(stock: Document) -> Document:
    counted = {
        f"sheets_{way}{ending}": stock[way][key]
        for way in ("free", "guillotine")
        for key, ending in (("value", ""), ("bound", "_bound"), ("proved", "_proved"))
    }
    return _plain(stock) | counted


def _cut_sheets(document: Document) -> Iterator[Document]:
    """One row a blank on a sheet."""
    for stock in document["stocks"]:
        for number, sheet in enumerate(stock["free"]["sheets"], 1):
            for blank in sheet["blanks"]:
                yield {"foam": stock["foam"], "layer": stock["layer"], "sheet": number, **blank, "note": sheet["note"]}


def _within(owners: Iterable[Document], names: Sequence[str], key: str) -> Iterator[Document]:
    """The rows of a list inside each document, with the document's names in front."""
    for owner in owners:
        for row in owner[key]:
            yield {name: owner[name] for name in names} | row


def _plain(document: Document) -> Document:
    """What fits in one row: nothing nested, and nothing that has a sheet of its own."""
    return {key: value for key, value in document.items() if key not in OWN_SHEETS and not isinstance(value, Mapping)}


# -------------------------------------------------------------------------------------------------------------- sheets


def _facts(name: str, document: Document) -> BookSheet:
    """A document's single values and sentences, one a row; those of nested documents too, after their names."""
    rows = tuple((" ".join(_heading(part) for part in path), in_one_cell(value)) for path, value in _leaves(document))
    return BookSheet(name, (SheetColumn("what"), SheetColumn("value", MIXED)), rows)


def _leaves(document: Document, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    for key, value in document.items():
        if isinstance(value, Mapping):
            yield from _leaves(dict(value), (*path, key))
        elif not isinstance(value, list) or (value and key.endswith(SENTENCES)):
            yield (*path, key), value


def _book(sheets: Iterable[BookSheet | None]) -> bytes:
    return workbook(sheet for sheet in sheets if sheet)


def _table(name: str, rows: Iterable[Document], chart: SheetChart | None = None) -> BookSheet | None:
    """Rows under the headings of their keys; nothing where there are no rows."""
    listed = list(rows)
    if not listed:
        return None
    keys = list(dict.fromkeys(key for row in listed for key in row))
    columns = tuple(SheetColumn(_heading(key), _number(key, [row.get(key) for row in listed])) for key in keys)
    cells = tuple(tuple(in_one_cell(row.get(key)) for key in keys) for row in listed)
    return BookSheet(name, columns, cells, chart=chart)


def _heading(key: str) -> str:
    """A key in words, its unit in brackets: ``gap_width_mm`` is ``gap width (mm)``."""
    words = key.split("_")
    if len(words) > 1 and words[-1] in UNITS:
        return f"{' '.join(words[:-1])} ({UNITS[words[-1]][0]})"
    return " ".join(words)


def _number(key: str, values: Sequence[Any]) -> str:
    """The number format of a column; columns with any text in them are text."""
    if any(isinstance(value, str | list | bool) for value in values):
        return TEXT
    ending = key.split("_")[-1]
    if ending in UNITS:
        return UNITS[ending][1]
    return "#,##0.00" if ending in MONEY else "#,##0.####"
