"""A released plan beside today's catalogue: the same organizers in today's drawers, with today's tools in them."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace

from matcher.house import House
from matcher.planning.made_organizers import with_organizer
from matcher.records import (
    Cabinet,
    Drawer,
    Group,
    How,
    KeptOrganizer,
    Piece,
    Placement,
    Plan,
    ReleasedOrganizer,
    ReleasedPlan,
    ReleasedTool,
    SizedPiece,
    released_tool,
)


def as_it_stands(plan: ReleasedPlan, groups: Iterable[Group], cabinet: Cabinet, house: House) -> Plan:
    """The plan with its organizers as made, each of the tools it was made for in today's sizes; a tool that is gone as
    it was, and one that is new with the rest of its group."""
    today = {group.name: group for group in groups}
    made = {kept.made.group: kept for kept in plan.made_rows}
    held, drawers = Counter(one.placement.drawer for one in plan.organizers), {box.name: box for box in cabinet.drawers}
    placements = tuple(
        _in_drawer(one.placement, drawers.get(one.placement.drawer), house)
        if held[one.placement.drawer] == 1
        else one.placement
        for one in plan.organizers
    )
    used = {placed.drawer for placed in placements}
    return Plan(
        set=plan.snapshot.set,
        cabinet=cabinet.name,
        fill=plan.snapshot.fill,
        groups=tuple(_group(one, today, made.get(one.planned_for)) for one in plan.organizers),
        placements=placements,
        free_drawers=tuple(box.name for box in cabinet.drawers if box.slot != "blocked" and box.name not in used),
    )


def _group(one: ReleasedOrganizer, today: Mapping[str, Group], made: KeptOrganizer | None) -> Group:
    """The group of a released organizer."""
    blank = Group(one.group_meant, one.group_meant, 1, "", True, True, one.row is None, (), None, 0, 0, None)
    whole = today.get(one.group_meant, blank)
    now: dict[tuple[str, ...], list[SizedPiece]] = defaultdict(list)
    for piece in whole.pieces:
        now[released_tool(piece).known_by].append(piece)
    taken = ((tool, now[tool.known_by]) for tool in one.tools)
    pieces = [_piece(tool, alike.pop(0) if alike else None, part=one.part_of != "") for tool, alike in taken]
    pieces += [] if one.part_of else [piece for alike in now.values() for piece in alike]
    systems = {piece.piece.system for piece in pieces} or {whole.system}
    group = replace(
        whole,
        name=one.planned_for,
        part_of=one.part_of,
        pieces=tuple(pieces),
        system=systems.pop() if len(systems) == 1 else "",
        organizer=None if one.part_of else whole.organizer,
    )
    spare = (group.organizer.mass or 0) if group.organizer else 0
    weighed = replace(
        group,
        mass_low=spare + sum(piece.mass_low * piece.piece.count for piece in pieces),
        mass_high=spare + sum(piece.mass_high * piece.piece.count for piece in pieces),
    )
    return with_organizer(weighed, made.made) if made else weighed


def _piece(tool: ReleasedTool, now: SizedPiece | None, *, part: bool) -> SizedPiece:
    """A tool as it is today; a part of a group holds as many of it as it was made for."""
    if now is not None:
        return replace(now, piece=replace(now.piece, count=tool.count)) if part else now
    piece = Piece(tool.set, tool.tool, tool.kind, tool.count, tool.system, tool.size, tool.drive)
    sides = tool.length, tool.width, tool.height
    return SizedPiece(piece, *sides, None, tool.mass_low, tool.mass_high, 0, tool.basis, "as released")


def _in_drawer(placed: Placement, drawer: Drawer | None, house: House) -> Placement:
    """An organizer that has a drawer to itself, with the gaps and strips that the drawer leaves it today."""
    if drawer is None or drawer.obstructions or placed.how == "cased":
        return placed
    both = 2 * house.clearance.side
    across = max(drawer.inside_width - both - placed.width, 0)
    along = max(drawer.inside_depth - both - placed.depth, 0)
    how_width, how_depth = _way(across, house), _way(along, house)
    return replace(
        placed,
        how="shim" if "shim" in (how_width, how_depth) else "as is",
        how_width=how_width,
        how_depth=how_depth,
        gap_width=across,
        gap_depth=along,
    )


def _way(gap: int, house: House) -> How:
    return "as is" if gap <= house.clearance.gap or gap < house.clearance.strip_min else "shim"
