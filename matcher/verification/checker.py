"""All hard rules in one place, each a function from the scene to its violations."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from matcher.house import House
from matcher.records import Catalogue, Plan
from matcher.verification.bases import base_shows
from matcher.verification.contents import free_drawers_told, groups_placed_once, pieces_placed_once, slots_respected
from matcher.verification.drawers import (
    corners_kept,
    heights_kept,
    loads_kept,
    obstructions_kept,
    organizers_apart,
    sharing_allowed,
    walls_kept,
)
from matcher.verification.hard_rules import Violation
from matcher.verification.pins import pins_hold
from matcher.verification.pockets import pockets_fit
from matcher.verification.scene import Scene, scene_of
from matcher.verification.sequence import order_kept
from matcher.verification.ways import ways_told_truly
from matcher.verification.webs import margins_kept, webs_kept

CHECKS: Mapping[str, Callable[[Scene], Iterator[Violation]]] = MappingProxyType(
    {
        "R1": pieces_placed_once,
        "R2": groups_placed_once,
        "R3": slots_respected,
        "R4": walls_kept,
        "R5": heights_kept,
        "R6": organizers_apart,
        "R7": sharing_allowed,
        "R8": loads_kept,
        "R9": obstructions_kept,
        "R10": corners_kept,
        "R11": pins_hold,
        "R12": webs_kept,
        "R13": margins_kept,
        "R14": pockets_fit,
        "R15": ways_told_truly,
        "R16": order_kept,
        "R17": free_drawers_told,
        "R18": base_shows,
    }
)


def verify(catalogue: Catalogue, house: House, plan: Plan) -> tuple[Violation, ...]:
    """Violations of the hard rules, by rule number; none means that the plan holds.

    Shares nothing with the modules that make plans: every rule is derived anew from the catalogue, the house rules and
    the numbers of the plan.
    """
    scene = scene_of(catalogue, house, plan)
    if scene is None:
        return (Violation("R2", plan.cabinet, 1, f"{plan.cabinet} is no cabinet of the catalogue"),)
    return tuple(violation for check in CHECKS.values() for violation in check(scene))
