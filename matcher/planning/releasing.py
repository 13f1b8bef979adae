"""A plan becomes a released one: its organizers are made, and a catalogue knows them as ready-made ones."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from matcher.fitting import organizer_of
from matcher.house import House
from matcher.planning.differences import snapshot_of
from matcher.planning.made_organizers import first_tool
from matcher.planning.outcome import Fits
from matcher.planning.released import MadeOrganizer, Released
from matcher.records import Cabinet, Catalogue, Group, KeptOrganizer, Organizer, Placement

SIZES = ("width", "depth", "height", "field_width", "field_depth", "field_left", "field_front")
"""What says how large an organizer is and where its pockets are."""


def release(found: Fits) -> tuple[Catalogue, Released]:
    """The catalogue with the plan's organizers as ready-made ones of the set, and the plan as a released one.

    They stand in place of those that the plan trims, fills up or cuts anew. Organizers of parts of groups are listed as
    such, and so are those of groups joined and of what is left of a group that falls into drives or systems: they are
    for just so many tools. Of several sets planned together (``A+B``) a group's organizer is written down for the first
    of them, unless it has one: it holds the pieces of all of them.
    """
    question, catalogue = found.question, found.question.catalogue
    groups = {group.name: group for group in found.plan.groups}
    placements = tuple(as_made(found.plan.placements, question.cabinet, question.house))
    told = snapshot_of(replace(found.plan, placements=placements), found.goals)
    drawers, held = {one.name: one for one in question.cabinet.drawers}, Counter(one.drawer for one in placements)
    made = tuple(
        MadeOrganizer(
            _row(placed, groups[placed.group], found.plan.groups, question.sets[0]),
            placed,
            drawers[placed.drawer],
            held[placed.drawer] == 1,
        )
        for placed in placements
        if not groups[placed.group].cased
    )
    own = {one.placement.group: one.row for one in made}
    fallen = {name for group in question.unjoined for name in group.also}
    whole = {group.name for group in question.unjoined} - fallen
    plain = [row for name, row in own.items() if name in whole and not groups[name].part_of]
    replaced = {(row.set, row.group) for row in plain}
    used = {group.organizer for group in groups.values()}
    rows = [row for row in catalogue.organizers if row not in used and (row.set, row.group) not in replaced] + plain
    parts = tuple(
        replace(one, made=own[_name(one)])
        for one in told.organizers
        if _name(one) in own and own[_name(one)] not in plain
    )
    return replace(catalogue, organizers=tuple(sorted(rows)), parts=parts), Released(question.cabinet, told, made)


def _row(placed: Placement, group: Group, groups: Sequence[Group], set_name: str) -> Organizer:
    """The organizer as a row: a ready-made one's own with the sizes it has now, else a new one."""
    made, own = organizer_of(placed, group), group.organizer
    if own is None:
        return replace(made, set="" if group.part_of else set_name, first_piece=first_tool(group, groups))
    sizes = {name: getattr(made, name) for name in SIZES}
    return replace(own, **sizes, cabinet="", drawer="")


def _name(kept: KeptOrganizer) -> str:
    return kept.made.group


def as_made(
    placements: tuple[Placement, ...], cabinet: Cabinet, house: House, *, strips: bool = True
) -> Iterator[Placement]:
    """Placements once their foam is cut: as is, with the gaps that are left; with their filler strips as one piece, or
    without ``strips`` still with strips beside them."""
    drawers, held = {drawer.name: drawer for drawer in cabinet.drawers}, Counter(one.drawer for one in placements)
    for placed in placements:
        drawer, both = drawers[placed.drawer], 2 * house.clearance.side
        alone = held[placed.drawer] == 1
        whole = _with_strips(placed) if alone and strips else placed
        gaps = (drawer.inside_width - both - whole.width, drawer.inside_depth - both - whole.depth)
        across, along = (max(gap, 0) for gap in gaps) if alone else (0, 0)
        cut = replace(whole, how="as is", how_width="as is", how_depth="as is", gap_width=across, gap_depth=along)
        yield cut if strips else _beside_strips(cut, placed)


def _beside_strips(cut: Placement, placed: Placement) -> Placement:
    """An organizer as it is cut, with the strips that it was planned with, or cases as they were planned."""
    if placed.how == "cased":
        return placed
    wide, deep = placed.how_width == "shim", placed.how_depth == "shim"
    return replace(
        cut,
        how="shim" if wide or deep else "as is",
        how_width="shim" if wide else "as is",
        how_depth="shim" if deep else "as is",
        gap_width=placed.gap_width if wide else cut.gap_width,
        gap_depth=placed.gap_depth if deep else cut.gap_depth,
    )


def _with_strips(placed: Placement) -> Placement:
    """A ready-made organizer with the filler strips beside it as one."""
    wide = placed.gap_width if placed.how_width == "shim" else 0
    deep = placed.gap_depth if placed.how_depth == "shim" else 0
    return replace(
        placed,
        left=placed.left - wide // 2,
        front=placed.front - deep // 2,
        width=placed.width + wide,
        depth=placed.depth + deep,
        field_left=placed.field_left + wide // 2,
        field_front=placed.field_front + deep // 2,
    )
