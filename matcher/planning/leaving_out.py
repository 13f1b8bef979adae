"""Leaving out what is to blame: as few pieces of a group as can be, a whole group, or several groups."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TypeAlias

from matcher.layout import reading_order, run_of, singles
from matcher.planning.loosening import Change
from matcher.planning.posing import Admit, may_go_in, usable
from matcher.planning.question import Question
from matcher.planning.summing import least_asked
from matcher.records import Group, counted, listed

Tried: TypeAlias = Callable[[Question], bool]
"""Whether there is a plan that answers the question."""
NAMED = 3
"""Up to so many pieces are named."""


def without(question: Question, blamed: Iterable[Group]) -> Iterator[Change]:
    """The question without one of the groups to blame."""
    for group in blamed:
        if len(question.groups) > 1:
            yield Change(f"{group.name} left out", _but(question, [group]), names_of(question, [group]))


def fewest_pieces(question: Question, group: Group, admission: Admit, tried: Tried) -> Change | None:
    """The fewest pieces of a group without which there is a plan, those first that the fewest drawers take, then the
    largest; nothing where all of them, or the organizer that they lie in, would have to go."""
    if group.organizer or len(group.pieces) < 2:
        return None
    order = hardest_first(question, group, admission)

    def left(number: int) -> Question:
        kept = [((n, group.pieces[n].piece.count),) for n in sorted(order[number:])]
        part = replace(run_of(group, kept), name=group.name, part_of=group.part_of)
        return replace(question, groups=tuple(part if one == group else one for one in question.groups))

    number = bisect_left(range(len(order)), True, lo=1, key=lambda number: tried(left(number)))
    if number == len(order):
        return None
    out = [group.pieces[n].piece for n in order[:number]]
    told = f"{counted(sum(piece.count for piece in out), 'piece')} of {group.name} left out"
    names = listed([piece.tool for piece in out[:NAMED]] + (["others"] if len(out) > NAMED else []))
    return Change(f"{told} ({names})", left(number), tuple(dict.fromkeys(piece.tool for piece in out)))


def several_groups(question: Question, blamed: Sequence[Group], tried: Tried) -> Change | None:
    """The first groups in a row without which there is a plan, then back where they need not be out.

    Those to blame come first, then those that take the most area, cases too.
    """
    groups = question.groups
    largest = sorted(groups, key=lambda group: -least_asked(group, question.house))
    row = [*blamed, *(group for group in largest if group not in blamed)]
    number = bisect_left(range(len(row)), True, lo=1, key=lambda number: tried(_but(question, row[:number])))
    if number == len(row):
        return None
    out = row[:number]
    for group in tuple(out):
        fewer = [other for other in out if other != group]
        if tried(_but(question, fewer)):
            out = fewer
    names = ", ".join(group.name for group in out)
    told = f"{len(out)} of {counted(len(groups), 'group')} left out: {names}"
    return Change(told, _but(question, out), names_of(question, out))


def names_of(question: Question, groups: Iterable[Group]) -> tuple[str, ...]:
    """By which names a run leaves groups out: joined ones by those of their members."""
    known = {one.name for one in question.unjoined}
    names = ((group.name,) if group.name in known or not known else group.also for group in groups)
    return tuple(name for own in names for name in own if name in known or not known)


def hardest_first(question: Question, group: Group, admission: Admit) -> list[int]:
    """Indices of a group's pieces, those first that the fewest drawers may take, of equals the larger."""
    sides = question.house.layout.sides
    boxes, order = usable(question.cabinet), reading_order(group.pieces, sides)

    def rank(pair: tuple[int, Group]) -> tuple[int, int, int]:
        n, single = pair
        taken = sum(may_go_in(admission(single, box, question.house), any_layout=True) for box in boxes)
        piece = group.pieces[n]
        return taken, -piece.length * piece.width, n

    return [n for n, _ in sorted(zip(order, singles(group, sides), strict=True), key=rank)]


def _but(question: Question, out: Sequence[Group]) -> Question:
    return replace(question, groups=tuple(group for group in question.groups if group not in out))
