"""Small catalogues in which plans divide groups, mix families and share drawers, and changes of drawers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from random import Random

from matcher.planning.answering import plan
from matcher.planning.outcome import Fits, Outcome
from matcher.records.given import Catalogue, Drawer, GroupRule
from matcher.records.units import mm
from tests.builders import HOUSE, cabinet, catalogue, drawer, piece

DEPTH = 200
"""Of every block and, with margins and clearances, of every drawer, so that widths decide."""
ROOM = 3.2 + 24 + 4.8
"""Clearances and margins, and room for pockets a little larger than their blocks, mm."""
WEB = 12
CORNER = 20
"""A radius that reaches past clearance and margin, mm."""
SYSTEMS = ("", "inch", "metric")


def known_of(seed: int) -> Catalogue:
    """Up to four groups of up to four blocks in one or two families, and up to four drawers, one a row, rather few."""
    random = Random(seed)
    groups = [[random.choice((100, 150)) for _ in range(random.randint(1, 4))] for _ in range(random.randint(1, 4))]
    pieces = []
    for g, widths in enumerate(groups):
        systems = sorted((random.choice(SYSTEMS) for _ in widths), key=SYSTEMS.index)
        for n, (width, system) in enumerate(zip(widths, systems, strict=True)):
            pieces.append(piece(f"block {g}.{n}", DEPTH, width, 20, group=f"group {g}", system=system))
    rules = tuple(GroupRule(f"group {g}", random.choice("ab"), 1 + g) for g in range(len(groups)))
    total, count = sum(sum(widths) + WEB * len(widths) for widths in groups), random.randint(1, 4)
    corner = mm(random.choice((0, 0, CORNER)))
    boxes = []
    for n in range(1, count + 1):
        width = max(200, int(total / count * random.uniform(0.9, 1.7))) + ROOM
        boxes.append(drawer(str(n), 1, n, width, DEPTH + ROOM, 60, corner_radius=corner))
    return catalogue(pieces, (), [cabinet(*boxes)], group_rules=rules)


def fitting_seeds(wanted: int, first: int = 0) -> tuple[int, ...]:
    """The first seeds whose set fits."""
    found: list[int] = []
    seed = first
    while len(found) < wanted:
        if plan(known_of(seed), HOUSE, "set", "cabinet").verdict == "fits":
            found.append(seed)
        seed += 1
    return tuple(found)


def with_drawers(known: Catalogue, name: str, change: Callable[[Drawer], Drawer]) -> Catalogue:
    """The catalogue with every drawer of a cabinet changed."""
    cabinets = (
        replace(one, drawers=tuple(map(change, one.drawers))) if one.name == name else one for one in known.cabinets
    )
    return replace(known, cabinets=tuple(cabinets))


def smaller(drawer: Drawer, by: float = 2) -> Drawer:
    """The drawer with ``by`` mm less in width, depth and height."""
    less = mm(by)
    return replace(
        drawer,
        inside_width=drawer.inside_width - less,
        inside_depth=drawer.inside_depth - less,
        clear_height=drawer.clear_height - less,
    )


def drawers_of(outcome: Outcome) -> dict[str, str]:
    """The drawer of each group or part."""
    assert isinstance(outcome, Fits)
    return {placed.group: placed.drawer for placed in outcome.plan.placements}
