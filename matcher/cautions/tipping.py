"""TIP-1, TIP-2, TIP-N, TIP-S and the casters: a cabinet with drawers open, in words.

None of the published tests covers a mobile tool cabinet as such; their methods are borrowed and their thresholds are
house thresholds. On a level floor the height of a drawer does not enter, so no text here advises 'heavy low' against
open drawers.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from matcher.cautions import stability
from matcher.cautions.carcass import GRAVITY, Footing, footing, missing_for_tip, newtons, openable
from matcher.cautions.free_loads import free_load_words, free_loads
from matcher.cautions.loads import NOTHING, DrawerLoad, total
from matcher.cautions.stability import Stand
from matcher.cautions.wording import drawers, force, in_order, listed, lowered
from matcher.house import House
from matcher.records import Cabinet, Caution, LengthUnit, Level, kg

IF_LOADED = "If a free drawer is loaded to its full rating"
"""How the words begin that are not about the plan, but about what a buyer may do."""
FEWEST_OPEN = 2
"""Where not even this many drawers may be open together it is a caution: one is easily left open."""


@dataclass(frozen=True, slots=True)
class OpenDrawer:
    """One drawer pulled out: the moment that is left and the push at its front that tips, both per `stability`."""

    name: str
    moment: float
    push: float

    @property
    def tips(self) -> bool:
        """Whether the cabinet falls with nobody touching it."""
        return self.moment <= 0

    def weak(self, push: float) -> bool:
        """Whether it tips by itself or under less than ``push``."""
        return self.tips or self.push < push


def tip_cautions(cabinet: Cabinet, loads: Mapping[str, DrawerLoad], house: House) -> Iterator[Caution]:
    """All tip checks, or what is missing for them. Nothing is ever said to have passed for want of data."""
    if not openable(cabinet):
        return
    base = footing(cabinet, loads, house)
    if base is None:
        yield _not_evaluated("Tip check", missing_for_tip(cabinet, loads))
        return
    yield Caution("DATA", "info", f"The tip checks assume: {'; '.join(base.assumptions)}.")
    yield from _planned(cabinet, base, loads, house)
    yield from _free_loaded(cabinet, base, loads, house)
    yield from _alone(cabinet, base, loads, house)
    yield _together(base)
    yield from _slope(base, house)


def _not_evaluated(what: str, missing: Sequence[str]) -> Caution:
    why = f"{listed(missing)} not given" if missing else "its drawers are said to weigh as much as the whole cabinet"
    return Caution("DATA", "info", f"{what} not evaluated: {why}.")


def opened(stand: Stand, name: str) -> OpenDrawer:
    """The one drawer ``name`` pulled out of ``stand``."""
    left = stability.moment(stability.parts(stand, {name}))
    return OpenDrawer(name, left, stability.push_to_tip(stand, name))


def _worst(openings: Sequence[OpenDrawer]) -> OpenDrawer:
    return min(openings, key=lambda one: (not one.tips, one.push))


# -------------------------------------------------------------------------------------------- one drawer at its load


def _planned(cabinet: Cabinet, base: Footing, loads: Mapping[str, DrawerLoad], house: House) -> Iterator[Caution]:
    """TIP-1: any one drawer open at its planned load, free drawers empty."""
    names = in_order(openable(cabinet))
    openings = [opened(base.stand, name) for name in names]
    careful = [opened(base.cautious, name) for name in names]
    unit = house.lengths.unit_for(cabinet.drawers)
    failing = _finding(openings, loads, house, unit, " as planned")
    doubtful = _finding(careful, loads, house, unit, f" as planned, and {_further_forward(cabinet, house)}")
    if failing:
        spread = "Spread the load over more drawers, or anchor the cabinet."
        remedy = (
            spread if _worst(openings).name in loads else "Anchor the cabinet, or weigh it down as its maker allows."
        )
        yield Caution("TIP-1", "error", f"{failing} {remedy}")
    elif doubtful:
        yield Caution("TIP-1", "caution", f"{doubtful} Find the center of gravity or anchor the cabinet.")
    else:
        yield Caution("TIP-1", "info", _margin(_worst(careful), house))


def _further_forward(cabinet: Cabinet, house: House) -> str:
    forward = house.lengths.unit_for(cabinet.drawers).show(house.tip.cg_forward)
    return f"the assumed center of gravity {forward} further forward"


def _margin(worst: OpenDrawer, house: House) -> str:
    return (
        f"With any one drawer open as planned it takes a downward push of at least {force(worst.push)} at its front to "
        f"tip the cabinet (least for drawer {worst.name}; house threshold {force(house.tip.push_n)}). Computed for a "
        "level floor, not tested."
    )


def _finding(
    openings: Sequence[OpenDrawer],
    loads: Mapping[str, DrawerLoad],
    house: House,
    unit: LengthUnit,
    case: str,
    among: str = "drawer",
) -> str:
    """What happens at the worst drawer and which others fall short too; nothing if none does."""
    weak = [one for one in openings if one.weak(house.tip.push_n)]
    if not weak:
        return ""
    worst = _worst(weak)
    load = loads.get(worst.name, NOTHING)
    holding = f"holding {unit.masses(load.low, load.high)}" if load.high else "empty"
    text = f"With drawer {worst.name} open, {holding}{case}, {_event(worst, house)}"
    others = [one.name for one in weak if one.name != worst.name]
    which = f"every other {among}" if len(weak) == len(openings) else drawers(others)
    return f"{text} The same check fails for {which}." if others else text


def _event(one: OpenDrawer, house: House) -> str:
    if one.tips:
        return "the cabinet tips over by itself."
    return (
        f"a downward push of {force(one.push)} at its front tips the cabinet; the house threshold is "
        f"{force(house.tip.push_n)}."
    )


# ------------------------------------------------------------------------------------- free drawers, drawers alone


def _free_loaded(cabinet: Cabinet, base: Footing, loads: Mapping[str, DrawerLoad], house: House) -> Iterator[Caution]:
    """TIP-1 for free drawers at their rating, the others as planned."""
    free = [box for box in openable(cabinet) if box.name not in loads]
    unrated = [box for box in free if box.load_rating is None]
    if unrated:
        names = drawers(in_order(unrated))
        yield _not_evaluated(f"Tip check with {names} (free) loaded by the buyer", ["load rating"])
    full = {box.name: DrawerLoad(box.load_rating, box.load_rating) for box in free if box.load_rating is not None}
    stands = {name: stability.loaded(base.cautious, name, newtons(load.high)) for name, load in full.items()}
    openings = [opened(stand, name) for name, stand in stands.items()]
    unit = house.lengths.unit_for(cabinet.drawers)
    text = _finding(openings, full, house, unit, " and the others as planned", "free drawer")
    if text:
        text = f"{IF_LOADED}, the cabinet can tip: {lowered(text)}"
        yield Caution("TIP-1", "caution", f"{text} {_keep_to(cabinet, loads, base, house)}")


def _keep_to(cabinet: Cabinet, loads: Mapping[str, DrawerLoad], base: Footing, house: House) -> str:
    """How much free drawers may hold instead."""
    told = free_load_words(free_loads(cabinet, loads, base, house), house.lengths.unit_for(cabinet.drawers))
    return f"However full the others are, it stands with {listed(told)}."


def _alone(cabinet: Cabinet, base: Footing, loads: Mapping[str, DrawerLoad], house: House) -> Iterator[Caution]:
    """TIP-2: only that drawer loaded, at its planned load or, if free, at its rating; the others empty."""
    rated = {box.name: box.load_rating for box in openable(cabinet) if box.load_rating is not None}
    full = dict(loads) | {name: DrawerLoad(mass, mass) for name, mass in rated.items() if name not in loads}
    alone = []
    for name in in_order(openable(cabinet)):
        stand = stability.only_loaded(base.cautious, name)
        if name not in loads:
            stand = stability.loaded(stand, name, newtons(full.get(name, NOTHING).high))
        alone.append(opened(stand, name))
    unit = house.lengths.unit_for(cabinet.drawers)
    text = _finding(alone, full, house, unit, " and every other drawer empty")
    if text and _worst(alone).name not in loads:
        yield Caution("TIP-2", "caution", f"{IF_LOADED} and nothing else is in: {lowered(text)}")
    elif text:
        free = " Free drawers are taken at their full rating here." * any(name not in loads for name in full)
        yield Caution("TIP-2", "caution", text + free)


def _together(base: Footing) -> Caution:
    """TIP-N: how many of the heaviest drawers may be open together."""
    most, names = stability.most_open(base.cautious), stability.heaviest_first(base.cautious)
    level: Level = "info" if most >= min(FEWEST_OPEN, len(names)) else "caution"
    one = "Open one drawer at a time all the same, unless an interlock sees to it."
    if most == len(names):
        every = f"all {most} drawers open together leave" if most > 1 else "the only drawer, open, leaves"
        return Caution("TIP-N", level, f"At planned loads {every} it standing. {one}")
    tipping = f"with {drawers(names[: most + 1])} open it tips over by itself"
    if most == 0:
        return Caution("TIP-N", level, f"Open none of the heaviest drawers before it is anchored: {tipping}.")
    return Caution(
        "TIP-N",
        level,
        f"Open at most {most} at a time, whichever they are: {tipping}, planned loads and level floor. {one}",
    )


def _slope(base: Footing, house: House) -> Iterator[Caution]:
    """TIP-S: floor slope towards the front that tips with any one drawer open."""
    if base.lean:
        yield _not_evaluated("Tipping on a sloping floor", base.lean)
        return
    limits = [
        (stability.slope_limit(stability.parts(base.cautious, {name})), name)
        for name in sorted(tray.name for tray in base.cautious.trays)
    ]
    limit, name = min(limits)
    if 0 < limit < house.tip.slope_deg:
        yield Caution(
            "TIP-S",
            "caution",
            f"With drawer {name} open the cabinet tips on a floor that falls {limit:.1f} degrees to the front (house "
            f"threshold {house.tip.slope_deg:g}). Stand it level; on a slope heavy drawers high up make it worse.",
        )


# ----------------------------------------------------------------------------------------------------------- casters


def caster_cautions(cabinet: Cabinet, loads: Mapping[str, DrawerLoad], house: House) -> Iterator[Caution]:
    """LOAD-C: a third of the gross mass, and half the front reaction with any one drawer open, against one caster.

    The third because of four casters only three are sure to touch the floor.
    """
    contents, base = total(loads), footing(cabinet, loads, house)
    carried = []
    if cabinet.mass is not None and not contents.unknown:
        carried.append((newtons(cabinet.mass + contents.high) / 3, "if only three casters touch the floor"))
    if base is not None and base.span:
        carried.append(_front_caster(base.cautious, base.span))
    if cabinet.caster_load is not None and carried and max(carried)[0] > newtons(cabinet.caster_load):
        most, when = max(carried)
        unit = house.lengths.unit_for(cabinet.drawers)
        text = f"One caster carries up to {unit.in_mass(kg(most / GRAVITY))} {when}, above its rating"
        yield Caution("LOAD-C", "error", f"{text} of {unit.in_mass(cabinet.caster_load)}.")
    elif cabinet.caster_load is None:
        yield _not_evaluated("Caster load", ["the load rating of a caster"])
    elif base is None or not base.span:
        missing = [
            *missing_for_tip(cabinet, loads),
            *["the distance from front to rear contacts"] * (not cabinet.contact_span),
        ]
        yield _not_evaluated("Load of a front caster with a drawer open", missing)


def _front_caster(stand: Stand, span: float) -> tuple[float, str]:
    """Most that one of two front casters carries with one drawer open, and when."""
    reactions = [
        (stability.front_reaction(stability.parts(stand, {tray.name}), span) / 2, tray.name) for tray in stand.trays
    ]
    most, name = max(reactions, default=(0.0, ""))
    return most, f"at the front with drawer {name} open"
