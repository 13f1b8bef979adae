"""Organizers that were made for just so many tools: which group, part of one or groups joined take them (R1)."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from matcher.records import Cabinet, Catalogue, Group, KeptOrganizer, Organizer


def with_made(catalogue: Catalogue, set_name: str, cabinet: Cabinet, groups: Sequence[Group]) -> tuple[Group, ...]:
    """The groups, each with the organizer that was made for it in this cabinet, if there is one; of several the last.

    It was made for a group (or part, or groups joined) of this name with as many tools, of this set, and for this
    cabinet or for none; a blank set means any. It goes before the ready-made one of the group.
    """
    if not catalogue.parts:
        return tuple(groups)
    here = [
        kept for kept in catalogue.parts if kept.made.set in ("", set_name) and kept.made.cabinet in ("", cabinet.name)
    ]
    return tuple(_with_made(group, first_tool(group, groups), here) for group in groups)


def first_tool(group: Group, groups: Sequence[Group]) -> int | None:
    """Which tool of its group, in reading order, a part of one begins with, from 1; nothing for whatever is whole."""
    if not group.part_of:
        return None
    parts = [one for one in groups if one.part_of == group.part_of]
    return 1 + sum(
        one.tools for one in parts if number_of(one.name, group.part_of) < number_of(group.name, group.part_of)
    )


def number_of(part: str, group: str) -> int:
    """Which part of its group it is, by its name."""
    told = part.removeprefix(f"{group} (").partition(" ")[0]
    return int(told) if told.isdecimal() else 0


def _with_made(group: Group, first: int | None, made: Sequence[KeptOrganizer]) -> Group:
    wanted = (group.name, group.part_of, group.tools, first)
    fitting = [one.made for one in made if (one.made.group, one.part_of, one.pieces, one.made.first_piece) == wanted]
    if not fitting or group.cased:
        return group
    return with_organizer(group, max(fitting, key=_latest))


def with_organizer(group: Group, row: Organizer) -> Group:
    """The group in another organizer, with the family and tier of its own, which count whatever it lies in."""
    own = group.organizer or Organizer("", "", 0, 0, 0)
    heavier = (row.mass or 0) - (own.mass or 0)
    return replace(
        group,
        organizer=replace(row, family=own.family, tier=own.tier),
        mass_low=group.mass_low + heavier,
        mass_high=group.mass_high + heavier,
    )


def same_made(one: Organizer | None, other: Organizer) -> bool:
    """Whether both are one row, whatever family and tier are said of it."""
    return one is not None and replace(other, family=one.family, tier=one.tier) == one


def _latest(row: Organizer) -> tuple[object, ...]:
    """By what the last of several is told: one for this cabinet alone, then by part and revision."""
    sizes = (row.width, row.depth, row.height)
    return row.cabinet != "", part_order(row.part), part_order(row.revision), sizes, row.drawer


def part_order(part: str) -> list[tuple[int, str]]:
    """A part as it is sorted: numbers in it by their value, so that P-9 comes before P-10."""
    return [(int(run), "") if run.isdecimal() else (-1, run) for run in re.findall(r"[0-9]+|[^0-9]+", part)]


def same_sizes(one: Organizer, other: Organizer) -> bool:
    """Whether two rows are of one outside, height and field."""
    return all(
        getattr(one, name) == getattr(other, name)
        for name in ("width", "depth", "height", "field_width", "field_depth", "field_left", "field_front")
    )
