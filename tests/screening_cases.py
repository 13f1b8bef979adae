"""Catalogues made by rule: product lines whose groups and drawer sizes recur, as they do in a maker's range."""

from __future__ import annotations

from random import Random

from matcher.records import Cabinet, Catalogue, Drawer, GroupRule, Organizer, Piece
from tests.builders import cabinet, catalogue, drawer, organizer, piece

FAMILIES = 40
WIDTHS = (380, 470, 560, 680, 760, 900)
DEPTHS = (380, 400, 450, 480)
HEIGHTS = (45, 60, 75, 90, 110, 150, 200, 250)


def generated(sets: int, cabinets: int, seed: int = 1, share: float = 0.3, drawn: float = 0.1) -> Catalogue:
    """Sets of 3 to 12 groups, cabinets of 4 to 16 drawers.

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
    width, depth = random.choice(WIDTHS) - 4, random.choice(DEPTHS) - 4
    if random.random() < 0.4:
        width //= 2
    off = random.choice((0, 0, 20, 60))
    height = random.choice(HEIGHTS[:5]) - random.choice((4, 10, 20))
    field = {"field_width": 320 * (width - 24 - off), "field_depth": 320 * (depth - 24 - off)}
    return organizer(name, width, depth, height, "", mass=100_000 * random.randint(500, 6000), **field)


def _pieces(name: str, random: Random) -> list[Piece | Organizer]:
    return [
        piece(
            f"block {number}",
            length=random.randint(60, 420),
            width=random.randint(20, 120),
            height=random.randint(15, 60),
            count=random.randint(1, 3),
            group=name,
            set="",
        )
        for number in range(random.randint(1, 6))
    ]


def _set(name: str, groups: list[list[Piece | Organizer]]) -> list[Piece | Organizer]:
    from dataclasses import replace

    return [replace(row, set=name) for group in groups for row in group]


def _cabinet(name: str, random: Random) -> Cabinet:
    """Drawers of one width and depth and of a few heights, in one or two banks; some rated, few without foam."""
    width, depth = random.choice(WIDTHS), random.choice(DEPTHS)
    rating = random.choice((None, 200_000_000, 400_000_000))
    drawers: list[Drawer] = []
    for bank in range(1, random.choice((1, 1, 2)) + 1):
        for row in range(1, random.randint(4, 8) + 1):
            height = random.choice(HEIGHTS)
            slot = "no foam" if height == HEIGHTS[-1] and random.random() < 0.5 else "foam"
            drawers.append(
                drawer(f"{bank}.{row}", bank, row, width, depth, height, cabinet=name, load_rating=rating, slot=slot)
            )
    return cabinet(*drawers, name=name)
