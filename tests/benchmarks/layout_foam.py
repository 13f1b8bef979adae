"""Foam that ordered layouts take beside free nests, for groups of the bundled catalogue or of generated ones.

Run as ``python -m tests.benchmarks.layout_foam [bare] [generated] [seconds per nest] [words of a set or group ...]``;
with ``bare`` no finger notches are cut, with ``generated`` the groups come from catalogues that no layout was tuned to
(`tests.generated`): every third one of 10 to 150 tools, of so many seeds. For every group: the least field of the shape
curve in a wide drawer, with heads end for end and with all heads the same way, over the least field of a free nest
(spyrrow) of the same pockets, each with a notch of its own if it needs one, at 0 and 180 degrees with half their webs
round them; over the best rows of boxes by rectpack; and the time the curve took. All columns come from one run.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path
from statistics import median
from time import perf_counter

import rectpack
import spyrrow
from shapely import Polygon, union_all
from shapely.geometry.base import BaseGeometry

from matcher.catalogue.reading import read_catalogue
from matcher.house.reading import default_house
from matcher.house.rules import House
from matcher.layout.curves import curve, realize
from matcher.layout.poses import Pose, poses, rules_for, sheets
from matcher.planning.grouping import groups_of, sets_of
from matcher.records.given import Catalogue
from matcher.records.laid_out import Footprint, Group, Layout
from matcher.records.units import PER_MM, mm
from tests.generated import catalogue

WORKSHOP = Path(__file__).parents[2] / "data" / "workshop"
HOUSE = default_house()
BARE = replace(HOUSE, notch=replace(HOUSE.notch, grip=-mm(100)))
"""Without finger notches, whose sharing a free nest cannot match."""
SEEDS = range(6000, 6016)
"""Of generated catalogues."""
LIMIT, WIDEST = mm(430), mm(1045)
"""Depth and width of a field in a drawer 460 mm deep over two banks, about."""


@dataclass(frozen=True)
class Row:
    """One group: figures in the order of the table's columns."""

    name: str
    tools: int
    free: float
    alternating: float
    same_way: float
    rectpack: float
    first_ms: float
    again_ms: float
    layout: Layout


def least(group: Group, house: House) -> Footprint:
    """The point of the curve with the least area below the depth limit, or of all points if none is."""
    points = curve(group, house)
    low = [point for point in points if point.depth <= LIMIT and point.width <= WIDEST]
    return min(low or points, key=lambda point: (point.width * point.depth, point))


def alone(group: Group, layout: Layout, house: House) -> list[BaseGeometry]:
    """What every pocket of a layout is without neighbors: with a notch of its own if it needs one."""
    rules = next(
        sheet for sheet in sheets(group.pieces, rules_for(group, house)) if sheet.thickness == layout.thickness
    )
    shapes = []
    for pocket in layout.pockets:
        left, front, right, back = Polygon(pocket.ring).bounds
        known = [
            pose for pose in poses(group.pieces[pocket.piece], rules) if (pose.way == "standing") == pocket.standing
        ]
        pose = min(
            known, key=lambda pose: abs(_extent(pose)[0] - (right - left)) + abs(_extent(pose)[1] - (back - front))
        )
        shapes.append(union_all([Polygon(ring) for ring in pose.alone.shape]))
    return shapes


def _extent(pose: Pose) -> tuple[int, int]:
    return max(x for x, _ in pose.pocket) - min(x for x, _ in pose.pocket), max(y for _, y in pose.pocket)


def nested(group: Group, layout: Layout, house: House, seconds: int) -> float:
    """Area in mm2 of the better of two free nests of a layout's pockets, as deep as the layout and as the limit."""
    webs = [house.pocket.web_for(pocket.depth) for pocket in layout.pockets]
    widest = max(webs)
    items = []
    for index, (shape, web) in enumerate(zip(alone(group, layout, house), webs, strict=True)):
        grown = shape.buffer(web / 2, quad_segs=2).simplify(8)
        points = [(x / PER_MM, y / PER_MM) for x, y in grown.exterior.coords]
        items.append(spyrrow.Item(str(index), points, demand=1, allowed_orientations=[0, 180]))
    areas = []
    tallest = max(max(y for _, y in item.shape) - min(y for _, y in item.shape) for item in items) * PER_MM - widest
    for depth in {max(layout.depth, tallest), max(layout.depth, tallest, LIMIT)}:
        strip = spyrrow.StripPackingInstance("nest", strip_height=(depth + widest) / PER_MM + 1, items=items)
        config = spyrrow.StripPackingConfig(
            early_termination=True, total_computation_time=seconds, num_workers=1, seed=1
        )
        areas.append((strip.solve(config).width - widest / PER_MM) * depth / PER_MM)
    return min(areas)


def boxed(group: Group, layout: Layout, house: House) -> float:
    """Area in mm2 of the best of rectpack's packings of the same pockets' boxes with a web round them, as deep as the
    layout or as the limit."""
    rows = [shape.bounds for shape in alone(group, layout, house)]
    webs = [house.pocket.web_for(pocket.depth) for pocket in layout.pockets]
    web = max(webs)
    boxes = [(round(c - a) + w, round(d - b) + w) for (a, b, c, d), w in zip(rows, webs, strict=True)]
    best = float("inf")
    for depth in {layout.depth, max(layout.depth, LIMIT)}:
        for algorithm in (rectpack.MaxRectsBssf, rectpack.MaxRectsBl, rectpack.MaxRectsBaf, rectpack.SkylineBlWm):
            best = min(best, (narrowest(boxes, depth + web, algorithm) - web) * depth)
    return best / PER_MM**2


def narrowest(boxes: Sequence[tuple[int, int]], depth: int, algorithm: type) -> int:
    """Least width of a bin that takes all the boxes, unturned, by bisection to a millimeter."""
    low, high = max(w for w, _ in boxes), sum(w for w, _ in boxes)
    while high - low > PER_MM:
        middle = (low + high) // 2
        packer = rectpack.newPacker(pack_algo=algorithm, rotation=False)
        for width, deep in boxes:
            packer.add_rect(width, deep)
        packer.add_bin(middle, depth)
        packer.pack()
        low, high = (low, middle) if len(packer.rect_list()) == len(boxes) else (middle, high)
    return high


def named(catalogues: Iterable[tuple[str, Catalogue]]) -> Iterator[tuple[str, Group]]:
    """Groups that have foam, each with its name in the table; equal ones once."""
    seen = set()
    for prefix, known in catalogues:
        for name in sets_of(known):
            for group in groups_of(known, name):
                key = tuple((p.piece.kind, p.length, p.width, p.piece.count) for p in group.pieces)
                if not group.cased and group.pieces and key not in seen:
                    seen.add(key)
                    yield f"{prefix}{name} {group.name}", group


def bundled() -> Iterator[tuple[str, Group]]:
    """Every group of the bundled catalogue."""
    return named([("", read_catalogue(WORKSHOP))])


def drawn(seeds: Iterable[int] = SEEDS) -> Iterator[tuple[str, Group]]:
    """Every third group of 10 to 150 tools of the catalogues of these seeds."""
    found = named((f"{seed} ", catalogue(seed, sets=1, cabinets=1, pieces=(80, 400))) for seed in seeds)
    return islice((one for one in found if 10 <= one[1].tools <= 150), 0, None, 3)


def rows(
    house: House, seconds: int, words: Sequence[str], groups: Iterable[tuple[str, Group]] | None = None
) -> Iterator[Row]:
    """Figures of every group whose name has one of the words, of the bundled ones if none are given."""
    same_way = replace(house, layout=replace(house.layout, alternate_heads=False))
    for told, group in bundled() if groups is None else groups:
        if words and not any(word in told for word in words):
            continue
        start = perf_counter()
        curve(group, house)
        first = perf_counter() - start
        start = perf_counter()
        curve(group, house)
        again = perf_counter() - start
        point, same = least(group, house), least(group, same_way)
        layout = realize(group, house, point)
        area, same_area = (p.width * p.depth / PER_MM**2 for p in (point, same))
        free, box = nested(group, layout, house, seconds), boxed(group, layout, house)
        count = len(layout.pockets)
        yield Row(told, count, free / 100, area / free, same_area / free, area / box, 1e3 * first, 1e3 * again, layout)


def main() -> None:
    """Print the table and its summary."""
    given = sys.argv[1:]
    house = BARE if given[:1] == ["bare"] else HOUSE
    given = given[1:] if house is BARE else given
    groups = drawn() if given[:1] == ["generated"] else bundled()
    given = given[given[:1] == ["generated"] :]
    seconds = int(given[0]) if given else 10
    print(f"{'group':42}{'tools':>6}{'nest cm2':>9}{'altern.':>8}{'same':>7}{'boxes':>7}{'first ms':>9}{'again ms':>9}")
    found = []
    for row in rows(house, seconds, given[1:], groups):
        found.append(row)
        figures = f"{row.free:9.0f}{row.alternating:8.2f}{row.same_way:7.2f}{row.rectpack:7.2f}"
        size = f"  {row.layout.width / PER_MM:.0f} x {row.layout.depth / PER_MM:.0f}"
        print(f"{row.name:42}{row.tools:6}{figures}{row.first_ms:9.0f}{row.again_ms:9.2f}{size}", flush=True)
    alternating = sorted(row.alternating for row in found)
    print(
        f"alternating: median {median(alternating):.2f}, nine in ten {alternating[int(0.9 * (len(found) - 1))]:.2f}, "
        f"most {alternating[-1]:.2f}; "
        f"same way: median {median(row.same_way for row in found):.2f}; "
        f"boxes: median {median(row.rectpack for row in found):.2f}, most {max(row.rectpack for row in found):.2f}"
    )


if __name__ == "__main__":
    main()
