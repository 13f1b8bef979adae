"""The goals' values, from the plan alone: what the model claims is compared with these."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import combinations, pairwise

from matcher.house import House
from matcher.records import Catalogue, Drawer, GoalName, How, Plan, Relation, Snapshot
from matcher.verification.arithmetic import hand_height, height_score
from matcher.verification.divisions import together
from matcher.verification.scene import Scene, Seat, called, scene_of, stated

WORK: dict[How, int] = {"shim": 1, "trim": 2, "re-cut": 3, "unordered": 4}
"""What work on an organizer counts; foam that has to be cut anyway is no work on one."""
BESIDE = Relation("", "", "beside")
WORK_STEP = 10**9
"""One step of work stands before all room left over, which is counted in 1/320 mm."""


def recount(catalogue: Catalogue, house: House, plan: Plan, keep: Snapshot | None = None) -> dict[GoalName, int]:
    """Values of the goals, and of ``moves`` if there is a plan to keep; empty if the catalogue lacks the cabinet.

    ``recut`` and ``reach`` count each group as it would lie alone in its drawer. The gaps of ``recut`` are those of a
    layout that the plan does not hold where groups share, so it is told only if every group has a drawer to itself;
    ``reach`` also if every group that shares loses the same at whatever height it might lie there.
    """
    scene = scene_of(catalogue, house, plan)
    if scene is None:
        return {}
    found: dict[GoalName, int] = {
        "together": together(scene),
        "drawers": _drawers(scene),
        "order": _order(scene),
        "neighbors": _neighbors(scene),
    }
    if keep:
        found["moves"] = _moves(scene, keep)
    if all(len(seats) == 1 for seats in scene.held.values()) and not _left_behind(scene, keep):
        found["recut"] = _recut(scene)
    reach = _reach(scene)
    return found if reach is None else found | {"reach": reach}


def _left_behind(scene: Scene, keep: Snapshot | None) -> bool:
    """Whether a ready-made organizer has a drawer to itself that it was made to share: that counts as no work."""
    was = dict(keep.drawers) if keep else {}
    shared = [name for name, drawer in was.items() if list(was.values()).count(drawer) > 1]
    return any(seat.ready and seat.group.name in shared for seat in scene.seats)


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
    tiers = [stated(scene, seat.group).tier or 0 for seat in scene.seats]
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
    """Sum over the relations, of a split group every pair of its parts; and each part beside the next."""
    related = sum(
        relation.weight * _cost(relation, seat, other)
        for relation in scene.catalogue.relations
        for seat in scene.seats
        if called(scene, seat.group, relation.group)
        for other in scene.seats
        if other is not seat and called(scene, other.group, relation.other)
    )
    return related + scene.house.goals.parts_weight * _parts_apart(scene)


def _parts_apart(scene: Scene) -> int:
    """Rows and banks by which each part of a split group misses its place beside the next."""
    parts = sorted(
        (seat for seat in scene.seats if seat.group.part_of), key=lambda seat: (seat.group.part_of, seat.group.name)
    )
    return sum(
        _cost(BESIDE, seat, other) for seat, other in pairwise(parts) if seat.group.part_of == other.group.part_of
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


# ------------------------------------------------------------------------------------------------------ recut, reach


def _recut(scene: Scene) -> int:
    placed = [seat.placement for seat in scene.seats]
    work = sum(WORK.get(placement.how, 0) for placement in placed)
    return WORK_STEP * work + sum(placement.gap_width + placement.gap_depth for placement in placed)


def _reach(scene: Scene) -> int | None:
    """Thousandths of a use lost: each seat's use times what its hand height is short of the best; ``None`` where that
    cannot be told from the plan."""
    scores = [_score(scene, seat) for seat in scene.seats]
    lost = [1 - Fraction(score) for score in scores if score is not None]
    if len(lost) < len(scores):
        return None
    return sum(round(1000 * use * short) for use, short in zip(_uses(scene), lost, strict=True))


def _score(scene: Scene, seat: Seat) -> Decimal | None:
    """How good the height of a seat is at all heights that its organizer might have with the drawer to itself.

    That is the height it has, or if it shares the drawer any that goes in; ``None`` where they are not all as good. A
    drawer at an unknown height counts as the best.
    """
    rules, drawer = scene.house.height, seat.drawer
    own, most = seat.placement.height, drawer.clear_height - drawer.liner - scene.house.clearance.top
    least, most = (own, own) if len(scene.held[drawer.name]) == 1 else (0, most)
    low, high = hand_height(drawer, least), hand_height(drawer, most)
    if low is None or high is None:
        return Decimal(1)
    edges = (rules.lower_leg, rules.knuckle, rules.elbow, rules.shoulder)
    beside = (height for edge in edges for height in (edge - 1, edge, edge + 1) if low < height < high)
    scores = {height_score(rules, height) for height in (low, high, *beside)}
    return scores.pop() if len(scores) == 1 else None


def _uses(scene: Scene) -> list[Fraction]:
    """Uses a week, from the pieces; without any, how many tiers lie from a seat's own to the last.

    Whoever has a piece to lift counts as the most used.
    """
    rows = [[one.piece for one in seat.group.pieces] for seat in scene.seats]
    if any(piece.use is not None for pieces in rows for piece in pieces):
        uses = [sum((Fraction(str(piece.use or 0)) * piece.count for piece in pieces), Fraction()) for pieces in rows]
    else:
        tiers = [stated(scene, seat.group).tier or 0 for seat in scene.seats]
        uses = [Fraction(len({tier for tier in tiers if tier >= own})) for own in tiers]
    lifts = [any(one.mass_high >= scene.house.lift.mass for one in seat.group.pieces) for seat in scene.seats]
    return [max(uses) if lift else use for use, lift in zip(uses, lifts, strict=True)]
