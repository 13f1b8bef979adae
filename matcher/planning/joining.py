"""Groups that a planner wants as one organizer: pins ``together`` make one group of them first (R11)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from matcher.planning.pins import pin_words
from matcher.records import Group, Pin, UsageError, use_of


def joined(groups: Iterable[Group], pins: Iterable[Pin]) -> tuple[Group, ...]:
    """The groups, sorted by tier, family and name, with those that pins want together as one: ``A with B``.

    A pin about a group that is not there says nothing.

    Raises
    ------
    UsageError
        Other pins want such groups apart, or no foam can be cut for all of them.
    """
    told, ordered = tuple(pins), sorted(groups, key=_place)
    clusters = _clusters(ordered, told)
    for members in clusters:
        if len(members) > 1:
            _check([ordered[g] for g in members], told)
    made = (_one_of([ordered[g] for g in members]) for members in clusters)
    return tuple(sorted(made, key=_place))


def meant_by(name: str, groups: Sequence[Group]) -> tuple[int, ...]:
    """Indices of the groups that ``name`` means: the group called so, parts of it, or the one that it is joined to."""
    return tuple(g for g, group in enumerate(groups) if name in (group.name, group.part_of, *group.also))


def pins_joining(pins: Iterable[Pin], groups: Sequence[Group]) -> tuple[Pin, ...]:
    """The pins that made one of these groups of several."""
    return tuple(
        pin
        for pin in pins
        if pin.rule == "together" and set(meant_by(pin.group, groups)) & set(meant_by(pin.other, groups))
    )


def _place(group: Group) -> tuple[int, str, str]:
    return group.tier, group.family, group.name


def _clusters(groups: Sequence[Group], pins: Iterable[Pin]) -> list[list[int]]:
    """Indices of groups that come together, each group once; clusters in the order of their first groups."""
    first = list(range(len(groups)))
    for pin in pins:
        one, other = meant_by(pin.group, groups), meant_by(pin.other, groups)
        if pin.rule == "together" and one and other:
            merged = {first[g] for g in (*one, *other)}
            first = [min(merged) if place in merged else place for place in first]
    return [[g for g, place in enumerate(first) if place == start] for start in sorted(set(first))]


def _check(members: Sequence[Group], pins: Sequence[Pin]) -> None:
    """Refuse groups that cannot be one organizer."""
    own = [pin for pin in pins if pin.rule == "together" and meant_by(pin.group, members)]
    told = " and ".join(f"pin {pin_words(pin)!r}" for pin in own)
    for pin in pins:
        if pin.rule == "apart" and {*meant_by(pin.group, members)} and {*meant_by(pin.other, members)}:
            raise UsageError(f"{told}: contradicts the pin {pin_words(pin)!r}")
    cased = [group.name for group in members if group.cased]
    if 0 < len(cased) < len(members):
        raise UsageError(f"{told}: {', '.join(cased)} come in a case and lie in no foam; expected groups without cases")
    ready = [group.name for group in members if not group.pieces]
    if ready:
        raise UsageError(
            f"{told}: of {', '.join(ready)} only a ready-made organizer is in the catalogue, which cannot be cut anew; "
            "expected groups whose pieces are listed"
        )


def _one_of(members: Sequence[Group]) -> Group:
    """One group of all pieces: of the first one's family and tier, shared only if all may be, and never divided."""
    first = members[0]
    if len(members) == 1:
        return first
    pieces = tuple(piece for group in members for piece in group.pieces)
    systems = {piece.piece.system for piece in pieces}
    return Group(
        name=" with ".join(group.name for group in members),
        family=first.family,
        tier=first.tier,
        system=systems.pop() if len(systems) == 1 else "",
        share=all(group.share for group in members),
        split=False,
        cased=first.cased,
        pieces=pieces,
        organizer=None,
        mass_low=sum(piece.mass_low * piece.piece.count for piece in pieces),
        mass_high=sum(piece.mass_high * piece.piece.count for piece in pieces),
        use=use_of(pieces),
        also=tuple(dict.fromkeys(name for group in members for name in (group.name, *group.also))),
    )
