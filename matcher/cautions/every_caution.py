"""What a person should know before trusting or loading a plan: weight, tipping, lifting, fit and basis.

Every threshold is a house rule. Nothing is said to have passed for want of data: what is missing is named instead.
Cautions never change a verdict.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from matcher.cautions.fitting import basis_cautions, fit_cautions
from matcher.cautions.heavy import lift_cautions
from matcher.cautions.loads import cabinet_cautions, drawer_cautions, loads_of
from matcher.cautions.standing import standing_cautions
from matcher.cautions.tipping import caster_cautions, tip_cautions
from matcher.cautions.uncertain import uncertain_cautions
from matcher.house import House
from matcher.records import Cabinet, Caution, KeptOrganizer, Level, Plan

LEVELS: tuple[Level, ...] = ("error", "caution", "info")
"""In the order in which cautions are given."""


def cautions(cabinet: Cabinet, plan: Plan, house: House, earlier: Iterable[KeptOrganizer] = ()) -> tuple[Caution, ...]:
    """All cautions of ``plan`` in ``cabinet``: errors first, then cautions, then info; by code and text in each.

    A chest that stands on a base is one stack: ``cabinet`` holds the drawers of both, and its mass and center of
    gravity are those of both together. Organizers of ``earlier`` plans lie in drawers of their own: they weigh, all
    else about them is told with their own plan.
    """
    if cabinet.beside:
        return _by_cabinet(cabinet.beside, plan, house, earlier)
    loads = loads_of(plan, earlier)
    found = {
        *drawer_cautions(cabinet, loads, house),
        *cabinet_cautions(cabinet, loads, house),
        *caster_cautions(cabinet, loads, house),
        *tip_cautions(cabinet, loads, house),
        *lift_cautions(cabinet, plan, house),
        *fit_cautions(cabinet, plan, house),
        *basis_cautions(plan, house),
        *uncertain_cautions(cabinet, plan),
        *standing_cautions(),
    }
    return _sorted(found)


def _by_cabinet(
    beside: Iterable[Cabinet], plan: Plan, house: House, earlier: Iterable[KeptOrganizer]
) -> tuple[Caution, ...]:
    """Those of each of the cabinets that stand side by side, with its name: each bears and tips by itself."""
    always, found = set(standing_cautions()), set(standing_cautions())
    for cabinet in beside:
        own = {box.name for box in cabinet.drawers}
        held = tuple(placed for placed in plan.placements if placed.drawer in own)
        names = {placed.group for placed in held}
        groups = tuple(group for group in plan.groups if group.name in names)
        part = replace(plan, cabinet=cabinet.name, groups=groups, placements=held)
        there = [one for one in earlier if one.drawer in own]
        told = set(cautions(cabinet, part, house, there)) - always
        found |= {replace(one, text=f"{cabinet.name}: {one.text}") for one in told}
    return _sorted(found)


def _sorted(found: Iterable[Caution]) -> tuple[Caution, ...]:
    return tuple(sorted(found, key=lambda one: (LEVELS.index(one.level), one.code, one.text)))
