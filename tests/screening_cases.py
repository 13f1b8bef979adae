"""Catalogues made by rule: product lines whose groups and drawer sizes recur, as they do in a maker's range."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from matcher.records.given import Cabinet, Catalogue, Drawer, GroupRule, Organizer, Piece
from matcher.records.units import kg, mm
from tests.builders import cabinet, catalogue, drawer, organizer, piece

FAMILIES = 40
WIDTHS = (470, 560, 680, 900)
DEPTHS = (390, 400, 450)
HEIGHTS = (50, 75, 100, 150, 200, 250)


def generated(sets: int, cabinets: int, seed: int = 1, share: float = 0.3, drawn: float = 0.1) -> Catalogue:
    """Sets of 3 to 12 groups, cabinets of 5 to 18 drawers.

    ``share`` is the part of the families whose groups share drawers, ``drawn`` the part of the groups that consist of
    pieces, without a ready-made organizer.
    """
    random = Random(seed)
    rules, range_of = _range(random, share, drawn)
    pieces: list[Piece] = []
    organizers: list[Organizer] = []
    for number in range(sets):
        for row in _set(f"set {number:04d}", random.sample(range_of, random.randint(3, 12))):
            (pieces if isinstance(row, Piece) else organizers).append(row)  # type: ignore[arg-type]
    made = [_cabinet(f"cabinet {number:04d}", random) for number in range(cabinets)]
    return catalogue(pieces, organizers, made, group_rules=rules)


def _range(random: Random, share: float, drawn: float) -> tuple[tuple[GroupRule, ...], list[list[Piece | Organizer]]]:
    """A maker's range: six groups a family, each either a ready-made organizer or up to six blocks."""
    rules = []
    range_of: list[list[Piece | Organizer]] = []
    for family in range(FAMILIES):
        shares = random.random() < share
        for place in range(6):
            name = f"group {family:02d}-{place}"
            rules.append(GroupRule(name, f"family {family:02d}", random.randint(1, 5), share=shares))
            range_of.append(_pieces(name, random) if random.random() < drawn else [_ready(name, random)])
    return tuple(rules), range_of


def _ready(name: str, random: Random) -> Organizer:
    """An organizer cut for some drawer of the trade, the field of which may be smaller."""
    width, depth = random.choice(WIDTHS[:3]) - 4, random.choice(DEPTHS[:2]) - 4
    if random.random() < 0.4:
        width //= 2
    off = random.choice((0, 20, 60, 120))
    height = random.choice(HEIGHTS[:3]) - random.choice((4, 10, 20))
    field = {"field_width": mm(width - 24 - off), "field_depth": mm(depth - 24 - off)}
    return organizer(name, width, depth, height, "", mass=kg(random.randint(1, 12)) // 2, **field)


def _pieces(name: str, random: Random) -> list[Piece | Organizer]:
    return [
        piece(
            f"block {number}",
            length=random.randint(60, 360),
            width=random.randint(20, 60),
            height=random.randint(15, 60),
            count=random.randint(1, 3),
            group=name,
            set="",
        )
        for number in range(random.randint(1, 6))
    ]


def _set(name: str, groups: list[list[Piece | Organizer]]) -> list[Piece | Organizer]:
    return [replace(row, set=name) for group in groups for row in group]


def _cabinet(name: str, random: Random) -> Cabinet:
    """Drawers of one width and depth and of a few heights, in one or two banks; some rated, few without foam."""
    width, depth = random.choice(WIDTHS), random.choice(DEPTHS)
    rating = random.choice((None, kg(15), kg(40)))
    drawers: list[Drawer] = []
    for bank in range(1, random.choice((1, 2, 2)) + 1):
        for row in range(1, random.randint(5, 9) + 1):
            height = random.choice(HEIGHTS)
            slot = "no foam" if height == HEIGHTS[-1] and random.random() < 0.5 else "foam"
            drawers.append(
                drawer(f"{bank}.{row}", bank, row, width, depth, height, cabinet=name, load_rating=rating, slot=slot)
            )
    return cabinet(*drawers, name=name)
