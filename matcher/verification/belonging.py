"""Which group a piece belongs to by the tables alone, and which groups pins want as one."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from matcher.records import Catalogue, GroupRule, Organizer, Piece, Pin

SILENT = GroupRule("")
Said = TypeVar("Said")


@dataclass(frozen=True, slots=True)
class Belonging:
    """The groups of some sets in a cabinet.

    ``pieces`` and ``made`` (a ready-made organizer) are by name, ``whole`` names the group of which one is the tools of
    one drive or system. ``joined`` is what is one group because pins say so, with the names of those in it.
    """

    pieces: Mapping[str, tuple[Piece, ...]]
    made: Mapping[str, Organizer]
    whole: Mapping[str, str]
    joined: Mapping[str, tuple[str, ...]]


def belonging(catalogue: Catalogue, sets: Collection[str], pins: Iterable[Pin]) -> Belonging:
    """Pieces and organizers of these sets by the names of their groups, joined as the pins say."""
    rows = [row for row in catalogue.organizers if row.set in sets]
    made = {_owned(row.group, row.set, rows): row for row in rows}
    pieces: dict[str, tuple[Piece, ...]] = {}
    whole: dict[str, str] = {}
    for piece in catalogue.pieces:
        if piece.set in sets:
            name, plain = name_of(catalogue, sets, piece), group_of(catalogue, piece)
            pieces[name] = (*pieces.get(name, ()), piece)
            whole |= {name: plain} if _divided(catalogue, rows, piece) != plain else {}
    single = Belonging(pieces, made, whole, {})
    return Belonging(pieces, made, whole, _joined(catalogue, single, pins))


def name_of(catalogue: Catalogue, sets: Collection[str], piece: Piece) -> str:
    """The name of a piece's group; with its set where several sets have a ready-made organizer for the group, with its
    drive or system where the group falls into one for each and has none."""
    rows = [row for row in catalogue.organizers if row.set in sets]
    return _owned(_divided(catalogue, rows, piece), piece.set, rows)


def group_of(catalogue: Catalogue, piece: Piece) -> str:
    """Name of the group that a piece belongs to: as its own row says, of a case its name, else by its kind; blank where
    no row puts it anywhere."""
    return piece.group or (piece.tool if piece.kind == "cased" else rule_of_kind(catalogue, piece).group)


def rule_of_kind(catalogue: Catalogue, piece: Piece) -> GroupRule:
    """The row of ``groups`` for a piece's kind and system: the catalogue's own before the house's, and of these one
    that names the system before one that does not; where there is none, the row for kind ``other``."""
    rows = [row for row in catalogue.group_rules if piece.kind in row.kinds and row.system in ("", piece.system)]
    return min(rows, key=lambda row: (row.house, not row.system), default=_other(catalogue))


def said_of(
    catalogue: Catalogue, names: Sequence[str], pieces: Iterable[Piece], made: Organizer | None, family: str
) -> GroupRule:
    """What the catalogue says of a group, value by value by the first that says anything.

    These are its own rows of ``groups`` by the first of its names, then by the next, its ready-made organizer, the
    house's rows, the row for the kind of its first piece; then the tier is that of kind ``other`` or else 1, and the
    family is the one given.
    """
    rows = [row for name in names for row in catalogue.group_rules if row.group == name]
    ladder = [row for row in rows if not row.house]
    ladder += [GroupRule("", made.family, made.tier)] if made else []
    ladder += [row for row in rows if row.house]
    ladder += [rule_of_kind(catalogue, piece) for piece in [*pieces][:1]]
    return GroupRule(
        group=names[0],
        family=_first(row.family or None for row in ladder) or family,
        tier=_first([*(row.tier for row in ladder), _other(catalogue).tier, 1]),
        share=_first(row.share for row in ladder),
        split=_first(row.split for row in ladder),
    )


def said_of_joined(catalogue: Catalogue, own: Belonging, names: Iterable[str]) -> list[GroupRule]:
    """What the catalogue says of each of some groups, those that come first in it first."""
    said = [_said(catalogue, own, name) for name in names]
    return sorted(said, key=lambda rule: (rule.tier or 0, rule.family, rule.group))


def names_of(own: Belonging, name: str, made: Organizer | None) -> tuple[str, str]:
    """The names by which the tables speak of a group: its own, and that of the group of which it is one drive."""
    plain = made.group if made else name
    return plain, own.whole.get(name, plain)


def _said(catalogue: Catalogue, own: Belonging, name: str) -> GroupRule:
    made = own.made.get(name)
    told = said_of(catalogue, names_of(own, name, made), own.pieces.get(name, ()), made, own.whole.get(name, name))
    return GroupRule(name, told.family, told.tier, share=told.share, split=told.split)


def _joined(catalogue: Catalogue, own: Belonging, pins: Iterable[Pin]) -> dict[str, tuple[str, ...]]:
    """The names of groups joined, by the name of the group they make; a pin about a group that is not there is void."""
    known = {*own.pieces, *own.made}
    clusters: list[set[str]] = []
    for pin in pins:
        meant = [{name for name in known if wanted in (name, own.whole.get(name))} for wanted in (pin.group, pin.other)]
        if pin.rule == "together" and all(meant):
            pair = set[str]().union(*meant)
            met = [cluster for cluster in clusters if cluster & pair]
            clusters = [cluster for cluster in clusters if not cluster & pair] + [pair.union(*met)]
    ordered = [tuple(rule.group for rule in said_of_joined(catalogue, own, cluster)) for cluster in clusters]
    return {" with ".join(names): names for names in ordered}


def _divided(catalogue: Catalogue, ready: Iterable[Organizer], piece: Piece) -> str:
    """``1/2 chrome sockets`` where the group falls into one for each drive, by the catalogue's own row, else the
    house's; one that has a ready-made organizer does not."""
    plain = group_of(catalogue, piece)
    if any(row.group == plain for row in ready):
        return plain
    said = [(row.house, row.by) for row in catalogue.group_rules if row.group == plain and row.by]
    by = min(said)[1] if said else ()
    told = [value for word, value in (("drive", piece.drive), ("system", piece.system)) if word in by and value]
    return " ".join([*told, plain])


def _owned(group: str, set_name: str, rows: Iterable[Organizer]) -> str:
    owners = [row.set for row in rows if row.group == group]
    return f"{group} ({set_name})" if len(owners) > 1 and set_name in owners else group


def _other(catalogue: Catalogue) -> GroupRule:
    return _first(row for row in catalogue.group_rules if "other" in row.kinds) or SILENT


def _first(said: Iterable[Said | None]) -> Said | None:
    return next((value for value in said if value is not None), None)
