"""What the house rules come to in numbers, by formulas of the checker's own: from fields of records alone.

Lengths are in 1/320 mm, masses in 10 micrograms. Whatever makes plans has formulas of its own for the same rules; none
of them is called here, so that a slip in one of the two shows as a difference between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor
from typing import TypeVar

from matcher.house import HeightRules, House, PocketRules
from matcher.records import Drawer, Group, SizedPiece

Value = TypeVar("Value", int, Decimal)


def web_beside(rules: PocketRules, depth: int) -> int:
    """Foam that a pocket or notch of ``depth`` needs beside it: max(``web``, ``web_share`` x depth), rounded up."""
    return max(rules.web, ceil(rules.web_share * depth))


def of_kind(table: Sequence[tuple[str, Value]], kind: str) -> Value:
    """The value that a table of the house has for a kind of tool: its own, else that of ``default``."""
    own = [value for name, value in table if name == kind]
    return own[0] if own else next(value for name, value in table if name == "default")


def deepest_pocket(house: House, kind: str) -> int:
    """Deepest pocket of a kind: its ``depth_max``, and no deeper than the longest cutter reaches."""
    return min([of_kind(house.pocket.depth_max, kind), *_reaches(house)])


def _reaches(house: House) -> list[int]:
    return [max(cutter.reach for cutter in house.cutters)] if house.cutters else []


def sunk(house: House, kind: str, thickness: int) -> int:
    """How deep a piece of a thickness lies in the foam by itself: ``depth_share`` x thickness, rounded down, or the
    deepest pocket of its kind if that is less."""
    return min(floor(of_kind(house.pocket.depth_share, kind) * thickness), deepest_pocket(house, kind))


def next_step(rules: PocketRules, depth: int) -> int:
    """The least multiple of ``depth_step`` that is no less than a depth; the depth itself where there is no step."""
    return ceil(Fraction(depth, rules.depth_step)) * rules.depth_step if rules.depth_step else depth


def floor_under(rules: PocketRules, based: bool) -> int:
    """Foam under the deepest pocket: the floor; with a base also what both sheets may be thinner by."""
    return rules.floor + (2 * rules.stock_tolerance if based else 0)


def laid_size(sized: SizedPiece, standing: bool) -> tuple[int, int, int]:
    """Length, width and height of the room that a piece takes as it lies or stands; what the catalogue gives wins.

    A standing piece takes a circle of its diameter, or of the larger of width and height, and rises by its length.
    """
    row = sized.piece
    length = sized.length if row.length is None else row.length
    width = sized.width if row.width is None else row.width
    height = sized.height if row.height is None else row.height
    if not standing:
        return length, width, height
    across = sized.diameter if sized.diameter is not None else max(width, height)
    return across, across, length


def weights(group: Group) -> tuple[int, int]:
    """Least and greatest mass of a group: its pieces, by the mass that the catalogue gives them or else by their
    bounds, and its ready-made organizer."""
    made = (group.organizer.mass or 0) if group.organizer else 0
    rows = [(one.piece, one.mass_low, one.mass_high) for one in group.pieces]
    low = sum((least if row.mass is None else row.mass) * row.count for row, least, _ in rows)
    high = sum((most if row.mass is None else row.mass) * row.count for row, _, most in rows)
    return made + low, made + high


def hand_height(drawer: Drawer, height: int) -> int | None:
    """Height of the hand above the ground at an organizer of ``height``: floor of the drawer + liner + organizer;
    ``None`` where the drawer's floor is not known."""
    return None if drawer.above_ground is None else drawer.above_ground + drawer.liner + height


def height_score(rules: HeightRules, hand: int) -> Decimal:
    """How good a hand height is: ``best`` from knuckle to elbow, ``near`` from lower leg to shoulder, else ``far``."""
    if hand < rules.lower_leg or hand > rules.shoulder:
        return rules.far
    return rules.near if hand < rules.knuckle or hand > rules.elbow else rules.best
