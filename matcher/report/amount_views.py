"""What each variant takes of foam, machine and money: a document and a table. Shows, never computes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from rich.text import Text

from matcher.cutting import Amounts
from matcher.records import PER_MM
from matcher.report.grids import Grid, grid
from matcher.studies import NOT_GIVEN, RankBy, Variant

Document = dict[str, Any]
SQUARE_METER = (1000 * PER_MM) ** 2
BY_AREA = "by the area of the blanks, without what is left of their sheets"
TOLD_BY = ("cost", "price", "width")
"""Where one of these counts first its figures are shown unasked."""


def amounts_document(variant: Variant) -> Document:
    """Organizers, those to cut with their sums, and these one by one; ``None`` without a plan or where not given."""
    found = variant.amounts
    return {
        "price": variant.price,
        "organizer_count": found.organizers if found else None,
        "blank_count": len(found.blanks) if found else None,
        "foam_m2": square_meters(found.area) if found else None,
        "foam_cost": rounded(found.cost, 2) if found else None,
        "cutting_minutes": rounded(found.minutes, 1) if found else None,
        "foam_estimated": found.estimated if found else None,
        "blanks": _blanks(found) if found else [],
    }


def amounts_told(named: Sequence[tuple[str, Variant]], what: str, by: RankBy, *, why: bool) -> list[Grid | Text]:
    """The table of amounts with what its figures mean, where they are asked for or one of them counts first.

    A row is called by its name, a cabinet or a set as ``what`` says.
    """
    rows = [(name, one) for name, one in named if one.amounts]
    variants = [one for _, one in rows]
    if not variants or not (why or by in TOLD_BY):
        return []
    guessed = any(one.amounts.estimated for one in variants if one.amounts)
    note = f"foam and its cost: {BY_AREA}; minutes: at the machine"
    doubt = "; estimated, as are the sizes of pieces to cut for" if guessed else ""
    return [_table(rows, what, outside=by == "width"), Text(f"{note}{doubt}")]


def _table(named: Sequence[tuple[str, Variant]], what: str, *, outside: bool) -> Grid:
    """A row each; a column only where something is given. With the cabinets' sizes some others have no room."""
    short = ("*organizers", "*foam m2") if outside else ()
    columns: list[tuple[str, Callable[[Variant, Document], str]]] = [
        ("*organizers", lambda _, row: str(row["organizer_count"])),
        ("*to cut", lambda _, row: str(row["blank_count"])),
        ("*foam m2", lambda _, row: f"{row['foam_m2']:.2f}"),
        ("*foam cost", lambda _, row: _told(row["foam_cost"], 2)),
        ("*minutes", lambda _, row: _told(row["cutting_minutes"], 1)),
        ("*price", lambda _, row: _told(row["price"], 2)),
        *([("outside", lambda one, _: _outside_words(one))] if outside else []),
    ]
    columns = [one for one in columns if one[0] not in short]
    rows = [(name, [tell(one, amounts_document(one)) for _, tell in columns]) for name, one in named]
    kept = [n for n in range(len(columns)) if any(cells[n] for _, cells in rows)]
    shown = [[name, *(cells[n] or NOT_GIVEN for n in kept)] for name, cells in rows]
    return grid(what, *(columns[n][0] for n in kept), rows=shown)


def _outside_words(variant: Variant) -> str:
    """Width x depth x height of the cabinet, as far as they are given; blank without any."""
    cabinet, unit = variant.outcome.question.cabinet, variant.outcome.question.unit
    sides = (cabinet.width, cabinet.depth, cabinet.height)
    told = ["?" if one is None else unit.show(one).removesuffix(f" {unit.name}").removesuffix(".0") for one in sides]
    return "" if sides == (None,) * 3 else f"{' x '.join(told)} {unit.name}"


def _blanks(found: Amounts) -> list[Document]:
    return [
        {
            "group": blank.group,
            "drawer": blank.drawer,
            "foam": blank.foam or None,
            "foam_m2": square_meters(blank.area),
            "foam_cost": rounded(blank.cost, 4),
            "cutting_minutes": rounded(blank.minutes, 3),
        }
        for blank in found.blanks
    ]


def square_meters(area: int) -> float:
    """An area in square meters."""
    return round(area / SQUARE_METER, 6)


def rounded(amount: float | None, digits: int) -> float | None:
    """An amount to so many digits; ``None`` stays unknown."""
    return None if amount is None else round(amount, digits)


def _told(amount: float | None, digits: int) -> str:
    return "" if amount is None else f"{amount:,.{digits}f}"
