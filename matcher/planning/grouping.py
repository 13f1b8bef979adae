"""Pieces of a set to groups: which tools share one organizer, by the group rules in force; each piece once (R1)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace

from matcher.house import House
from matcher.records import (
    Bound,
    Catalogue,
    Group,
    GroupRule,
    Organizer,
    Piece,
    SizedPiece,
    UnknownNameError,
    UsageError,
    use_of,
)
from matcher.tools import sized

ANY_RULE = GroupRule("")
MOST_TOOLS = 1000
"""A group of more tools is not laid out: the work grows faster than their number, and no drawer holds so many."""


def sets_of(catalogue: Catalogue) -> tuple[str, ...]:
    """Names of all sets, sorted."""
    return tuple(sorted({row.set for row in catalogue.pieces} | {row.set for row in catalogue.organizers}))


def member_sets(catalogue: Catalogue, set_name: str) -> tuple[str, ...]:
    """The sets that ``A+B`` names; a set whose own name holds a plus sign stands for itself.

    Raises
    ------
    UnknownNameError
        One of them is not in the catalogue.
    UsageError
        One of them is named twice.
    """
    known = sets_of(catalogue)
    if set_name in known:
        return (set_name,)
    names = tuple(sorted(name.strip() for name in set_name.split("+")))
    for name in names:
        if name not in known:
            raise UnknownNameError(f"no set {name!r} in the catalogue; it has: {', '.join(known)}")
        if names.count(name) > 1:
            raise UsageError(f"{set_name!r} names {name!r} twice; a set that is sold twice needs its own rows in tools")
    return names


def groups_of(catalogue: Catalogue, set_name: str, estimates: Bound = "likely") -> tuple[Group, ...]:
    """Groups of a set (or of several, ``A+B``), sorted by tier, family and name.

    Each case of cased equipment is a group of its own unless the catalogue names one for it. A group that falls into
    one for each drive or system does so only where it has no ready-made organizer. Sizes that are not given are as
    large as ``estimates`` says.

    Raises
    ------
    UsageError
        A group has more tools than are laid out as one organizer.
    """
    names = member_sets(catalogue, set_name)
    organizers = [row for row in catalogue.organizers if row.set in names]
    owners = [row.group for row in organizers]
    members: dict[str, list[SizedPiece]] = defaultdict(list)
    whole: dict[str, str] = {}
    for piece in catalogue.pieces:
        if piece.set in names:
            plain = _group_name(piece, catalogue.group_rules)
            name = plain if plain in owners else divided_name(plain, piece, catalogue.group_rules)
            members[name].append(sized(piece, estimates))
            whole[name] = plain
    groups = []
    for organizer in organizers:
        alone = owners.count(organizer.group) == 1
        name = organizer.group if alone else f"{organizer.group} ({organizer.set})"
        own = [piece for piece in members[organizer.group] if alone or piece.piece.set == organizer.set]
        members[organizer.group] = [piece for piece in members[organizer.group] if piece not in own]
        plain = whole.get(organizer.group, organizer.group)
        groups.append(_group(name, (organizer.group, plain), own, organizer, catalogue.group_rules))
    groups += [
        _group(name, (name, whole[name]), own, None, catalogue.group_rules) for name, own in members.items() if own
    ]
    _check_numbers(groups, set_name)
    return tuple(sorted(groups, key=lambda group: (group.tier, group.family, group.name)))


def _check_numbers(groups: Iterable[Group], set_name: str) -> None:
    for group in groups:
        tools = sum(piece.piece.count for piece in group.pieces)
        if tools > MOST_TOOLS:
            most = max(group.pieces, key=lambda piece: piece.piece.count).piece
            raise UsageError(
                f"group {group.name!r} of {set_name} has {tools:,} tools, {most.count:,} of them in row {most.tool!r}: "
                f"expected at most {MOST_TOOLS:,}; lower the counts, or name more groups in the column group of tools"
            )


def divisible(group: Group, house: House) -> bool:
    """Whether a group may lie in several parts."""
    return group.split and bool(group.pieces) and house.together.divide != "no"


def content_of(group: Group) -> Group:
    """The group without the name of its set and what only other questions look at: the same in every set it is in."""
    ready = group.organizer
    if ready is not None:
        ready = replace(
            ready, set="", part="", revision="", on_hand=None, unit_cost=None, foam="", cabinet="", drawer=""
        )
    pieces = tuple(replace(piece, piece=replace(piece.piece, set="", use=None)) for piece in group.pieces)
    return replace(group, organizer=ready, pieces=pieces, use=None)


def _group_name(piece: Piece, rules: Sequence[GroupRule]) -> str:
    if piece.group:
        return piece.group
    return piece.tool if piece.kind == "cased" else _rule_for(piece, rules).group


def divided_name(plain: str, piece: Piece, rules: Iterable[GroupRule]) -> str:
    """The name of a piece's group where that falls into one for each drive or system: ``1/2 chrome sockets``.

    A piece without what it is divided by stays in the group of the plain name.
    """
    said = sorted((rule.house, rule.by) for rule in rules if rule.group == plain and rule.by)
    by = said[0][1] if said else ()
    words = (piece.drive if "drive" in by else "", piece.system if "system" in by else "")
    return " ".join([*filter(None, words), plain])


def _rule_for(piece: Piece, rules: Iterable[GroupRule]) -> GroupRule:
    """The rule for the piece's kind: the catalogue's own first, one that names the system before one that does not."""
    fitting = [rule for rule in rules if piece.kind in rule.kinds and rule.system in ("", piece.system)]
    fitting.sort(key=lambda rule: (rule.house, not rule.system))
    return next(iter([*fitting, *(rule for rule in rules if "other" in rule.kinds)]), ANY_RULE)


def _may_be_laid_out(name: str, pieces: Sequence[SizedPiece], organizer: Organizer | None) -> bool:
    """Whether a group's tools are known, so that they may be cut anew; of groups that several sets have an organizer
    for each is whole."""
    return organizer is None or (bool(pieces) and organizer.group == name)


def _first_split(ladder: Iterable[GroupRule]) -> bool:
    return next((rule.split for rule in ladder if rule.split is not None), True)


def _group(
    name: str,
    names: tuple[str, str],
    pieces: list[SizedPiece],
    organizer: Organizer | None,
    rules: Sequence[GroupRule],
) -> Group:
    """A group of which tables speak by ``names``: its own and, of one drive or system, that of the whole group."""
    plain, whole = names
    own_rows = sorted((rule for rule in rules if rule.group in names), key=lambda rule: rule.group != plain)
    told = [rule for rule in own_rows if not rule.house]
    housed = [rule for rule in own_rows if rule.house]
    by_kind = _rule_for(pieces[0].piece, rules) if pieces else ANY_RULE
    other = next((rule for rule in rules if "other" in rule.kinds), ANY_RULE)
    own = GroupRule("", organizer.family, organizer.tier) if organizer else ANY_RULE
    ladder = (*told, own, *housed, by_kind)
    tier = next((rule.tier for rule in (*ladder, other) if rule.tier is not None), 1)
    spare = organizer.mass or 0 if organizer else 0
    systems = {piece.piece.system for piece in pieces} or {organizer.system if organizer else ""}
    return Group(
        name=name,
        family=next((rule.family for rule in ladder if rule.family), name if plain == whole else whole),
        tier=tier,
        system=systems.pop() if len(systems) == 1 else "",
        share=next((rule.share for rule in ladder if rule.share is not None), True),
        split=_may_be_laid_out(name, pieces, organizer) and _first_split(ladder),
        cased=bool(pieces) and all(piece.piece.kind == "cased" for piece in pieces),
        pieces=tuple(pieces),
        organizer=organizer,
        mass_low=spare + sum(piece.mass_low * piece.piece.count for piece in pieces),
        mass_high=spare + sum(piece.mass_high * piece.piece.count for piece in pieces),
        use=use_of(pieces),
        also=() if plain == whole else (whole,),
    )
