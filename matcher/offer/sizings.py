"""Needs that one organizer could serve, gathered with all sizes that could serve them.

Needs of one content belong together, and those of a smaller one of the same group: a smaller set may use the organizer
of a larger one where every tool of it has its pocket. The pockets that it has no tool for stay empty.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from matcher.house import House
from matcher.offer.needs import Need, ToolContent, organizer_content
from matcher.offer.sizes import OrganizerSize, Ways, drawn, existing, least_foam, ways_of, work_on


@dataclass(frozen=True, slots=True)
class Sizing:
    """All needs that organizers of one group could serve, and these sizes; ``ways`` by size, then by need.

    ``needs`` are indices into the list that was given; existing sizes come first. ``tools`` is how many tools each need
    has, 0 where they are not known.
    """

    group: str
    needs: tuple[int, ...]
    tools: tuple[int, ...]
    sizes: tuple[OrganizerSize, ...]
    ways: tuple[Ways, ...]

    def served(self, ways: Ways) -> frozenset[int]:
        """Needs (indices into the list given) that these ways serve."""
        return frozenset(need for need, way in zip(self.needs, ways, strict=True) if way is not None)


def sizings_of(needs: Sequence[Need], house: House) -> tuple[Sizing, ...]:
    """Needs gathered by what could serve them together, each with its sizes, in the order of first appearance."""
    share = house.offer.empty_share
    by_content: dict[ToolContent, list[int]] = {}
    for n, need in enumerate(needs):
        by_content.setdefault(organizer_content(need.group), []).append(n)
    gathered = [{content: by_content[content] for content in some} for some in _together(by_content, share)]
    return tuple(_sizing(sorted(n for own in some.values() for n in own), some, needs, house) for some in gathered)


def _takes(larger: ToolContent, content: ToolContent, share: float) -> bool:
    """Whether an organizer for ``larger`` may be used for ``content``: at most so large a share of it stays empty."""
    return larger.holds(content) and larger.count - content.count <= share * larger.count


def _together(contents: Iterable[ToolContent], share: float) -> list[list[ToolContent]]:
    """Contents of which one takes another, directly or by way of others."""
    found: list[list[ToolContent]] = []
    for content in contents:
        linked = [
            some for some in found if any(_takes(one, content, share) or _takes(content, one, share) for one in some)
        ]
        if not linked:
            found.append([content])
            continue
        for others in linked[1:]:
            linked[0].extend(others)
            found.remove(others)
        linked[0].append(content)
    return found


def _sizing(
    indices: Sequence[int], by_content: dict[ToolContent, list[int]], needs: Sequence[Need], house: House
) -> Sizing:
    """Sizes of every content, each for the needs that it holds the tools of."""
    ready: list[tuple[OrganizerSize, Ways]] = []
    new: list[tuple[OrganizerSize, Ways]] = []
    share = house.offer.empty_share
    held = {
        content: [n for one, own in by_content.items() if _takes(content, one, share) for n in own]
        for content in by_content
    }
    for content, own in by_content.items():
        sizes = existing([needs[n] for n in own])
        ready += [(size, _masked(size, indices, held[content], needs, house)) for size in sizes]
    free = {n for _, ways in ready for n, way in zip(indices, ways, strict=True) if _is_free(way, house)}
    for content, own in by_content.items():
        wanted = [n for n in sorted(held[content]) if n not in free]
        theirs = [n for n in own if n in wanted] or own
        lesser = [needs[n] for n in wanted if n not in own]
        sizes = drawn([needs[n] for n in theirs], lesser, house) if wanted else []
        new += [(size, _masked(size, indices, held[content], needs, house)) for size in sizes]
    distinct = _distinct(new)
    first = organizer_content(needs[indices[0]].group)
    counts = {n: content.count for content, own in by_content.items() for n in own}
    return Sizing(
        group=first.name,
        needs=tuple(indices),
        tools=tuple(counts[n] for n in indices),
        sizes=(*(size for size, _ in ready), *(size for size, _ in distinct)),
        ways=(*(ways for _, ways in ready), *(ways for _, ways in distinct)),
    )


def _is_free(way: str | None, house: House) -> bool:
    """Whether an existing size that goes in so costs no work, so that no new one could be cheaper."""
    costs = {"shim": house.offer.shim_cost, "trim": house.offer.trim_cost}
    return way is not None and not costs.get(way)


def _masked(
    size: OrganizerSize, indices: Sequence[int], held: Sequence[int], needs: Sequence[Need], house: House
) -> Ways:
    """Ways into the places of the needs that it holds the tools of; ``None`` for all others."""
    ways = dict(zip(held, ways_of(size, [needs[n] for n in held], house), strict=True))
    return tuple(ways.get(n) for n in indices)


def _distinct(rows: Iterable[tuple[OrganizerSize, Ways]]) -> list[tuple[OrganizerSize, Ways]]:
    """One size for each way of serving the needs, the least foam; those for the most needs first."""
    best: dict[Ways, tuple[OrganizerSize, Ways]] = {}
    for size, ways in sorted(rows, key=lambda row: (least_foam(row[0]), row[0].pockets)):
        best.setdefault(ways, (size, ways))
    return sorted(best.values(), key=lambda row: (row[1].count(None), work_on(row[1]), least_foam(row[0])))
