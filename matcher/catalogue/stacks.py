"""A chest on its base is one unit: which cabinets stand under one, and the drawers of the whole stack."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from matcher.records import Drawer


def stack(cabinet: str, bases: Mapping[str, str]) -> tuple[str, ...]:
    """The cabinet and those under it, top first; ends where a cabinet would come again."""
    names = [cabinet]
    while (base := bases.get(names[-1], "")) and base not in names:
        names.append(base)
    return tuple(names)


def unit_names(parts: Sequence[tuple[str, Sequence[str]]]) -> list[list[str]]:
    """Names of the drawers of a stack's (cabinet, drawers), top first, each name once.

    Where a name of a base is taken further up, all names of that base get the base's own name in front.
    """
    taken: set[str] = set()
    named = []
    for cabinet, drawers in parts:
        own = list(drawers)
        while taken.intersection(own):
            own = [f"{cabinet}: {name}" for name in own]
        taken.update(own)
        named.append(own)
    return named


def unit_drawers(parts: Sequence[tuple[str, Sequence[Drawer]]]) -> tuple[Drawer, ...]:
    """Drawers of a stack's (cabinet, drawers), top first, rows counted on; sorted by bank, row and name."""
    names = unit_names([(cabinet, [drawer.name for drawer in drawers]) for cabinet, drawers in parts])
    unit: list[Drawer] = []
    for (_, drawers), own in zip(parts, names, strict=True):
        above = max((drawer.row for drawer in unit), default=0)
        unit += [replace(box, name=name, row=box.row + above) for box, name in zip(drawers, own, strict=True)]
    return tuple(sorted(unit, key=lambda drawer: (drawer.bank, drawer.row, drawer.name)))
