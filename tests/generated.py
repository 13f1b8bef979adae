"""Invented catalogues for property tests and benchmarks, each drawn from one whole number, the seed.

A catalogue is a folder of CSV files such as a planner could have typed, in millimeters or in inches. It is drawn from

- sets of 20 to 400 pieces: runs of sizes (8 to 19 mm, 1/4 to 1 in) of one kind, drive and system each. A set is metric,
  inch or both and has up to three neighboring drives; `tests.shop_kinds` lists the kinds. Some pieces are measured,
  some have a use, some come in a case; some sets keep their bench tools in one group;
- cabinets of three families: chests of 4 to 9 drawers in one bank, benches of two or three banks with narrower ones
  beside a wide one and no foam in the bottom row, and wide cabinets of one bank. Some have load ratings, rounded
  corners, a top drawer over two banks, or a cable duct in a rear corner;
- sheets of foam, and sometimes ready-made organizers, own rules for groups, and pins.

Names are invented; sizes of drawers are common practice, no source. Python promises that `Random.random` stays the same
for a seed, and nothing else is drawn from, so a seed gives the same bytes with every Python.
"""

from __future__ import annotations

import csv
import random
from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, TypeAlias, TypeVar

from matcher.catalogue.reading import read_catalogue
from matcher.records.given import Catalogue
from tests.shop_kinds import BOXES, DRIVES, KINDS, Kind

T = TypeVar("T")
Row: TypeAlias = dict[str, Any]
"""Cells by column; a length is a whole number of millimeters in a column that ends in ``_mm``."""
Tables: TypeAlias = dict[str, list[Row]]

GROUPS: Mapping[str, str] = {
    "socket": "chrome sockets", "deep socket": "deep chrome sockets", "ratchet": "drive tools", "hex key": "hex keys",
    "screwdriver": "screwdrivers", "combination pliers": "pliers", "hammer": "striking tools",
}  # fmt: skip
"""Some kinds with their group by the usual rules."""
OWN_RULES: tuple[Row, ...] = (
    {"group": "chrome sockets", "share": "no"},
    {"group": "hex keys", "split": "no"},
    {"group": "all wrenches", "family": "wrenches", "tier": 4, "kinds": "combination wrench; ratcheting wrench"},
)
TREES = ("Hazel", "Larch", "Myrtle", "Poplar", "Sorrel", "Spruce", "Laurel", "Medlar", "Quince", "Willow")
PLACES = ("Fen", "Heath", "Weald", "Copse", "Knoll", "Brook", "Dell", "Marsh", "Holm", "Tarn")
HEIGHTS, BOTTOMS = (45, 50, 50, 70, 70, 75, 75, 95, 100, 120), (150, 200, 200, 250, 300)
"""Clear heights of drawers and of bottom drawers, mm."""


class Dice:
    """Draws that depend on the seed alone."""

    def __init__(self, seed: int) -> None:
        self._next = random.Random(seed).random

    def chance(self, share: float) -> bool:
        return self._next() < share

    def between(self, low: int, high: int) -> int:
        return low + int(self._next() * (high - low + 1))

    def pick(self, options: Sequence[T]) -> T:
        return options[self.between(0, len(options) - 1)]

    def run(self, options: Sequence[T], least: int) -> Sequence[T]:
        """Neighbors, at least so many of them where there are so many."""
        count = self.between(min(least, len(options)), len(options))
        start = self.between(0, len(options) - count)
        return options[start : start + count]

    def mixed(self, options: Sequence[T], weights: Sequence[int] = ()) -> list[T]:
        """All of them in an order in which heavier ones tend to come first."""
        drawn = [-self._next() * weight for weight in weights or [1] * len(options)]
        return [options[n] for n in sorted(range(len(options)), key=lambda n: drawn[n])]


def write(seed: int, folder: Path, sets: int = 3, cabinets: int = 4, pieces: tuple[int, int] = (20, 150)) -> None:
    """Write the catalogue of a seed into a folder: so many sets of so many pieces (from, to), and so many cabinets."""
    dice = Dice(seed)
    tables: Tables = {"foam": list(_foam(dice)), "tools": [], "drawers": [], "obstructions": []}
    for n in range(sets):
        tables["tools"] += _Set(dice, f"{dice.pick(TREES)}-{n + 1}", dice.between(*pieces)).rows()
    for n in range(cabinets):
        cabinet = _Cabinet(dice, f"{dice.pick(PLACES)}-{n + 1}")
        tables["drawers"] += cabinet.drawers()
        tables["obstructions"] += cabinet.duct(tables["drawers"]) if dice.chance(0.15) else []
    tables["organizers"] = list(_organizers(dice, tables))
    tables["groups"] = dice.mixed(OWN_RULES)[: dice.between(1, 3)] if dice.chance(0.3) else []
    wishes = dice.between(1, 4) if dice.chance(0.3) and _in_groups(tables) else 0
    tables["pins"] = [_pin(dice, tables) for _ in range(wishes)]
    _write(tables, folder, inches=dice.chance(0.4))


def catalogue(seed: int, sets: int = 3, cabinets: int = 4, pieces: tuple[int, int] = (20, 150)) -> Catalogue:
    """The records that are read from the files that `write` writes."""
    with TemporaryDirectory() as folder:
        write(seed, Path(folder), sets, cabinets, pieces)
        return read_catalogue(Path(folder))


def _foam(dice: Dice) -> Iterator[Row]:
    """Sheets of 48 x 24 in from 1/2 in to 3 in, and some of 96 x 48 in."""
    for thickness in (13, 19, 25, 38, 51, 76):
        for name, length, width in (("black", 1219, 610), ("large black", 2438, 1219))[: 1 + dice.chance(0.2)]:
            sheet = {"foam": f"{name} {thickness}", "length_mm": length, "width_mm": width}
            yield sheet | {"thickness_mm": thickness, "price": thickness * length // 1200}


class _Set:
    """Draws the pieces of one set."""

    def __init__(self, dice: Dice, name: str, pieces: int) -> None:
        self.dice, self.name, self.pieces = dice, name, pieces
        self.systems = (0, 1) if pieces > 200 else dice.pick(((0,), (0,), (1,), (0, 1), (0, 1)))
        self.drives = dice.run(tuple(DRIVES)[: dice.pick((3, 3, 3, 4, 5))], 2)[-3:]
        self.benched, self.used, self.many = dice.chance(0.2), dice.chance(0.5), dice.chance(0.3)

    def rows(self) -> Iterator[Row]:
        """Run after run, until there are all pieces."""
        runs = [run for kind in KINDS for run in product([kind], *self._choices(kind))]
        left = self.pieces
        for kind, drive, system in self.dice.mixed(runs, [kind.weight for kind, _, _ in runs]):
            for size in self._sizes(kind, drive, system):
                count = min(self.dice.between(2, 3) if self.many and self.dice.chance(0.1) else 1, left)
                left -= count
                if count:
                    yield self._tool(kind, drive, system, size) | {"count": count}
        if left:
            raise ValueError(f"{self.name}: there are {left} pieces too few for such a set")

    def _choices(self, kind: Kind) -> tuple[Sequence[str], Sequence[int]]:
        """Drives, and numbers of systems, that a kind has in this set."""
        drives = [drive for drive in kind.drives if drive in ("", *self.drives)]
        return drives, self.systems if len(kind.sizes) > 1 else (0,)

    def _sizes(self, kind: Kind, drive: str, system: int) -> Sequence[str]:
        """Neighboring sizes of a series; one or two of what is bought singly."""
        told = kind.sizes[system].replace("by drive", DRIVES[drive][system] if drive else "")
        known = [size for size in told.split() if kind.word != "adapter" or size != drive] or [""]
        return self.dice.run(known, 1)[:2] if "one or two" in kind.trait else self.dice.run(known, 4)

    def _tool(self, kind: Kind, drive: str, system: int, size: str) -> Row:
        inch_or_metric = ("metric", "inch")[system] if len(kind.sizes) > 1 else ""
        name = " ".join(filter(None, (kind.word, drive, size, {"metric": "mm", "inch": "in"}.get(inch_or_metric))))
        row: Row = {"set": self.name, "tool": name, "kind": kind.word, "system": inch_or_metric}
        row |= {"size": size, "drive": drive} | self._measured(kind, size)
        if self.benched and "bench" in kind.trait:
            row["group"] = "bench tools"
        if self.used and self.dice.chance(0.4):
            row["use"] = self.dice.between(1, 25)
        return row

    def _measured(self, kind: Kind, size: str) -> Row:
        """What was measured of some pieces, and of all of which nothing else says how large they are."""
        if kind.word in ("other", "cased") or (kind.word in BOXES and self.dice.chance(0.4)):
            usual = zip(("length_mm", "width_mm", "height_mm"), BOXES[kind.word], strict=True)
            return {column: self.dice.between(2 * length // 3, 3 * length // 2) for column, length in usual}
        return {"length_mm": int(size) + 9} if "pliers" in kind.word and self.dice.chance(0.3) else {}


class _Cabinet:
    """Draws one cabinet, bank by bank."""

    def __init__(self, dice: Dice, name: str) -> None:
        self.dice, self.name = dice, name
        self.family = dice.pick(("chest", "bench", "wide"))
        rows = dice.between(*{"chest": (4, 9), "bench": (5, 7), "wide": (5, 8)}[self.family])
        self.widths, self.depth = self._widths(), 5 * dice.between(64, 104)
        self.rating, self.corner = dice.pick((0, 0, 25, 35, 45)), dice.pick((0, 0, 0, 3, 6, 20))
        usual = self._heights(rows)
        self.banks = [usual if dice.chance(0.7) else self._heights(rows) for _ in self.widths]

    def drawers(self) -> Iterator[Row]:
        """Bank by bank from the top; the top drawer of some benches lies over the first two banks."""
        spanning = self.family == "bench" and self.dice.chance(0.3)
        for bank, (width, heights) in enumerate(zip(self.widths, self.banks, strict=True), 1):
            for row in range(1, len(heights) + 1):
                drawer = self._drawer(bank, row, width, heights)
                if spanning and (bank, row) == (1, 1):
                    floor = 120 + max(sum(height + 22 for height in below[1:]) for below in self.banks[:2])
                    over = {"bank": "1-2", "inside_width_mm": sum(self.widths[:2]) + 35, "above_ground_mm": floor}
                    yield drawer | over
                elif not spanning or (bank, row) != (2, 1):
                    yield drawer

    def duct(self, drawers: Sequence[Row]) -> Iterator[Row]:
        """Obstructions: a cable duct through the right rear corner of the last bank."""
        width, depth = self.dice.between(60, 120), self.dice.between(50, 110)
        for drawer in drawers:
            if (drawer["cabinet"], drawer["bank"]) == (self.name, len(self.widths)):
                left, front = drawer["inside_width_mm"] - width - 5, drawer["inside_depth_mm"] - depth - 5
                block = {"left_mm": left, "front_mm": front, "width_mm": width, "depth_mm": depth}
                name = {"cabinet": self.name, "drawer": drawer["drawer"]}
                yield name | block | {"height_mm": drawer["clear_height_mm"]}

    def _heights(self, rows: int) -> list[int]:
        return [*sorted(self.dice.pick(HEIGHTS) for _ in range(rows - 1)), self.dice.pick(BOTTOMS)]

    def _widths(self) -> list[int]:
        """Inside widths of the banks from left to right."""
        wide = 10 * (self.dice.between(90, 125) if self.family == "wide" else self.dice.between(48, 66))
        if self.family != "bench":
            return [wide]
        narrow = wide * self.dice.between(60, 90) // 100
        return self.dice.pick(([narrow, wide, narrow], [narrow, wide, narrow], [narrow, wide], [wide, narrow]))

    def _drawer(self, bank: int, row: int, width: int, heights: Sequence[int]) -> Row:
        last, place = row == len(heights), {"drawer": f"{'ABC'[bank - 1]}{row}", "bank": bank, "row": row}
        size = {"inside_width_mm": width, "inside_depth_mm": self.depth, "clear_height_mm": heights[row - 1]}
        more = {
            "load_rating_kg": (2 if last else 1) * self.rating or "",
            "above_ground_mm": 120 + sum(height + 22 for height in heights[row:]),
            "slot": "no foam" if last and self.family == "bench" else "",
            "corner_radius_mm": self.corner or "",
        }
        return {"cabinet": self.name} | place | size | more


def _organizers(dice: Dice, tables: Tables) -> Iterator[Row]:
    """Ready-made organizers of some groups, each made for a drawer of some cabinet."""
    homes = [drawer for drawer in tables["drawers"] if not drawer["slot"]]
    for name, kind in sorted({(row["set"], row["kind"]) for row in tables["tools"]}):
        if kind in GROUPS and dice.chance(0.1):
            home = dice.pick(homes)
            width, depth = (home[f"inside_{side}_mm"] - dice.between(4, 30) for side in ("width", "depth"))
            field = {"field_width_mm": width - dice.between(24, 90), "field_depth_mm": depth - dice.between(24, 60)}
            size = {"width_mm": width, "depth_mm": depth, "height_mm": dice.between(32, 66)}
            yield {"set": name, "group": GROUPS[kind]} | size | (field if dice.chance(0.6) else {})


def _in_groups(tables: Tables) -> list[Row]:
    """The tools whose group is known by their kind."""
    return [row for row in tables["tools"] if row["kind"] in GROUPS and "group" not in row]


def _pin(dice: Dice, tables: Tables) -> Row:
    """A wish about a group and a drawer."""
    tool = dice.pick(_in_groups(tables))
    drawer, group = dice.pick(tables["drawers"]), GROUPS[tool["kind"]]
    rules: tuple[Row, ...] = (
        {"rule": "in", "group": group, "row": drawer["row"]},
        {"rule": "not in", "group": group, "drawer": drawer["drawer"]},
        {"rule": "keep free", "drawer": drawer["drawer"]},
        {"rule": "apart", "group": group, "other": "hex keys" if group != "hex keys" else "pliers"},
    )
    return {"set": tool["set"], "cabinet": drawer["cabinet"]} | dice.pick(rules)


def _write(tables: Tables, folder: Path, inches: bool) -> None:
    """Write every table that has rows; a column in which nothing was typed is left out."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, rows in tables.items():
        columns = list(dict.fromkeys(column for row in rows for column, cell in row.items() if cell != ""))
        if rows:
            with (folder / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
                table = csv.writer(file, lineterminator="\n")
                table.writerow(column.replace("_mm", "_in") if inches else column for column in columns)
                table.writerows([_cell(row.get(column, ""), column, inches) for column in columns] for row in rows)


def _cell(value: Any, column: str, inches: bool) -> str:
    """A cell's text; a length in inches as a shop fraction, to the nearest 1/8 in."""
    if value == "" or not inches or not column.endswith("_mm"):
        return str(value)
    whole, eighths = divmod((80 * value + 127) // 254, 8)
    return " ".join(filter(None, (str(whole or ""), ("", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")[eighths])))
