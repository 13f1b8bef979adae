"""Tools dealt out to drawers one by one, by area and load alone: what these refuse no division can help."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from matcher.house import WorkBudgets
from matcher.packing import solve

AREA_UNIT = 102_400
"""Areas are counted in square millimeters, those of tools rounded down."""


@dataclass(frozen=True, slots=True)
class DrawerRoom:
    """What a drawer offers in all: area, and load if it has a rating."""

    area: int
    load: int | None


@dataclass(frozen=True, slots=True)
class ToolNeed:
    """What one tool, or one organizer that is never divided, takes: mass, and area by drawer where it may lie."""

    mass: int
    areas: tuple[int | None, ...]


def cannot_be_dealt(needs: Mapping[ToolNeed, int], rooms: Sequence[DrawerRoom], work: WorkBudgets) -> bool:
    """Whether it is proved that what is needed cannot be dealt out to the drawers."""
    model = cp_model.CpModel()
    dealt = {
        (need, d): model.new_int_var(0, count, "")
        for need, count in needs.items()
        for d, area in enumerate(need.areas)
        if area is not None
    }
    for need, count in needs.items():
        model.add(sum(dealt[need, d] for d in range(len(rooms)) if (need, d) in dealt) == count)
    for d, room in enumerate(rooms):
        here = [need for need in needs if (need, d) in dealt]
        areas = sum((need.areas[d] or 0) // AREA_UNIT * dealt[need, d] for need in here)
        model.add(areas <= room.area // AREA_UNIT)
        if room.load is not None:
            model.add(sum(need.mass * dealt[need, d] for need in here) <= room.load)
    return solve(model, work.together / 4, work.seed).status == "infeasible"
