"""What is placed, and where: R1, R2, R3, R17."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from matcher.records import Group, Piece, counted
from matcher.verification.belonging import name_of
from matcher.verification.divisions import parts_are_runs
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Scene, Seat, stated


def pieces_placed_once(scene: Scene) -> Iterator[Violation]:
    """R1: the groups hold the set's pieces and organizers, and each organizer has a pocket for each of its pieces."""
    yield from _set_against_groups(scene)
    yield from _organizers_against_groups(scene)
    for group in scene.plan.groups:
        yield from _strangers(scene, group)
    for seat in scene.seats:
        yield from _pockets_against_pieces(seat)


def _set_against_groups(scene: Scene) -> Iterator[Violation]:
    wanted = _counted(piece for piece in scene.catalogue.pieces if piece.set in scene.sets)
    grouped = _counted(sized.piece for group in scene.plan.groups for sized in group.pieces)
    for piece in dict.fromkeys([*wanted, *grouped]):
        has, needs = grouped[piece], wanted[piece]
        if has != needs:
            text = f"{piece.tool}: {needs} in the set, {has} in the groups of the plan"
            yield Violation("R1", piece.tool, abs(has - needs), text)


def _counted(pieces: Iterable[Piece]) -> Counter[Piece]:
    """How many there are of each piece by all else that is known of it."""
    counts: Counter[Piece] = Counter()
    for piece in pieces:
        counts[replace(piece, count=1)] += piece.count
    return counts


def _organizers_against_groups(scene: Scene) -> Iterator[Violation]:
    own, split = scene.belonging, {group.part_of for group in scene.plan.groups}
    joined = {name for names in own.joined.values() for name in names}
    instead = {group.name for group in scene.plan.groups if group.organizer is not None and _made_for(scene, group)}
    elsewhere = joined | instead
    wanted = Counter(row for name, row in own.made.items() if row.group not in split and name not in elsewhere)
    whole = (group for group in scene.plan.groups if group.organizer is not None and not _made_for(scene, group))
    used = Counter(group.organizer for group in whole if group.organizer is not None)
    for row in wanted | used:
        if wanted[row] != used[row]:
            text = f"organizer of {row.group}: {wanted[row]} in the set, {used[row]} in the groups of the plan"
            yield Violation("R1", row.group, abs(wanted[row] - used[row]), text)


def _strangers(scene: Scene, group: Group) -> Iterator[Violation]:
    """Pieces that the catalogue puts in another group, and groups that hold nothing."""
    if not group.pieces and group.organizer is None:
        yield Violation("R1", group.name, 1, f"{group.name} has neither pieces nor an organizer")
    strange = sum(sized.piece.count for sized in group.pieces if not _belongs(scene, group, sized.piece))
    if strange:
        yield Violation("R1", group.name, strange, f"{group.name} holds {counted(strange, 'piece')} of other groups")


def _belongs(scene: Scene, group: Group, piece: Piece) -> bool:
    """Whether a piece is of this group, and of its organizer's set where several sets have one for the group.

    A piece that no row puts anywhere may be in any group for which no row names kinds.
    """
    name = group.part_of or group.name
    where = name_of(scene.catalogue, scene.sets, piece)
    if not where:
        return not any(row.kinds for row in scene.catalogue.group_rules if row.group == name)
    return where in scene.belonging.joined.get(name, (name,))


def _pockets_against_pieces(seat: Seat) -> Iterator[Violation]:
    """A ready-made organizer without a drawing of its pockets holds all pieces of its group."""
    layout, pieces = seat.placement.layout, seat.group.pieces
    if layout is None and seat.ready is not None:
        return
    pockets = Counter(pocket.piece for pocket in layout.pockets) if layout else Counter[int]()
    for index, sized in enumerate(pieces):
        has, needs = pockets.pop(index, 0), sized.piece.count
        if has != needs:
            text = f"{sized.piece.tool}: {needs} in {seat.group.name}, which has {counted(has, 'pocket')} for it"
            yield Violation("R1", sized.piece.tool, abs(has - needs), text)
    if pockets:
        extra = sum(pockets.values())
        text = f"{seat.group.name} has {counted(extra, 'pocket')} for no piece of its own"
        yield Violation("R1", seat.group.name, extra, text)


def groups_placed_once(scene: Scene) -> Iterator[Violation]:
    """R2: one placement per group, in a drawer of this cabinet; parts are runs, and only of what may be split."""
    drawers = {drawer.name for drawer in scene.cabinet.drawers}
    placed = Counter(placement.group for placement in scene.plan.placements)
    groups = Counter(group.name for group in scene.plan.groups)
    for name, count in groups.items():
        if count > 1:
            yield Violation("R2", name, count - 1, f"{count} groups are called {name}")
        if placed[name] != 1:
            yield Violation("R2", name, abs(placed[name] - 1), f"{name} is placed {counted(placed[name], 'time')}")
    for placement in scene.plan.placements:
        if placement.group not in groups:
            yield Violation("R2", placement.group, 1, f"{placement.group} is placed but is no group of the plan")
        if placement.drawer not in drawers:
            text = f"{placement.group} is in {placement.drawer}, which is no drawer of {scene.cabinet.name}"
            yield Violation("R2", placement.group, 1, text)
    yield from _splits(scene)
    yield from parts_are_runs(scene)


def _splits(scene: Scene) -> Iterator[Violation]:
    parts = [group for group in scene.plan.groups if group.part_of]
    for name, count in Counter(group.part_of for group in parts).items():
        own = [group for group in parts if group.part_of == name]
        parted = f"{name} is in {counted(count, 'part')}"
        may = scene.house.together.divide != "no" and all(
            group.split and stated(scene, group).split is not False for group in own
        )
        if not may:
            yield Violation("R2", name, count, f"{parted} but may not be split")
        if any(group.organizer and not _made_for(scene, group) for group in own):
            yield Violation("R2", name, count, f"{parted}: a ready-made organizer is never split")


def _made_for(scene: Scene, part: Group) -> bool:
    """Whether the organizer of a group or part was made for just this one: by its name, and for as many tools; family
    and tier are said of the group."""
    own, tools = part.organizer, sum(sized.piece.count for sized in part.pieces)
    return own is not None and any(
        (made.made.group, made.part_of, made.pieces) == (part.name, part.part_of, tools)
        and replace(made.made, family=own.family, tier=own.tier) == own
        for made in scene.catalogue.parts
    )


def slots_respected(scene: Scene) -> Iterator[Violation]:
    """R3: the drawer's slot takes this kind of group."""
    for seat in scene.seats:
        slot = seat.drawer.slot
        cased_in_foam = scene.house.layout.cased_in_foam
        takes = slot == "no foam" or cased_in_foam if seat.cased else slot == "foam"
        if slot == "blocked" or not takes:
            what = "a case" if seat.cased else "an organizer"
            yield Violation("R3", seat.group.name, 1, f"{seat.group.name}, {what}, is in {seat.drawer.name} ({slot})")


def free_drawers_told(scene: Scene) -> Iterator[Violation]:
    """R17: what the plan calls free is what holds nothing and is not blocked."""
    told = Counter(scene.plan.free_drawers)
    held = scene.held
    free = Counter(d.name for d in scene.cabinet.drawers if d.slot != "blocked" and d.name not in held)
    for name in sorted(told | free):
        if told[name] != free[name]:
            text = f"{name} is named {counted(told[name], 'time')} among the free drawers, not {free[name]}"
            yield Violation("R17", name, abs(told[name] - free[name]), text)
