"""Which group a piece belongs to by the tables alone, and which groups pins want as one."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from matcher.records import Catalogue, GroupRule, Organizer, Piece, Pin

SILENT = GroupRule("")
Said = TypeVar("Said")


@dataclass(frozen=True, slots=True)
class Belonging:
    """The groups of some sets in a cabinet: ``pieces`` and ``made`` (a ready-made organizer) by name, and ``joined``:
    what is one group because pins say so, with the names of those in it."""

    pieces: Mapping[str, tuple[Piece, ...]]
    made: Mapping[str, Organizer]
    joined: Mapping[str, tuple[str, ...]]


def belonging(catalogue: Catalogue, sets: Collection[str], pins: Iterable[Pin]) -> Belonging:
    """Pieces and organizers of these sets by the names of their groups, joined as the pins say."""
    rows = [row for row in catalogue.organizers if row.set in sets]
    made = {_owned(row.group, row.set, rows): row for row in rows}
    pieces: dict[str, tuple[Piece, ...]] = {}
    for piece in catalogue.pieces:
        if piece.set in sets:
            name = name_of(catalogue, sets, piece)
            pieces[name] = (*pieces.get(name, ()), piece)
    single = Belonging(pieces, made, {})
    return Belonging(pieces, made, _joined(catalogue, single, pins))


def name_of(catalogue: Catalogue, sets: Collection[str], piece: Piece) -> str:
    """The name of a piece's group; with its set where several sets have a ready-made organizer for the group."""
    return _owned(group_of(catalogue, piece), piece.set, [row for row in catalogue.organizers if row.set in sets])


def group_of(catalogue: Catalogue, piece: Piece) -> str:
    """Name of the group that a piece belongs to: as its own row says, of a case its name, else by its kind; blank where
    no row puts it anywhere."""
    return piece.group or (piece.tool if piece.kind == "cased" else rule_of_kind(catalogue, piece).group)


def rule_of_kind(catalogue: Catalogue, piece: Piece) -> GroupRule:
    """The row of ``groups`` for a piece's kind and system: the catalogue's own before the house's, and of these one
    that names the system before one that does not; where there is none, the row for kind ``other``."""
    rows = [row for row in catalogue.group_rules if piece.kind in row.kinds and row.system in ("", piece.system)]
    return min(rows, key=lambda row: (row.house, not row.system), default=_other(catalogue))


def said_of(catalogue: Catalogue, name: str, pieces: Iterable[Piece], made: Organizer | None, family: str) -> GroupRule:
    """What the catalogue says of a group, value by value by the first that says anything.

    These are its own rows of ``groups``, its ready-made organizer, the house's rows, the row for the kind of its first
    piece; then the tier is that of kind ``other`` or else 1, and the family is the one given.
    """
    rows = [row for row in catalogue.group_rules if row.group == name]
    ladder = [row for row in rows if not row.house]
    ladder += [GroupRule("", made.family, made.tier)] if made else []
    ladder += [row for row in rows if row.house]
    ladder += [rule_of_kind(catalogue, piece) for piece in [*pieces][:1]]
    return GroupRule(
        group=name,
        family=_first(row.family or None for row in ladder) or family,
        tier=_first([*(row.tier for row in ladder), _other(catalogue).tier, 1]),
        share=_first(row.share for row in ladder),
        split=_first(row.split for row in ladder),
    )


def said_of_joined(catalogue: Catalogue, own: Belonging, names: Iterable[str]) -> list[GroupRule]:
    """What the catalogue says of each of some groups, those that come first in it first."""
    said = [_said(catalogue, own, name) for name in names]
    return sorted(said, key=lambda rule: (rule.tier or 0, rule.family, rule.group))


def _said(catalogue: Catalogue, own: Belonging, name: str) -> GroupRule:
    made = own.made.get(name)
    told = said_of(catalogue, made.group if made else name, own.pieces.get(name, ()), made, name)
    return GroupRule(name, told.family, told.tier, share=told.share, split=told.split)


def _joined(catalogue: Catalogue, own: Belonging, pins: Iterable[Pin]) -> dict[str, tuple[str, ...]]:
    """The names of groups joined, by the name of the group they make; a pin about a group that is not there is void."""
    known = {*own.pieces, *own.made}
    clusters: list[set[str]] = []
    for pin in pins:
        pair = {pin.group, pin.other}
        if pin.rule == "together" and pair <= known:
            met = [cluster for cluster in clusters if cluster & pair]
            clusters = [cluster for cluster in clusters if not cluster & pair] + [pair.union(*met)]
    ordered = [tuple(rule.group for rule in said_of_joined(catalogue, own, cluster)) for cluster in clusters]
    return {" with ".join(names): names for names in ordered}


def _owned(group: str, set_name: str, rows: Iterable[Organizer]) -> str:
    owners = [row.set for row in rows if row.group == group]
    return f"{group} ({set_name})" if len(owners) > 1 and set_name in owners else group


def _other(catalogue: Catalogue) -> GroupRule:
    return _first(row for row in catalogue.group_rules if "other" in row.kinds) or SILENT


def _first(said: Iterable[Said | None]) -> Said | None:
    return next((value for value in said if value is not None), None)
