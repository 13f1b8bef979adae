"""The goals' values, from the plan alone: what the model claims is compared with these."""

from __future__ import annotations

from itertools import combinations

from matcher.house import House
from matcher.records import Catalogue, Drawer, GoalName, Plan, Relation, Snapshot
from matcher.verification.scene import Scene, Seat, called, scene_of, stated


def recount(catalogue: Catalogue, house: House, plan: Plan, keep: Snapshot | None = None) -> dict[GoalName, int]:
    """Values of the goals ``drawers``, ``order`` and ``neighbors``, and of ``moves`` if there is a plan to keep.

    Empty if the catalogue lacks the plan's cabinet.
    """
    scene = scene_of(catalogue, house, plan)
    if scene is None:
        return {}
    counted: dict[GoalName, int] = {
        "drawers": _drawers(scene),
        "order": _order(scene),
        "neighbors": _neighbors(scene),
    }
    return counted | {"moves": _moves(scene, keep)} if keep else counted


def _moves(scene: Scene, keep: Snapshot) -> int:
    """Groups of the plan to keep that are elsewhere now; a group it does not have has not moved."""
    was = dict(keep.drawers)
    return sum(was.get(seat.group.name, seat.drawer.name) != seat.drawer.name for seat in scene.seats)


def _drawers(scene: Scene) -> int:
    """Unused drawers when spreading, used ones when packing; blocked ones never count."""
    used = set(scene.held)
    usable = [drawer.name for drawer in scene.cabinet.drawers if drawer.slot != "blocked"]
    free = sum(name not in used for name in usable)
    return free if scene.plan.fill == "spread" else len(usable) - free


# -------------------------------------------------------------------------------------------------------------- order


def _order(scene: Scene) -> int:
    """Pairs of groups of which the earlier tier lies lower; the best over all choices of tiers that change places."""
    tiers = [stated(scene.catalogue, seat.group).tier or 0 for seat in scene.seats]
    orders = [tiers]
    for swap in scene.house.order.swap:
        orders += [[_swapped(tier, swap) for tier in order] for order in orders]
    return min(_breaks(scene, order) for order in orders)


def _swapped(tier: int, swap: tuple[int, int]) -> int:
    first, second = swap
    return {first: second, second: first}.get(tier, tier)


def _breaks(scene: Scene, tiers: list[int]) -> int:
    drops = _drops(scene)
    pairs = combinations(range(len(tiers)), 2)
    return sum((tiers[i] < tiers[j] and drops[i][j]) or (tiers[j] < tiers[i] and drops[j][i]) for i, j in pairs)


def _drops(scene: Scene) -> list[list[bool]]:
    """Whether the drawer of one seat lies lower than that of another by more than what counts as level.

    By the heights of the floors if all usable drawers have one, else by the rows.
    """
    drawers = [seat.drawer for seat in scene.seats]
    usable = [drawer for drawer in scene.cabinet.drawers if drawer.slot != "blocked"]
    by_height = all(drawer.above_ground is not None for drawer in usable)
    return [
        [_lower(one, other, scene.house.order.level if by_height else None) for other in drawers] for one in drawers
    ]


def _lower(one: Drawer, other: Drawer, level: int | None) -> bool:
    if level is None or one.above_ground is None or other.above_ground is None:
        return one.row > other.row
    return other.above_ground - one.above_ground > level


# ---------------------------------------------------------------------------------------------------------- neighbors


def _neighbors(scene: Scene) -> int:
    """Sum over the relations; of a split group every pair of parts counts."""
    return sum(
        relation.weight * _cost(relation, seat, other)
        for relation in scene.catalogue.relations
        for seat in scene.seats
        if called(seat.group, relation.group)
        for other in scene.seats
        if other is not seat and called(other.group, relation.other)
    )


def _cost(relation: Relation, seat: Seat, other: Seat) -> int:
    one, two = seat.drawer, other.drawer
    rows, banks = abs(one.row - two.row), _banks_apart(one, two)
    if relation.wish == "near":
        return rows + banks
    if relation.wish == "beside":
        return rows + max(0, banks - 1)
    if relation.wish == "below":
        return banks + abs(one.row - two.row - 1)
    return 0 if _left_of(seat, other) else 1


def _banks_apart(one: Drawer, other: Drawer) -> int:
    """Steps from bank to bank; a drawer that spans banks is in each of them."""
    return max(0, one.bank - other.last_bank, other.bank - one.last_bank)


def _left_of(seat: Seat, other: Seat) -> bool:
    """In a bank further left, or in the same drawer (whose inside is the layout's business)."""
    return seat.drawer.name == other.drawer.name or seat.drawer.last_bank < other.drawer.bank
