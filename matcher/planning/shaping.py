"""What of a set is planned, and as which groups: wishes that change the set, worked into the catalogue."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from matcher.planning.grouping import groups_of, member_sets
from matcher.planning.joining import meant_by
from matcher.records import (
    By,
    Catalogue,
    Group,
    GroupRule,
    LeftOut,
    Piece,
    SizedPiece,
    UnknownNameError,
    UsageError,
    Wishes,
    counted,
    with_nearest,
)

DIVISORS: Mapping[By, Callable[[Piece], str]] = {
    "drive": lambda piece: piece.drive,
    "system": lambda piece: piece.system,
}
"""What a group may be divided by, and what of a piece that is."""


@dataclass(frozen=True, slots=True)
class Shaped:
    """The catalogue of what is planned, and what stays outside."""

    catalogue: Catalogue
    left_out: tuple[LeftOut, ...] = ()


def shaped(catalogue: Catalogue, set_name: str, wishes: Wishes) -> Shaped:
    """The catalogue with groups by drive and system as wished, and without what is to stay outside.

    Raises
    ------
    UnknownNameError
        A wish names a group or piece that the set does not have.
    UsageError
        A group has nothing to be divided by or stays whole, or nothing would be left of a set.
    """
    divided = _divided(catalogue, set_name, (("drive", wishes.by_drive), ("system", wishes.by_system)))
    return _without(divided, set_name, wishes.without) if wishes.without else Shaped(divided)


def left_out_words(things: Iterable[LeftOut]) -> tuple[str, ...]:
    """What stays outside: whole groups by name, else piece by piece."""
    listed = tuple(things)
    groups = dict.fromkeys(one.group for one in listed if one.whole)
    told = [f"{name} ({_amount([one for one in listed if one.group == name])})" for name in groups]
    return (*told, *(f"{piece_words(one)} ({one.group})" for one in listed if not one.whole))


def piece_words(one: LeftOut) -> str:
    """One row of what stays outside."""
    if not one.tool:
        return "its ready-made organizer"
    return one.tool if one.count == 1 else f"{one.count} x {one.tool}"


def all_of(group: Group) -> Iterator[LeftOut]:
    """A whole group as what stays outside."""
    yield from (LeftOut(group.name, one.piece.tool, one.piece.count, True) for one in _listed(group.pieces))
    if group.organizer:
        yield LeftOut(group.name, "", 1, True)


def pieces_of_group(group: Group, pieces: Iterable[SizedPiece]) -> Iterator[LeftOut]:
    """Some pieces of a group as what stays outside."""
    yield from (LeftOut(group.name, one.piece.tool, one.piece.count, False) for one in _listed(pieces))


def _listed(pieces: Iterable[SizedPiece]) -> list[SizedPiece]:
    return sorted(pieces, key=lambda one: one.listed)


def _amount(rows: Sequence[LeftOut]) -> str:
    pieces = sum(one.count for one in rows if one.tool)
    return counted(pieces, "piece") if pieces else "its ready-made organizer"


# ------------------------------------------------------------------------------------------------- by drive or system


def _divided(catalogue: Catalogue, set_name: str, wished: Iterable[tuple[By, tuple[str, ...]]]) -> Catalogue:
    """The catalogue whose rows of the groups named say what they fall into one for each of."""
    by: dict[str, list[By]] = {}
    for divisor, names in wished:
        groups = groups_of(catalogue, set_name) if names else ()
        for name in names:
            _check_divisible(divisor, name, groups, set_name)
            by.setdefault(name, []).append(divisor)
    stated = {rule.group for rule in catalogue.group_rules}
    added = tuple(GroupRule(name) for name in sorted(by) if name not in stated)
    rules = (replace(rule, by=(*rule.by, *by.get(rule.group, ()))) for rule in (*added, *catalogue.group_rules))
    return replace(catalogue, group_rules=tuple(rules)) if by else catalogue


def _check_divisible(divisor: By, name: str, groups: Sequence[Group], set_name: str) -> None:
    meant = [groups[g] for g in meant_by(name, groups)]
    if not meant:
        known = sorted({*(group.name for group in groups), *(other for group in groups for other in group.also)})
        raise UnknownNameError(f"by {divisor}: {with_nearest(f'no group {name!r} in {set_name}', name, known)}")
    if any(group.organizer for group in meant):
        raise UsageError(f"by {divisor}: {name} has a ready-made organizer, which stays whole")
    if not any(DIVISORS[divisor](one.piece) for group in meant for one in group.pieces):
        raise UsageError(f"by {divisor}: no piece of {name} has a {divisor}")


# ----------------------------------------------------------------------------------------------------------- left out


def _without(catalogue: Catalogue, set_name: str, names: Iterable[str]) -> Shaped:
    groups, sets = groups_of(catalogue, set_name), member_sets(catalogue, set_name)
    wanted = tuple(dict.fromkeys(names))
    for name in wanted:
        _check_there(name, groups, set_name)
    left = [thing for group in groups for thing in _left_out(group, wanted)]
    gone = {one.piece for group in groups for one in _pieces_out(group, wanted)}
    bare = {group.organizer for group in groups if any(one.whole and one.group == group.name for one in left)}
    pieces = tuple(row for row in catalogue.pieces if row not in gone)
    organizers = tuple(row for row in catalogue.organizers if row not in bare)
    for name in sets:
        if name not in {row.set for row in pieces} | {row.set for row in organizers}:
            raise UsageError(f"without: nothing would be left of {name}")
    return Shaped(replace(catalogue, pieces=pieces, organizers=organizers), tuple(left))


def _check_there(name: str, groups: Sequence[Group], set_name: str) -> None:
    known = {one.piece.tool for group in groups for one in group.pieces}
    known |= {called for group in groups for called in (group.name, *group.also)}
    if name not in known:
        raise UnknownNameError(f"without: {with_nearest(f'no group or piece {name!r} in {set_name}', name, known)}")


def _left_out(group: Group, names: Sequence[str]) -> Iterator[LeftOut]:
    out = _pieces_out(group, names)
    whole = any(name in (group.name, *group.also) for name in names) or (out and len(out) == len(group.pieces))
    yield from all_of(group) if whole else pieces_of_group(group, out)


def _pieces_out(group: Group, names: Sequence[str]) -> list[SizedPiece]:
    """The pieces of a group that are named, by the group's name or by their own."""
    if any(name in (group.name, *group.also) for name in names):
        return list(group.pieces)
    return [one for one in group.pieces if one.piece.tool in names]
