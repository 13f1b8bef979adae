"""What each drawer and the whole cabinet carries under a plan, against the maker's ratings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from matcher.cautions.wording import drawers, in_order, listed, mass_range
from matcher.house import House
from matcher.records import Cabinet, Caution, Drawer, Plan
from matcher.units import show_kg

ASK_BASIS = (
    "the catalogue does not say what the rating means: ask the maker whether contents or moving mass, static or "
    "dynamic, per drawer or per pair of slides"
)


@dataclass(frozen=True, slots=True)
class Load:
    """Contents of a drawer, organizer included, between two bounds in 10 micrograms; ``unknown`` groups not counted."""

    low: int = 0
    high: int = 0
    unknown: tuple[str, ...] = ()

    def plus(self, other: Load) -> Load:
        """Both together."""
        return Load(self.low + other.low, self.high + other.high, self.unknown + other.unknown)


NOTHING = Load()


def loads_of(plan: Plan) -> Mapping[str, Load]:
    """Load of every drawer that the plan uses, by name. A group whose mass is 0 has no known mass."""
    groups = {group.name: group for group in plan.groups}
    found: dict[str, Load] = {}
    for placement in plan.placements:
        group = groups[placement.group]
        own = Load(group.mass_low, group.mass_high) if group.mass_high else Load(unknown=(group.name,))
        found[placement.drawer] = found.get(placement.drawer, NOTHING).plus(own)
    return found


def total(loads: Mapping[str, Load]) -> Load:
    """All drawers together."""
    return sum_of(loads[name] for name in sorted(loads))


def sum_of(loads: Iterator[Load]) -> Load:
    """Loads added up."""
    both = NOTHING
    for load in loads:
        both = both.plus(load)
    return both


# ----------------------------------------------------------------------------------------------------------- drawers


def drawer_cautions(cabinet: Cabinet, loads: Mapping[str, Load], house: House) -> Iterator[Caution]:
    """LOAD-D: contents and organizer against each drawer's rating, on the high bound of the mass."""
    used = [drawer for drawer in cabinet.drawers if drawer.name in loads]
    for drawer in used:
        missing = _missing(drawer, loads[drawer.name])
        if missing:
            yield Caution("DATA", "info", f"Load of drawer {drawer.name} not evaluated: {listed(missing)} not given.")
        elif drawer.load_rating is not None:
            yield from _rated(drawer, loads[drawer.name], drawer.load_rating, house)
    unrated = [drawer for drawer in used if drawer.load_rating is None and not _missing(drawer, loads[drawer.name])]
    if unrated:
        names = drawers(in_order(unrated))
        yield Caution("DATA", "info", f"Load against rating not evaluated for {names}: no load rating given.")


def _missing(drawer: Drawer, load: Load) -> list[str]:
    lacking = [f"mass of {group}" for group in load.unknown]
    if _moving(drawer) and drawer.mass is None:
        lacking.append("the drawer's own mass, which its rating includes,")
    return lacking


def _moving(drawer: Drawer) -> bool:
    return "moving" in drawer.rating_basis.lower()


def _rated(drawer: Drawer, load: Load, rating: int, house: House) -> Iterator[Caution]:
    own = (drawer.mass or 0) if _moving(drawer) else 0
    low, high = load.low + own, load.high + own
    carries = f"Drawer {drawer.name} carries {mass_range(low, high)}"
    basis = f"rating basis: {drawer.rating_basis}" if drawer.rating_basis else ASK_BASIS
    if high > rating:
        weigh = " The bounds of the mass lie on both sides of it: weigh the pieces." if low <= rating else ""
        yield Caution("LOAD-D", "error", f"{carries}, above its rating of {show_kg(rating)} ({basis}).{weigh}")
    elif rating and high / rating >= house.caution_share:
        share = f"{high / rating:.0%} of its rating of {show_kg(rating)}"
        yield Caution("LOAD-D", "caution", f"{carries}, {share} ({basis}).")


# ----------------------------------------------------------------------------------------------------------- cabinet


def cabinet_cautions(cabinet: Cabinet, loads: Mapping[str, Load]) -> Iterator[Caution]:
    """LOAD-C: gross mass against the cabinet's rating."""
    rating, contents = cabinet.load_rating, total(loads)
    missing = [f"mass of {group}" for group in sorted(contents.unknown)]
    missing += ["the cabinet's load rating"] * (rating is None) + ["the cabinet's own mass"] * (cabinet.mass is None)
    if rating is not None and contents.high > rating:
        carried = mass_range(contents.low, contents.high)
        yield Caution(
            "LOAD-C", "error", f"The drawers together carry {carried}, above the cabinet's rating of {show_kg(rating)}."
        )
    elif rating is None or cabinet.mass is None or contents.unknown:
        yield Caution("DATA", "info", f"Load of the whole cabinet not evaluated: {listed(missing)} not given.")
    elif contents.high + cabinet.mass > rating:
        gross = mass_range(contents.low + cabinet.mass, contents.high + cabinet.mass)
        yield Caution(
            "LOAD-C",
            "error",
            f"The cabinet and its contents weigh {gross}, above its rating of {show_kg(rating)}. The rating is taken to "
            f"include the cabinet's own {show_kg(cabinet.mass)}; if its maker means contents alone, "
            f"{mass_range(contents.low, contents.high)} is within it.",
        )
