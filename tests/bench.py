"""A good plan drawn by hand, its catalogue, and ways to change either.

Sizes follow the house rules as shipped: side 1.6 mm, top 3 mm, margin 12 mm, fit 0.8 mm, web 6 mm, floor 6 mm. But no
sheets are in stock, so foam is as thick as it is needed, and of a socket half goes into it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from matcher.house.reading import default_house
from matcher.house.rules import House
from matcher.records.answered import Placement, Plan
from matcher.records.given import Cabinet, Catalogue, Drawer, GroupRule, Obstruction, Organizer, Piece, Pin
from matcher.records.laid_out import Group, Layout, Notch, Pocket, SizedPiece
from matcher.records.units import Number
from matcher.records.units import kg as exact_kg
from matcher.records.units import mm as exact_mm
from matcher.verification.checker import verify
from matcher.verification.hard_rules import Violation


def mm(value: Number) -> int:
    """Length of a value as written: 21.6 means 21.6, not the nearest binary fraction."""
    return exact_mm(Decimal(str(value)))


def kg(value: Number) -> int:
    """Mass of a value as written."""
    return exact_kg(Decimal(str(value)))


SHIPPED = default_house()
HOUSE = replace(
    SHIPPED,
    pocket=replace(
        SHIPPED.pocket,
        stock=(),
        depth_share=(*SHIPPED.pocket.depth_share, ("socket", Decimal("0.5"))),
    ),
)
SIDE, MARGIN, FIT, WEB, FLOOR = mm(1.6), mm(12), mm(0.8), mm(6), mm(6)
CORNER = 600
"""Inset that clears a corner of 20 mm: (20 - 13.6) x (1 - 1/sqrt 2) = 1.8745 mm, 599.8 units, rounded up."""


# -------------------------------------------------------------------------------------------------- the good plan


def piece(tool: str, kind: str, system: str = "", size: str = "", drive: str = "", group: str = "") -> Piece:
    return Piece("shop", tool, kind, 1, system=system, size=size, drive=drive, group=group)  # type: ignore[arg-type]


def sized(row: Piece, length: int, width: int, height: int, rank: int = 0, diameter: int | None = None) -> SizedPiece:
    return SizedPiece(row, length, width, height, diameter, kg(0.1), kg(0.1), rank, "estimated", "by hand")


def socket(size: str, drive: str, system: str) -> SizedPiece:
    row = piece(f"{drive} {size} {system} socket", "socket", system, size, drive)
    return sized(row, mm(38), mm(20), mm(20), diameter=mm(20))


def group_of(name: str, family: str, tier: int, pieces: tuple[SizedPiece, ...], made: Organizer | None = None) -> Group:
    mass = sum(one.mass_high * one.piece.count for one in pieces)
    cased = bool(pieces) and all(one.piece.kind == "cased" for one in pieces)
    return Group(name, family, tier, "", True, True, cased, pieces, made, mass, mass, None)


def rectangle(left: int, front: int, width: int, depth: int) -> tuple[tuple[int, int], ...]:
    return (left, front), (left + width, front), (left + width, front + depth), (left, front + depth)


def line(rooms: list[tuple[int, int]], depth: int, rise: int, standing: bool = False) -> Layout:
    """Pockets of these widths and depths side by side, a web apart, flush in front, in foam that leaves the floor."""
    pockets, x = [], 0
    for index, (wide, deep) in enumerate(rooms):
        pockets.append(Pocket(index, rectangle(x, 0, wide, deep), depth, rise, standing))
        x += wide + WEB
    return Layout(x - WEB, max(deep for _, deep in rooms), rise, tuple(pockets), thickness=FLOOR + depth)


def placed_new(group: str, drawer: str, left: int, front: int, layout: Layout) -> Placement:
    width, depth = layout.width + 2 * MARGIN, layout.depth + 2 * MARGIN
    return Placement(
        group, drawer, "new", "new", "new", left, front, width, depth, layout.height, 0, 0, layout, MARGIN, MARGIN
    )


SOCKETS = group_of(
    "chrome sockets",
    "chrome sockets",
    1,
    (
        socket("1/2", "1/2", "inch"),
        socket("9/16", "1/2", "inch"),
        socket("3/8", "3/8", "inch"),
        socket("10", "3/8", "metric"),
        socket("13", "3/8", "metric"),
        socket("17", "1/2", "metric"),
    ),
)
DEEP = group_of(
    "deep chrome sockets",
    "chrome sockets",
    1,
    tuple(sized(piece(f"deep {n}", "deep socket", "metric", n, "3/8"), mm(60), mm(20), mm(20)) for n in ("10", "13")),
)
WRENCHES = group_of(
    "metric wrenches",
    "metric wrenches",
    4,
    tuple(
        sized(piece(f"wrench {n}", "combination wrench", "metric", n), mm(length), mm(25), mm(8), rank=int(n))
        for n, length in (("10", 140), ("13", 160), ("17", 180))
    ),
)
MADE = Organizer("shop", "pliers", mm(420), mm(295), mm(50), field_width=mm(360), field_depth=mm(250), family="pliers")
PLIERS = group_of("pliers", "pliers", 6, (), MADE)
CASE = group_of("drill", "drill", 7, (sized(piece("drill", "cased"), mm(300), mm(200), mm(100)),))

DRAWERS = (
    Drawer("bench", "A1", 1, 1, 1, mm(400), mm(300), mm(80), load_rating=kg(20), above_ground=mm(900)),
    Drawer("bench", "A2", 1, 1, 2, mm(400), mm(300), mm(80), above_ground=mm(800)),
    Drawer(
        "bench",
        "B1",
        2,
        2,
        1,
        mm(300),
        mm(400),
        mm(60),
        above_ground=mm(900),
        corner_radius=mm(20),
        liner=mm(2),
        obstructions=(Obstruction(mm(150), mm(100), mm(50), mm(300), mm(30)),),
    ),
    Drawer("bench", "B2", 2, 2, 2, mm(400), mm(300), mm(120), above_ground=mm(800)),
    Drawer("bench", "C1", 1, 2, 3, mm(700), mm(400), mm(150), slot="no foam", above_ground=mm(500)),
    Drawer("bench", "C2", 1, 2, 4, mm(700), mm(400), mm(150), slot="blocked", above_ground=mm(300)),
)
RULE_ROWS = (
    GroupRule("chrome sockets", "chrome sockets", 1, ("socket",)),
    GroupRule("deep chrome sockets", "chrome sockets", 1, ("deep socket",), share=True, house=True),
    GroupRule("metric wrenches", "metric wrenches", 4, ("combination wrench",), "metric", share=True, split=True),
)
KEPT_PINS = (
    Pin("in", "shop", "bench", "pliers", bank=1, row=2),
    Pin("in", group="drill", bank=2, row=3),
    Pin("not in", group="metric wrenches", bank=1),
    Pin("apart", group="metric wrenches", other="chrome sockets"),
    Pin("keep free", cabinet="bench", drawer="B2"),
    Pin("not in", "another set", group="drill"),
    Pin("keep free", cabinet="another cabinet"),
)
SOCKET_ROOM, DEEP_ROOM = (mm(21.6), mm(21.6)), (mm(21.6), mm(61.6))
SOCKET_LINE = line([SOCKET_ROOM] * 6, mm(20), FLOOR + mm(38), standing=True)
DEEP_LINE = line([DEEP_ROOM] * 2, mm(12), FLOOR + mm(20))
FINGER_SLOT = Notch(rectangle(mm(10), mm(130), mm(72), mm(28)), mm(8), (0, 1, 2))
"""A notch through all three wrenches, which lie flush with the foam; a fingertip goes in behind the shortest one."""
WRENCH_LINE = replace(
    line([(mm(26.6), mm(length + 1.6)) for length in (140, 160, 180)], mm(8), FLOOR + mm(8)), notches=(FINGER_SLOT,)
)
CASE_LINE = Layout(mm(300), mm(200), mm(100), (Pocket(0, rectangle(0, 0, mm(300), mm(200)), 0, mm(100)),))
PLIERS_PLACED = Placement(
    "pliers",
    "A2",
    "trim",
    "trim",
    "as is",
    left=SIDE,
    front=SIDE,
    width=mm(396.8),
    depth=mm(295),
    height=mm(50),
    gap_width=0,
    gap_depth=mm(1.8),
    field_left=mm(18),
    field_front=mm(22.5),
)
CASE_PLACED = Placement(
    "drill", "C1", "cased", "cased", "cased", SIDE, SIDE, mm(300), mm(200), mm(100), mm(396.8), mm(196.8), CASE_LINE
)
PLAN = Plan(
    "shop",
    "bench",
    "spread",
    (SOCKETS, DEEP, WRENCHES, PLIERS, CASE),
    (
        placed_new("chrome sockets", "A1", SIDE, SIDE, SOCKET_LINE),
        placed_new("deep chrome sockets", "A1", SIDE + SOCKET_LINE.width + 2 * MARGIN, SIDE, DEEP_LINE),
        placed_new("metric wrenches", "B1", SIDE + CORNER, SIDE + CORNER, WRENCH_LINE),
        PLIERS_PLACED,
        CASE_PLACED,
    ),
    ("B2",),
)
CATALOGUE = Catalogue(
    pieces=tuple(one.piece for group in PLAN.groups for one in group.pieces),
    organizers=(MADE,),
    cabinets=(Cabinet("bench", DRAWERS),),
    group_rules=RULE_ROWS,
    relations=(),
    pins=KEPT_PINS,
)


@dataclass(frozen=True)
class Bench:
    """A catalogue and a plan for it."""

    catalogue: Catalogue = CATALOGUE
    plan: Plan = PLAN
    house: House = HOUSE

    @property
    def violations(self) -> tuple[Violation, ...]:
        return verify(self.catalogue, self.house, self.plan)

    def place(self, group: str, **changes: object) -> Bench:
        placements = tuple(replace(p, **changes) if p.group == group else p for p in self.plan.placements)
        return replace(self, plan=replace(self.plan, placements=placements))

    def shift(self, group: str, left: int = 0, front: int = 0) -> Bench:
        old = self.placement(group)
        return self.place(group, left=old.left + left, front=old.front + front)

    def placement(self, group: str) -> Placement:
        return next(placed for placed in self.plan.placements if placed.group == group)

    def group(self, name: str, **changes: object) -> Bench:
        groups = tuple(replace(g, **changes) if g.name == name else g for g in self.plan.groups)
        return replace(self, plan=replace(self.plan, groups=groups))

    def pocket(self, group: str, index: int, **changes: object) -> Bench:
        layout = self.placement(group).layout
        assert layout is not None
        pockets = tuple(replace(p, **changes) if i == index else p for i, p in enumerate(layout.pockets))
        return self.place(group, layout=replace(layout, pockets=pockets))

    def drawer(self, name: str, **changes: object) -> Bench:
        drawers = tuple(replace(d, **changes) if d.name == name else d for d in self.catalogue.cabinets[0].drawers)
        return replace(self, catalogue=replace(self.catalogue, cabinets=(Cabinet("bench", drawers),)))

    def pins(self, *pins: Pin) -> Bench:
        return replace(self, catalogue=replace(self.catalogue, pins=(*self.catalogue.pins, *pins)))

    def rules(self, *rows: GroupRule) -> Bench:
        return replace(self, catalogue=replace(self.catalogue, group_rules=rows))

    def free(self, *names: str) -> Bench:
        return replace(self, plan=replace(self.plan, free_drawers=names))

    def without_pin(self, rule: str) -> Bench:
        kept = tuple(pin for pin in self.catalogue.pins if pin.rule != rule)
        return replace(self, catalogue=replace(self.catalogue, pins=kept))


GOOD = Bench()
BASE = mm(9.6)
"""A base of which the floor of 6 mm is left, with 2 mm to spare, where both sheets are thin by 0.8 mm."""


def on_base(bench: Bench) -> Bench:
    """The plan with every pocket cut just through its top sheet; all may rise 1 mm more than they need."""
    house = replace(HOUSE, pocket=replace(HOUSE.pocket, base=BASE, stock=(mm(8), mm(12), mm(20))))
    for name in ("chrome sockets", "deep chrome sockets", "metric wrenches"):
        laid = bench.placement(name).layout
        assert laid is not None
        more = BASE + mm(1) - FLOOR
        pockets = tuple(replace(pocket, rise=pocket.rise + more) for pocket in laid.pockets)
        foam = laid.pockets[0].depth + BASE
        laid = replace(laid, pockets=pockets, height=laid.height + more, thickness=foam, base=BASE)
        bench = bench.place(name, layout=laid, height=laid.height)
    return replace(bench, house=house)


def rules_of(bench: Bench) -> set[str]:
    return {violation.rule for violation in bench.violations}
