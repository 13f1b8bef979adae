"""Divided groups: their parts are runs in reading order, named by their place (R2); what dividing and mixing cost."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, pairwise, product

from matcher.house import SideRules
from matcher.records import Group, SizedPiece
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Scene, stated
from matcher.verification.sequence import number, smaller


def parts_are_runs(scene: Scene) -> Iterator[Violation]:
    """R2: parts are called ``NAME (1 of 2)``, ..., and no tool of one comes after a tool of a later one.

    Halves come in the order of the house, drives in them from the outside in, and the sizes of a series ascend.
    """
    order = scene.house.layout.sides
    for name, parts in _divided(scene).items():
        for place, part in enumerate(parts, 1):
            if part.name != f"{name} ({place} of {len(parts)})":
                yield Violation("R2", part.name, 1, f"{part.name} is part {place} of {len(parts)} of {name}")
        pieces = [piece for part in parts for piece in part.pieces]
        both = {"inch", "metric"} <= {piece.piece.system for piece in pieces}
        for earlier, later in combinations(parts, 2):
            wrong = sum(_comes_after(one, other, order, both) for one, other in product(earlier.pieces, later.pieces))
            if wrong:
                yield Violation("R2", name, wrong, f"{name}: {earlier.name} holds tools that come after {later.name}")


def together(scene: Scene) -> int:
    """Cost of the cuts, by whether a series goes on beyond them, and of families beyond the first in a drawer."""
    rules = scene.house.together
    cuts = sum(
        rules.cut if _series(part) & _series(following) else rules.part
        for parts in _divided(scene).values()
        for part, following in pairwise(parts)
    )
    families = [{stated(scene, seat.group).family for seat in seats} for seats in scene.held.values()]
    mixed = 0 if rules.mix == "free" else rules.mixed
    return cuts + mixed * sum(len(held) - 1 for held in families)


def _divided(scene: Scene) -> dict[str, list[Group]]:
    """The parts of each divided group, by their number where they have one."""
    found: dict[str, list[Group]] = defaultdict(list)
    for group in scene.plan.groups:
        if group.part_of:
            found[group.part_of].append(group)
    return {name: sorted(parts, key=lambda part: _place(part, name)) for name, parts in sorted(found.items())}


def _place(part: Group, name: str) -> tuple[int, str]:
    told = part.name.removeprefix(f"{name} (").partition(" ")[0]
    return int(told) if told.isdecimal() else 0, part.name


def _series(part: Group) -> set[tuple[str, str, Fraction | None]]:
    return {(one.piece.kind, one.piece.system, number(one.piece.drive)) for one in part.pieces}


def _comes_after(one: SizedPiece, other: SizedPiece, order: SideRules, both: bool) -> bool:
    """Whether a tool is read after another; tools of neither system come first, and kinds of one drive in any order."""
    mine, other_half = one.piece.system, other.piece.system
    if mine != other_half:
        return other_half == "" or (mine != "" and other_half == order.left)
    outward = _outward(one, order), _outward(other, order)
    if outward[0] != outward[1]:
        mirrored = both and mine not in ("", order.left)
        return outward[0] > outward[1] if mirrored else outward[0] < outward[1]
    return one.piece.kind == other.piece.kind and smaller(other, one)


def _outward(one: SizedPiece, order: SideRules) -> tuple[bool, Fraction]:
    """The more, the further out a tool of this drive lies; least without a drive."""
    drive = number(one.piece.drive) or Fraction(0)
    return drive > 0, drive if order.outermost == "largest" else -drive
