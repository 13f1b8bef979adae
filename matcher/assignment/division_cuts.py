"""Which groups have to be cut at a given cost: a search tree that cuts one of those whose wholeness is in the way."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

from matcher.assignment.division_model import limits
from matcher.assignment.division_records import Chosen, Division
from matcher.assignment.division_search import DivisionSearch

MOST_WAYS = 4
"""More ways to cut than this are not told apart after a division was found."""

MOST_DIVISIONS = 6
"""With more divisions than this they are not settled one by one."""
MOST_STEPS = 2000
"""Steps of listing them, after which there are more than a few."""
FOR_CORE = 1.0
"""Work of finding which groups are in the way; where it is not enough, all count."""


@dataclass(slots=True)
class Cutting:
    """A division of a cost, if one was ``chosen``, and all ``ways`` to cut that it leaves: the groups that may be cut.

    A way ``None`` lets all be cut. Without ways nothing costs so little, which is proved.
    """

    chosen: Chosen = ()
    ways: list[frozenset[int] | None] = field(default_factory=list)


def cutting(search: DivisionSearch, cost: int, work: float) -> Cutting:
    """Divisions of at most this cost, group after group cut: where some cannot all stay whole, one of them is cut."""
    limits(search.built.value, 0, cost)
    each = min((part.cost for part in search.built.division.parts if part.cost), default=cost + 1)
    found, limit = Cutting(), search.built.spent + work
    left, seen = [frozenset[int]()], set[frozenset[int]]()
    while left and search.built.spent < limit:
        cut = left.pop(0)
        if cut in seen:
            continue
        seen.add(cut)
        status, chosen = search.any_with(cut, limit - search.built.spent)
        more = (len(cut) + 1) * each <= cost
        if status == "impossible":
            in_the_way = search.in_the_way(cut, FOR_CORE) if more else frozenset[int]()
            left += [cut | {group} for group in sorted(in_the_way)]
            continue
        found.chosen = found.chosen or chosen
        found.ways.append(None if more else cut)
        if found.chosen and (more or len(found.ways) > MOST_WAYS):
            break
    if left:
        found.ways = [None]
    return found


def few_divisions(division: Division, ways: Sequence[frozenset[int] | None], cost: int) -> tuple[tuple[int, ...], ...]:
    """All choices of parts whose cuts cost no more, in these ways to cut; none where they are more than a few."""
    if None in ways:
        return ()
    listed = [_choices(division, way, cost) for way in ways if way is not None]
    found = {parts for choices in listed for parts in choices or ()}
    return tuple(sorted(found)) if None not in listed and len(found) <= MOST_DIVISIONS else ()


def _choices(division: Division, way: frozenset[int], cost: int) -> list[tuple[int, ...]] | None:
    """Parts that cover every group once, of which only those of the way are cut; ``None`` if they are too many."""
    begins: dict[tuple[int, int], list[int]] = defaultdict(list)
    for node, part in enumerate(division.parts):
        if part.group in way or part.end - part.begin == division.units[part.group]:
            begins[part.group, part.begin].append(node)
    found: list[tuple[int, ...]] = []
    stack: list[tuple[int, int, int, tuple[int, ...]]] = [(0, 0, cost, ())]
    for _ in range(MOST_STEPS):
        if not stack:
            return found
        group, unit, left, chosen = stack.pop()
        if group == len(division.units):
            found.append(chosen)
            continue
        for node in begins[group, unit]:
            part = division.parts[node]
            after = (group + 1, 0) if part.end == division.units[group] else (group, part.end)
            if part.cost <= left:
                stack.append((*after, left - part.cost, (*chosen, node)))
    return None
