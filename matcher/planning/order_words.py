"""Breaks of the top-to-bottom order in sentences: groups that lie below the same others are told as one, and why."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TypeAlias

from matcher.assignment import Problem, order_breaks
from matcher.fitting import StaysOut
from matcher.planning.posing import Case
from matcher.records import counted, listed, plural

FEW = 3
"""Up to so many drawers are named where they alone take a group; of more groups than this the number is told, too."""

Clusters: TypeAlias = list[tuple[tuple[int, ...], tuple[int, ...]]]
"""Lower groups with the upper ones that each of them lies below."""


def order_told(case: Case, problem: Problem, places: Sequence[int]) -> Iterator[str]:
    """The breaks of order, e.g. ``2 breaks: a (drawer 3) and b (drawer 4) lie below c (drawer 1), because row 1 is
    45.0 mm high``; a cause is told only where fits prove it."""
    for lower, upper in _clusters(order_breaks(problem, tuple(places))):
        number = counted(len(lower) * len(upper), "break")
        lies = "lies" if len(lower) == 1 else "lie"
        below = f"{_named(case, places, lower)} {lies} below {_named(case, places, upper)}"
        yield f"{number}: {below}{_because(case, problem, places, lower, upper)}"


def _clusters(breaks: Iterable[tuple[int, int]]) -> Clusters:
    """Pairs (lower, upper) as few products of groups: by equal uppers of each lower one, or the other way round."""
    pairs = list(breaks)
    by_lower = [(lower, upper) for upper, lower in _alike(pairs)]
    by_upper = list(_alike((upper, lower) for lower, upper in pairs))
    return min(by_lower, by_upper, key=len)


def _alike(pairs: Iterable[tuple[int, int]]) -> Clusters:
    """Second elements that stand for equal first ones, with these: (seconds, firsts)."""
    partners: Mapping[int, list[int]] = defaultdict(list)
    for first, second in pairs:
        partners[first].append(second)
    alike: Mapping[tuple[int, ...], list[int]] = defaultdict(list)
    for first, seconds in sorted(partners.items()):
        alike[tuple(sorted(seconds))].append(first)
    return [(seconds, tuple(firsts)) for seconds, firsts in alike.items()]


def _named(case: Case, places: Sequence[int], groups: Sequence[int]) -> str:
    """Groups with their drawers, those of one drawer together; of many how many there are."""
    held: Mapping[str, list[str]] = defaultdict(list)
    for g in groups:
        held[case.drawers[places[g]].name].append(case.groups[g].name)
    if len(groups) > FEW:
        return f"{len(groups)} groups ({'; '.join(f'{listed(names)} in drawer {one}' for one, names in held.items())})"
    return listed([f"{listed(names)} (drawer {one})" for one, names in held.items()])


def _because(case: Case, problem: Problem, places: Sequence[int], lower: Sequence[int], upper: Sequence[int]) -> str:
    """What keeps the lower groups from lying as high as the upper ones, or the upper ones from lying lower."""
    floors = [box.floor for box in problem.boxes]
    least = min(floors[places[g]] for g in upper) - problem.level
    high = [d for d, floor in enumerate(floors) if floor >= least]
    if all(isinstance(case.fits[g, d], StaysOut) for g in lower for d in high):
        return f", because {_too_low(case, lower, high) or 'no drawer that high up takes them'}"
    for groups in (upper, lower):
        if len(groups) == 1:
            return _only(case, problem, groups[0])
    return ""


def _too_low(case: Case, groups: Sequence[int], drawers: Sequence[int]) -> str:
    """The clear height of drawers where nothing but that keeps the groups out; drawers without foam do not count."""
    axes = {d: {fit.shortfall.axis for g in groups if isinstance(fit := case.fits[g, d], StaysOut)} for d in drawers}
    foam = [d for d in drawers if axes[d] != {"slot"}]
    if not foam or any(axes[d] != {"height"} for d in foam):
        return ""
    heights = [case.drawers[d].clear_height for d in foam]
    most = "" if len(set(heights)) == 1 else "at most "
    named, one = _where(case, drawers, foam)
    return f"{named} {'is' if one else 'are'} {most}{case.unit.clear(max(heights))} high"


def _where(case: Case, high: Sequence[int], foam: Sequence[int]) -> tuple[str, bool]:
    """Drawers by their rows where these hold no other ones, else by name; and whether it is one."""
    rows = sorted({case.drawers[d].row for d in foam})
    whole = all(d in high for d, drawer in enumerate(case.drawers) if drawer.row in rows)
    noun, names = ("row", list(map(str, rows))) if whole else ("drawer", [case.drawers[d].name for d in foam])
    return f"{plural(noun, len(names))} {listed(names)}", len(names) == 1


def _only(case: Case, problem: Problem, group: int) -> str:
    """The drawers that take a group, where they are few."""
    taking = [drawer.name for d, drawer in enumerate(case.drawers) if (group, d) in problem.options]
    if len(taking) > FEW:
        return ""
    takes = "takes" if len(taking) == 1 else "take"
    return f"; only {plural('drawer', len(taking))} {listed(taking)} {takes} {case.groups[group].name}"
