"""The nearest change that turns a no into a yes, tried: a drawer a little larger, a pin lifted, a group left out."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TypeAlias

from matcher.admission import Axis
from matcher.pins import pin_words
from matcher.posing import Case
from matcher.records import Drawer, Group, Pin, Reason
from matcher.units import show_mm

Tried: TypeAlias = Callable[[tuple[Drawer, ...], tuple[Group, ...], tuple[Pin, ...]], bool]
"""Whether there is a plan with these drawers, groups and pins."""

TRIES = 12
WORDS: dict[Axis, str] = {"width": "wider", "depth": "deeper", "height": "higher"}


@dataclass(frozen=True, slots=True)
class _Change:
    """A change in words, with what is left of the case after it."""

    text: str
    drawers: tuple[Drawer, ...]
    groups: tuple[Group, ...]
    pins: tuple[Pin, ...]


def nearest_change(case: Case, groups: tuple[Group, ...], reasons: Iterable[Reason], tried: Tried) -> str:
    """The smallest change of each sort that was tried and gives a plan, in words; empty if none of those tried does.

    ``groups`` are the set's groups before any splitting.
    """
    named = {name for reason in reasons for name in reason.groups}
    blamed = [group for group in groups if group.name in named] or list(groups)
    found = [
        change.text
        for sort in (_larger(case, groups, named), _unpinned(case, groups), _without(case, groups, blamed))
        if (change := _first(sort, tried))
    ]
    if not found:
        found = _several_left_out(case, groups, blamed, tried)
    return f"it would fit with {'; or with '.join(found)}" if found else ""


def _first(changes: Iterable[_Change], tried: Tried) -> _Change | None:
    return next((change for change in changes if tried(change.drawers, change.groups, change.pins)), None)


def _larger(case: Case, groups: tuple[Group, ...], named: Collection[str]) -> Iterator[_Change]:
    """Single dimensions of single drawers, enlarged by what is short, the smallest first."""
    lacks = sorted(
        {
            (fit.shortfall.short, d, fit.shortfall.axis)
            for (g, d), fit in case.fits.items()
            if fit.shortfall and fit.shortfall.axis in WORDS and fit.shortfall.short > 0
            if case.groups[g].name in named or case.groups[g].part_of in named
        }
    )
    for short, d, axis in lacks[:TRIES]:
        drawer = case.drawers[d]
        larger = (*case.drawers[:d], _enlarged(drawer, axis, short), *case.drawers[d + 1 :])
        yield _Change(f"drawer {drawer.name} {show_mm(short)} {WORDS[axis]}", larger, groups, case.pins)


def _enlarged(drawer: Drawer, axis: Axis, by: int) -> Drawer:
    if axis == "width":
        return replace(drawer, inside_width=drawer.inside_width + by)
    if axis == "depth":
        return replace(drawer, inside_depth=drawer.inside_depth + by)
    return replace(drawer, clear_height=drawer.clear_height + by)


def _unpinned(case: Case, groups: tuple[Group, ...]) -> Iterator[_Change]:
    for pin in case.pins:
        kept = tuple(other for other in case.pins if other != pin)
        yield _Change(f"the pin lifted: {pin_words(pin)}", case.drawers, groups, kept)


def _without(case: Case, groups: tuple[Group, ...], blamed: Iterable[Group]) -> Iterator[_Change]:
    for group in blamed:
        kept = tuple(other for other in groups if other != group)
        yield _Change(f"{group.name} left out", case.drawers, kept, case.pins)


def _several_left_out(case: Case, groups: tuple[Group, ...], blamed: list[Group], tried: Tried) -> list[str]:
    """Groups left out one after another until there is a plan, then those put back that need not be out."""
    out: list[Group] = []
    for group in (*blamed, *(group for group in reversed(groups) if group not in blamed)):
        out.append(group)
        if tried(case.drawers, _but(groups, out), case.pins):
            break
    else:
        return []
    for group in tuple(out):
        fewer = [other for other in out if other != group]
        if tried(case.drawers, _but(groups, fewer), case.pins):
            out = fewer
    return [f"{', '.join(group.name for group in out)} left out"]


def _but(groups: tuple[Group, ...], out: list[Group]) -> tuple[Group, ...]:
    return tuple(group for group in groups if group not in out)
