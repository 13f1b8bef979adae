"""How much a buyer may put into each free drawer before the cabinet tips with that drawer open.

The same moments and the same house threshold as TIP-1 and TIP-2, so that no drawer that keeps to its figure fails
them, however full the others are: each of the others holds anything from nothing to what is planned for it, or if it is
free too, to its rating. What it may hold is never more than its own rating.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import floor

from matcher.cautions import stability
from matcher.cautions.carcass import GRAVITY, Footing, footing, newtons, openable
from matcher.cautions.loads import DrawerLoad, loads_of
from matcher.cautions.stability import Stand, Tray
from matcher.cautions.wording import drawers
from matcher.house import House
from matcher.records import PER_KG, PER_LB, Cabinet, Drawer, LengthUnit, Plan


@dataclass(frozen=True, slots=True)
class FreeLoad:
    """A free drawer and the most it may hold, in 10 micrograms; ``None`` where the catalogue says too little."""

    drawer: str
    most: int | None


def free_loads_of(cabinet: Cabinet, plan: Plan, house: House) -> tuple[FreeLoad, ...]:
    """Every free drawer of a plan with the most it may hold, as `free_loads`."""
    if cabinet.beside:
        return tuple(one for half in cabinet.beside for one in free_loads_of(half, plan, house))
    loads = loads_of(plan)
    return free_loads(cabinet, loads, footing(cabinet, loads, house), house)


def free_loads(
    cabinet: Cabinet, loads: Mapping[str, DrawerLoad], base: Footing | None, house: House
) -> tuple[FreeLoad, ...]:
    """Every free drawer that opens, by bank, row and name, with the most it may hold, rounded down to 10 micrograms."""
    stand = None if base is None else _any_load(base.cautious, cabinet, loads)
    return tuple(
        FreeLoad(box.name, None if stand is None else _most(box, stand, house))
        for box in openable(cabinet)
        if box.name not in loads
    )


def _any_load(stand: Stand, cabinet: Cabinet, loads: Mapping[str, DrawerLoad]) -> Stand:
    """Every drawer from empty to its planned load; a free one to its rating, of which there is none it counts empty."""
    ratings = {box.name: newtons(box.load_rating or 0) for box in cabinet.drawers if box.name not in loads}
    trays = tuple(replace(tray, low=0.0, high=max(tray.high, ratings.get(tray.name, 0.0))) for tray in stand.trays)
    return replace(stand, trays=trays)


def _most(box: Drawer, stand: Stand, house: House) -> int:
    """In closed form: what is left of the moment with the drawer open and empty, by the arm of what goes in."""
    tray = next(tray for tray in stand.trays if tray.name == box.name)
    empty = stability.moment(stability.parts(stability.loaded(stand, box.name, 0.0), {box.name}))
    left = empty - house.tip.push_n * max(0.0, tray.travel + stand.front)
    rated = _rating_left(box)
    if _forward(tray) <= 0:
        return (rated or 0) if left > 0 else 0
    most = max(0, floor(left / _forward(tray) / GRAVITY * PER_KG))
    return most if rated is None else min(most, rated)


def _forward(tray: Tray) -> float:
    """How far in front of the contact line the contents of the open drawer lie."""
    return tray.travel - tray.arm


def _rating_left(box: Drawer) -> int | None:
    """What a drawer's rating leaves for its contents: where it means the moving mass, without the drawer itself."""
    if box.load_rating is None:
        return None
    moving = "moving" in box.rating_basis.lower()
    return max(0, box.load_rating - (box.mass or 0) * moving)


def free_load_words(loads: Sequence[FreeLoad], unit: LengthUnit) -> tuple[str, ...]:
    """Alike drawers together, e.g. ``at most 12 kg each in drawers A7 and B7``; whole kilograms, pounds with inches.

    Rounded down. Drawers of which it is not known are left out.
    """
    name, per = ("kg", PER_KG) if unit.name == "mm" else ("lb", PER_LB)
    alike: dict[int, list[str]] = {}
    for one in loads:
        if one.most is not None:
            alike.setdefault(one.most // per, []).append(one.drawer)
    return tuple(f"{_at_most(most, name, len(names))} in {drawers(names)}" for most, names in alike.items())


def _at_most(most: int, unit: str, count: int) -> str:
    return f"at most {most} {unit}{' each' * (count > 1)}" if most else "nothing"
