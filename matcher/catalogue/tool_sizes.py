"""The table of sizes: what was measured of tools after their rows were written goes into these rows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from matcher.catalogue.parsing import ReadTable
from matcher.catalogue.rows import MEASURES, SizeRow, ToolRow
from matcher.catalogue.trade import with_system
from matcher.records import CellError, Piece, to_kg, to_mm, with_nearest

KEYS = ("set", "tool", "kind", "system", "size", "drive")
"""What tells which tools a row of sizes is about; blank cells fit any, but for the tool's name."""


def with_sizes(tools: ReadTable[ToolRow], sizes: ReadTable[SizeRow], faults: list[CellError]) -> ReadTable[ToolRow]:
    """The tools with what was measured of them; rows of sizes without a measured value say nothing.

    Faults are added where a row is about no tool, about one that another row has measured, or says another value than
    the tool's own row.
    """
    filled = [row for row in sizes.rows if _measured(row)]
    if not filled:
        return tools
    said = [_said(row) for row in tools.rows]
    called: dict[str, list[int]] = defaultdict(list)
    for place, one in enumerate(said):
        called[one["tool"].casefold()].append(place)
    unread = {texts for _, texts in tools.texts("set", "tool")} - {(one["set"], one["tool"]) for one in said}
    rows, by = list(tools.rows), dict[int, int]()
    for row in filled:
        wanted = _wanted(row)
        found = [place for place in called[wanted["tool"].casefold()] if _fits(wanted, said[place], KEYS)]
        if not found and not any(wanted["tool"] == tool and wanted["set"] in ("", owner) for owner, tool in unread):
            faults.append(_unknown(sizes, row, wanted, said))
        for place in found:
            if place in by:
                faults.append(sizes.fault(row.at, "tool", f"each tool in one row; row {by[place]} has it already"))
            by.setdefault(place, row.at)
            faults.extend(_other_values(sizes, row, tools.rows[place]))
            rows[place] = tools.rows[place].model_copy(update=_measured(row))
    return ReadTable(tuple(rows), tools.table, tools.columns)


def _measured(row: SizeRow) -> dict[str, int]:
    values = {name: getattr(row, name) for name in MEASURES}
    return {name: value for name, value in values.items() if value is not None}


def _said(row: ToolRow) -> dict[str, str]:
    """What a tool's row says of it, its system too where the size tells it."""
    piece = with_system(Piece(row.set, row.tool, row.kind, row.count, row.system, row.size, row.drive))
    return {key: getattr(piece, key) for key in KEYS}


def _wanted(row: SizeRow) -> dict[str, str]:
    """What a row of sizes is about; an apostrophe in front of a name keeps a spreadsheet from running it."""
    return {key: getattr(row, key).removeprefix("'") for key in KEYS}


def _fits(wanted: dict[str, str], one: dict[str, str], keys: Iterable[str]) -> bool:
    return all(not wanted[key] or wanted[key].casefold() == one[key].casefold() for key in keys)


def _unknown(
    sizes: ReadTable[SizeRow], row: SizeRow, wanted: dict[str, str], said: Sequence[dict[str, str]]
) -> CellError:
    """At the first cell after which no tool is left."""
    left = list(said)
    for place, key in enumerate(KEYS, 1):
        still = [one for one in left if _fits(wanted, one, KEYS[:place])]
        if not still:
            known = sorted({one[key] for one in left} - {""})
            return sizes.fault(row.at, key, with_nearest(_expected(key, wanted, known), wanted[key], known))
        left = still
    raise AssertionError("the row is about some tool")


def _expected(key: str, wanted: dict[str, str], known: Sequence[str]) -> str:
    if key == "set":
        return "a set of the table tools, or blank for every set"
    of_set = f" of the set {wanted['set']}" if wanted["set"] else ""
    if key == "tool":
        return f"a tool{of_set} in the table tools"
    here = " or ".join(known) if known else "a blank cell"
    return f"{here}, as the table tools has it for {wanted['tool']}{of_set}"


def _other_values(sizes: ReadTable[SizeRow], row: SizeRow, tool: ToolRow) -> Iterator[CellError]:
    for name, value in _measured(row).items():
        own = getattr(tool, name)
        if own not in (None, value):
            told = f"{to_kg(own)} kg" if name == "mass" else f"{to_mm(own)} mm"
            yield sizes.fault(row.at, name, f"{told}, as row {tool.at} of the table tools says, or a blank cell")
