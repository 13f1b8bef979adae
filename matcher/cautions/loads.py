"""What each drawer and the whole cabinet carries under a plan, against the maker's ratings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import reduce

from matcher.cautions.wording import drawers, in_order, listed
from matcher.house import House
from matcher.records import Cabinet, Caution, Drawer, KeptOrganizer, LengthUnit, Plan

ASK_BASIS = (
    "rating basis not given: ask the maker whether it means contents or moving mass, static or dynamic, per drawer or "
    "per pair of slides"
)


@dataclass(frozen=True, slots=True)
class DrawerLoad:
    """Contents of a drawer, organizer included, between two bounds in 10 micrograms; ``unknown`` groups not counted."""

    low: int = 0
    high: int = 0
    unknown: tuple[str, ...] = ()

    def plus(self, other: DrawerLoad) -> DrawerLoad:
        """Both together."""
        return DrawerLoad(self.low + other.low, self.high + other.high, self.unknown + other.unknown)


NOTHING = DrawerLoad()


def loads_of(plan: Plan, earlier: Iterable[KeptOrganizer] = ()) -> Mapping[str, DrawerLoad]:
    """Load of every drawer that the plan uses, by name, and of those that hold something from earlier plans.

    What has a mass of 0 has no known mass.
    """
    groups = {group.name: group for group in plan.groups}
    found: dict[str, DrawerLoad] = {}
    for placement in sorted(plan.placements, key=lambda one: (one.drawer, one.group)):
        group = groups[placement.group]
        own = DrawerLoad(group.mass_low, group.mass_high) if group.mass_high else DrawerLoad(unknown=(group.name,))
        found[placement.drawer] = found.get(placement.drawer, NOTHING).plus(own)
    for kept in earlier:
        own = DrawerLoad(kept.mass_low, kept.mass_high) if kept.mass_high else DrawerLoad(unknown=(kept.made.group,))
        found[kept.drawer] = found.get(kept.drawer, NOTHING).plus(own)
    return found


def total(loads: Mapping[str, DrawerLoad]) -> DrawerLoad:
    """All drawers together."""
    return reduce(DrawerLoad.plus, loads.values(), NOTHING)


# ----------------------------------------------------------------------------------------------------------- drawers


def drawer_cautions(cabinet: Cabinet, loads: Mapping[str, DrawerLoad], house: House) -> Iterator[Caution]:
    """LOAD-D: contents and organizer against each drawer's rating, on the high bound of the mass."""
    used = [drawer for drawer in cabinet.drawers if drawer.name in loads]
    unit = house.lengths.unit_for(cabinet.drawers)
    for drawer in used:
        yield from _drawer(drawer, loads[drawer.name], house, unit)
    unrated = [drawer for drawer in used if drawer.load_rating is None]
    if unrated:
        names = drawers(in_order(unrated))
        yield Caution("DATA", "info", f"Load against rating not evaluated for {names}: no load rating given.")


def _drawer(drawer: Drawer, load: DrawerLoad, house: House, unit: LengthUnit) -> Iterator[Caution]:
    moving = "moving" in drawer.rating_basis.lower()
    missing = [f"mass of {group}" for group in load.unknown]
    missing += ["the drawer's own mass (part of what its rating means)"] * (moving and drawer.mass is None)
    if drawer.load_rating is None:
        return
    own = DrawerLoad(drawer.mass, drawer.mass) if moving and drawer.mass is not None else NOTHING
    carried = load.plus(own)
    if missing and carried.high <= drawer.load_rating:
        yield Caution("DATA", "info", f"Load of drawer {drawer.name} not evaluated: {listed(missing)} not given.")
    else:
        yield from _rated(drawer, carried, drawer.load_rating, house, unit)


def _rated(drawer: Drawer, load: DrawerLoad, rating: int, house: House, unit: LengthUnit) -> Iterator[Caution]:
    carries = f"Drawer {drawer.name} carries {unit.masses(load.low, load.high)}"
    basis = f"rating basis: {drawer.rating_basis}" if drawer.rating_basis else ASK_BASIS
    if load.high > rating:
        weigh = " The bounds of the mass lie on both sides of it: weigh the pieces." if load.low <= rating else ""
        yield Caution("LOAD-D", "error", f"{carries}, above its rating of {unit.in_mass(rating)} ({basis}).{weigh}")
    elif rating and load.high / rating >= house.caution_share:
        share = f"{load.high / rating:.0%} of its rating of {unit.in_mass(rating)}"
        yield Caution("LOAD-D", "caution", f"{carries}, {share} ({basis}).")


# ----------------------------------------------------------------------------------------------------------- cabinet


def cabinet_cautions(cabinet: Cabinet, loads: Mapping[str, DrawerLoad], house: House) -> Iterator[Caution]:
    """LOAD-C: gross mass against the cabinet's rating."""
    rating, contents, unit = cabinet.load_rating, total(loads), house.lengths.unit_for(cabinet.drawers)
    missing = [f"the mass of {group}" for group in sorted(contents.unknown)]
    missing += ["the cabinet's load rating"] * (rating is None) + ["the cabinet's own mass"] * (cabinet.mass is None)
    if rating is not None and contents.high > rating:
        carried = unit.masses(contents.low, contents.high)
        text = f"The drawers together carry {carried}, above the cabinet's rating of {unit.in_mass(rating)}."
        yield Caution("LOAD-C", "error", text)
    elif rating is not None and cabinet.mass is not None and contents.high + cabinet.mass > rating:
        yield Caution("LOAD-C", "error", _gross(contents, cabinet.mass, rating, unit))
    elif missing:
        yield Caution("DATA", "info", f"Load of the whole cabinet not evaluated: {listed(missing)} not given.")


def _gross(contents: DrawerLoad, own: int, rating: int, unit: LengthUnit) -> str:
    return (
        f"The cabinet and its contents weigh {unit.masses(contents.low + own, contents.high + own)}, above its rating "
        f"of {unit.in_mass(rating)}. The rating is taken to include the cabinet's own {unit.in_mass(own)}; "
        f"if its maker means contents alone, {unit.masses(contents.low, contents.high)} is within it."
    )
