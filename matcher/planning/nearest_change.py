"""The nearest change that turns a no into a yes, tried: drawers a little larger, a pin lifted, groups left out."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from matcher.fitting import Lacks, larger
from matcher.planning.pins import pin_words
from matcher.planning.posing import Case
from matcher.records import Drawer, Group, Pin, Reason, counted

Tried: TypeAlias = Callable[[tuple[Drawer, ...], tuple[Group, ...], tuple[Pin, ...]], bool]
"""Whether there is a plan with these drawers, groups and pins."""

TRIES = 12


@dataclass(frozen=True, slots=True)
class _Change:
    """A change in words, with what is left of the case after it."""

    text: str
    drawers: tuple[Drawer, ...]
    groups: tuple[Group, ...]
    pins: tuple[Pin, ...]


def nearest_change(case: Case, reasons: Sequence[Reason], tried: Tried, *, leaving_out: bool) -> str:
    """The smallest change of each sort that was tried and gives a plan, in words; empty if none of those tried does.

    Groups are left out only if that is one of the sorts.
    """
    groups = case.question.groups
    named = {name for reason in reasons for name in reason.groups}
    blamed = [group for group in groups if group.name in named] or list(groups)
    found = [
        change.text
        for sort in (
            _larger(case, groups, named),
            _all_larger(case, groups, reasons),
            _unpinned(case, groups),
            _without(case, groups, blamed) if leaving_out else (),
        )
        if (change := _first(sort, tried))
    ]
    if not found and leaving_out:
        found = _several_left_out(case, groups, blamed, tried)
    return f"it would fit with {'; or with '.join(found)}" if found else ""


def _first(changes: Iterable[_Change], tried: Tried) -> _Change | None:
    return next((change for change in changes if tried(change.drawers, change.groups, change.pins)), None)


def _larger(case: Case, groups: tuple[Group, ...], named: Collection[str]) -> Iterator[_Change]:
    """Single drawers enlarged by what a group lacks there, the least first."""
    lacks = {
        (lack.growth, d, lack.enough)
        for (g, d), lack in case.lacks()
        if lack.enough
        if case.groups[g].name in named or case.groups[g].part_of in named
    }
    for _, d, enough in sorted(lacks)[:TRIES]:
        yield _enlarged(case, groups, {d: enough})


def _all_larger(case: Case, groups: tuple[Group, ...], reasons: Sequence[Reason]) -> Iterator[_Change]:
    """All that is short made good at once, each group in its nearest drawer; nothing where only one group is short."""
    short = [reason for reason in reasons if reason.code == "short"]
    lacks: dict[int, Lacks] = {}
    for reason in short:
        d = next(index for index, drawer in enumerate(case.drawers) if drawer.name in reason.drawers)
        g = next(index for index, group in enumerate(case.groups) if group.name in reason.groups)
        lack = case.fits[g, d].shortfall
        lacks[d] = _both(lacks.get(d, ()), lack.enough if lack else ())
    if len(short) > 1:
        yield _enlarged(case, groups, lacks)


def _both(one: Lacks, other: Lacks) -> Lacks:
    """The larger lack along each side."""
    sides = sorted({side for side, _ in (*one, *other)})
    return tuple((side, max(dict(one).get(side, 0), dict(other).get(side, 0))) for side in sides)


def _enlarged(case: Case, groups: tuple[Group, ...], lacks: Mapping[int, Lacks]) -> _Change:
    """Drawers (by index) larger by what they lack."""
    drawers = list(case.drawers)
    for d, enough in lacks.items():
        by, box = dict(enough), drawers[d]
        drawers[d] = replace(
            box,
            inside_width=box.inside_width + by.get("width", 0),
            inside_depth=box.inside_depth + by.get("depth", 0),
            clear_height=box.clear_height + by.get("height", 0),
        )
    told = [f"drawer {case.drawers[d].name} {larger(enough)}" for d, enough in sorted(lacks.items())]
    return _Change(" and ".join(told), tuple(drawers), groups, case.pins)


def _unpinned(case: Case, groups: tuple[Group, ...]) -> Iterator[_Change]:
    for pin in case.pins:
        kept = tuple(other for other in case.pins if other != pin)
        left = case.question.lifted(kept) if pin.rule == "together" else groups
        yield _Change(f"the pin lifted: {pin_words(pin)}", case.drawers, left, kept)


def _without(case: Case, groups: tuple[Group, ...], blamed: Iterable[Group]) -> Iterator[_Change]:
    for group in blamed:
        kept = tuple(other for other in groups if other != group)
        if kept:
            yield _Change(f"{group.name} left out", case.drawers, kept, case.pins)


def _several_left_out(case: Case, groups: tuple[Group, ...], blamed: list[Group], tried: Tried) -> list[str]:
    """The first groups in a row without which there is a plan, then back where they need not be out."""
    row = [*blamed, *(group for group in reversed(groups) if group not in blamed)]

    def enough(number: int) -> bool:
        return tried(case.drawers, _but(groups, row[:number]), case.pins)

    number = bisect_left(range(len(row)), True, lo=1, key=enough)
    if number == len(row):
        return []
    out = row[:number]
    for group in tuple(out):
        fewer = [other for other in out if other != group]
        if tried(case.drawers, _but(groups, fewer), case.pins):
            out = fewer
    names = ", ".join(group.name for group in out)
    return [f"{len(out)} of {counted(len(groups), 'group')} left out: {names}"]


def _but(groups: tuple[Group, ...], out: list[Group]) -> tuple[Group, ...]:
    return tuple(group for group in groups if group not in out)
