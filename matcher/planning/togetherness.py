"""Goal ``together``: what dividing groups and mixing families costs, and in words who is divided and who is mixed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import chain, pairwise

from matcher.house import House, SideRules
from matcher.layout import cuts_series, reading_order
from matcher.records import Drawer, Group, listed, plural


def cost_of_parts(groups: Sequence[Group], house: House) -> int:
    """Cost of the cuts between the parts of divided groups."""
    rules = house.together
    return sum(
        rules.cut if cuts_series(part, following, house.layout.sides) else rules.part
        for own in _divided(groups).values()
        for part, following in pairwise(groups[g] for g in own)
    )


def families_beyond(groups: Sequence[Group], places: Sequence[int]) -> int:
    """Families beyond the first of each drawer, over all drawers."""
    return sum(len({groups[g].family for g in held}) - 1 for held in _held(places).values())


def together_value(groups: Sequence[Group], places: Sequence[int], house: House) -> int:
    """Value of goal ``together``."""
    return cost_of_parts(groups, house) + house.together.per_family * families_beyond(groups, places)


def together_told(
    groups: Sequence[Group], drawers: Sequence[Drawer], places: Sequence[int], sides: SideRules
) -> Iterator[str]:
    """A sentence on every divided group and on every drawer that holds several families."""
    for name, own in _divided(groups).items():
        contents = _contents([groups[g] for g in own], sides)
        told = [f"{content} in {drawers[places[g]].name}" for content, g in zip(contents, own, strict=True)]
        yield f"{name} are divided: {listed(told)}"
    for d, held in sorted(_held(places).items()):
        if len({groups[g].family for g in held}) > 1:
            yield f"drawer {drawers[d].name} holds {listed([groups[g].name for g in held])} together"


def _contents(parts: Sequence[Group], sides: SideRules) -> list[str]:
    """What tells the parts of a group apart: their kinds, or from which tool to which where they share a kind."""
    read = [[part.pieces[n].piece.kind for n in reading_order(part.pieces, sides)] for part in parts]
    kinds = [list(dict.fromkeys(own)) for own in read]
    if sum(map(len, kinds)) == len(set(chain.from_iterable(kinds))):
        return [listed([plural(kind, 2) for kind in own]) for own in kinds]
    return [_from_to(part, sides) for part in parts]


def _from_to(part: Group, sides: SideRules) -> str:
    """The first tool of a part and the last, and how many there are."""
    order = reading_order(part.pieces, sides)
    first, last = (part.pieces[order[n]].piece.mark for n in (0, -1))
    return f"{first} to {last}" if first != last else f"{part.tools} x {first}"


def _divided(groups: Sequence[Group]) -> dict[str, list[int]]:
    """Indices of the parts of each divided group, in reading order."""
    parts: dict[str, list[int]] = defaultdict(list)
    for g, group in enumerate(groups):
        if group.part_of:
            parts[group.part_of].append(g)
    return {name: sorted(own, key=lambda g: _number(groups[g])) for name, own in sorted(parts.items())}


def _number(part: Group) -> int:
    """Which part of its group it is, by its name."""
    return int(part.name.removeprefix(f"{part.part_of} (").split()[0])


def _held(places: Sequence[int]) -> dict[int, list[int]]:
    held: dict[int, list[int]] = defaultdict(list)
    for g, d in enumerate(places):
        held[d].append(g)
    return held
