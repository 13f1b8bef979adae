"""The best part of a set that goes in where the whole set does not: found by a bounded search, not the best there is.

What goes into no drawer by itself stays outside. Of the rest, groups come in one after another, in foam before cased,
those first that ask for the least room a tool; then of a few groups that stay outside as many pieces as go in.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from matcher.fitting import admit, admit_free, larger
from matcher.layout import reading_order, singles
from matcher.planning.deciding import TRIED, verdict_of
from matcher.planning.fits_but import but_for, strays
from matcher.planning.grouping import divisible
from matcher.planning.leaving_out import hardest_first, names_of
from matcher.planning.posing import pins_allow, usable
from matcher.planning.question import Question
from matcher.planning.summing import least_asked, refused_by_sums
from matcher.records import Fault, GoalName, Group, Outside, SizedPiece, or_fault

PART_GOALS: tuple[GoalName, ...] = ("drawers", "order")
"""Goals that the plan of a part is made for: it is there to be looked at, not to be cut from."""
LATER = 6
"""So many groups are tried one by one after the first that does not go in beside those before it."""
TAKEN_APART = 2
"""Of so many groups that stay outside as many pieces as go in are sought."""
SHARE = 0.04
"""Share of every work budget that the plan of the part gets."""


@dataclass(frozen=True, slots=True)
class FoundPart:
    """A part of a set as a question of its own, what a run leaves out to ask it, and what that is.

    ``proved`` if nothing that stays outside goes in by itself, or if it is a single tool: then, where the set is proved
    not to go in, no part has fewer tools outside.
    """

    question: Question
    without: tuple[str, ...]
    outside: tuple[Outside, ...]
    proved: bool


def best_part(question: Question) -> FoundPart | None:
    """The best part found, if any goes in."""
    alone = {group.name: tuple(strays(question, group)) for group in question.groups}
    names = tuple(dict.fromkeys(name for own in alone.values() for name in own))
    base = but_for(question, names) if names else question
    if base is None:
        return None
    inside = _groups_inside(base, whole=bool(names))
    out = [group for group in base.groups if group not in inside]
    for group in sorted(out, key=lambda group: -group.tools)[:TAKEN_APART]:
        kept = _most_pieces(base, inside, group)
        if kept is not None:
            inside, out = [*inside, kept], [other for other in out if other != group]
            names = (*names, *_left_behind(group, kept))
    without = tuple(dict.fromkeys((*names, *names_of(base, out))))
    lesser = but_for(question, without) if inside else None
    if lesser is None:
        return None
    outside = tuple(_outside(question, lesser, alone))
    certain = all(set(_tools(one.group)) <= set(alone[one.group.name]) for one in outside)
    work = question.house.work
    budgets = {name: SHARE * getattr(work, name) for name in ("together", "drawers", "order", "unique")}
    quick = replace(lesser, house=replace(question.house, work=replace(work, **budgets)))
    return FoundPart(quick, without, outside, certain or sum(one.tools for one in outside) == 1)


# -------------------------------------------------------------------------------------------------------- what goes in


def _goes_in(question: Question, groups: Sequence[Group]) -> bool:
    """Whether a plan of these groups alone is found with little effort."""
    asked = replace(question, groups=tuple(sorted(groups, key=lambda group: (group.tier, group.family, group.name))))

    def tried() -> bool:
        return not refused_by_sums(asked) and verdict_of(asked, ordered=True, effort=TRIED) == "fits"

    found = or_fault(question.cabinet.name, tried)
    return not isinstance(found, Fault) and found


def _groups_inside(question: Question, whole: bool) -> list[Group]:
    """What goes in of the groups in foam, then of the cased ones beside it; all are tried if ``whole``.

    Cases stand where no foam may lie, so that the two seldom take each other's room.
    """
    if whole and _goes_in(question, question.groups):
        return list(question.groups)
    inside: list[Group] = []
    for cased in (False, True):
        own = [group for group in question.groups if group.cased is cased]
        inside += _row_inside(
            question, inside, sorted(own, key=lambda group: (_area_a_tool(question, group), group.name))
        )
    return inside


def _row_inside(question: Question, inside: Sequence[Group], row: Sequence[Group]) -> list[Group]:
    """Beside what is inside already, the longest beginning of a row that goes in, then further ones that do."""
    if not row or _goes_in(question, [*inside, *row]):
        return list(row)
    numbers = range(1, len(row))
    number = bisect_left(numbers, True, key=lambda number: not _goes_in(question, [*inside, *row[:number]]))
    found = list(row[:number])
    for group in row[number + 1 :][:LATER]:
        if _goes_in(question, [*inside, *found, group]):
            found.append(group)
    return found


def _area_a_tool(question: Question, group: Group) -> Fraction:
    return Fraction(least_asked(group, question.house), max(1, group.tools))


def _most_pieces(question: Question, inside: Sequence[Group], group: Group) -> Group | None:
    """As many rows of a group's pieces as go in beside the rest, the hardest to place left out first; else nothing."""
    if not divisible(group, question.house) or group.organizer or len(group.pieces) < 2:
        return None
    order = hardest_first(question, group, admit)

    def kept(number: int) -> Group:
        pieces = tuple(group.pieces[n] for n in sorted(order[number:]))
        return _of_pieces(group, pieces)

    number = bisect_left(range(len(order)), True, lo=1, key=lambda number: _goes_in(question, [*inside, kept(number)]))
    return kept(number) if number < len(order) else None


def _left_behind(group: Group, kept: Group) -> Iterator[str]:
    yield from (one.piece.tool for one in group.pieces if one not in kept.pieces)


def _of_pieces(group: Group, pieces: tuple[SizedPiece, ...]) -> Group:
    return replace(
        group,
        pieces=pieces,
        mass_low=sum(piece.mass_low * piece.piece.count for piece in pieces),
        mass_high=sum(piece.mass_high * piece.piece.count for piece in pieces),
    )


# ------------------------------------------------------------------------------------------------------ what stays out


def _outside(question: Question, lesser: Question, alone: dict[str, tuple[str, ...]]) -> Iterator[Outside]:
    """What the lesser question leaves out of each group, with what is short."""
    inside = {one.piece for group in lesser.groups for one in group.pieces}
    ready = {group.organizer for group in lesser.groups}
    for group in question.groups:
        out = tuple(one for one in group.pieces if one.piece not in inside)
        bare = group.organizer is not None and group.organizer not in ready
        if out or bare:
            left = _of_pieces(group, out) if out and not bare else group
            lacks = _lacks(question, left, alone[group.name])
            yield Outside(left, len(out) == len(group.pieces), lacks, least_asked(left, question.house))


def _tools(group: Group) -> Iterable[str]:
    return [one.piece.tool for one in group.pieces] or [group.name]


def _lacks(question: Question, group: Group, alone: Sequence[str]) -> str:
    """What the drawers lack for the pieces that go in nowhere, in words; that for the one that lacks the most."""
    if not alone:
        return ""
    if not group.pieces:
        return _nearest(question, group)[1]
    sides = question.house.layout.sides
    pairs = zip(reading_order(group.pieces, sides), singles(group, sides), strict=True)
    held = [one for n, one in pairs if group.pieces[n].piece.tool in alone]
    lack = max((_nearest(question, one) for one in held), key=lambda found: found[0], default=((0, 0), ""))[1]
    told = lack if len(held) < 2 else f"for the largest {lack}"
    return told if len(held) == len(group.pieces) else f"{told}; no room found for the others"


def _nearest(question: Question, group: Group) -> tuple[tuple[int, int], str]:
    """By how much the drawer would have to grow that is nearest to taking a group, and that in words."""
    drawers = [drawer for drawer in usable(question.cabinet) if pins_allow(question.pins, group, drawer)]
    ways: tuple[Callable[..., object], ...] = (admit, admit_free)
    fits = [(way(group, drawer, question.house), drawer) for way in ways for drawer in drawers]
    lacks = [(lack, drawer) for fit, drawer in fits if (lack := getattr(fit, "shortfall", None))]
    sized = [(lack.growth, drawer.name, lack.enough) for lack, drawer in lacks if lack.enough]
    if sized:
        growth, name, enough = min(sized)
        return growth, f"drawer {name} would have to be {larger(enough, question.unit)}"
    heavy = [(lack.short, drawer.name) for lack, drawer in lacks if lack.axis == "load"]
    if heavy:
        return (0, 0), f"{question.unit.in_mass(min(heavy)[0])} over the rating of drawer {min(heavy)[1]}"
    return (0, 0), "no drawer of this cabinet takes it"
