"""From a cabinet's record and a plan's loads to what stands on the floor.

Where things are measured. ``Cabinet.contact_front`` is the distance from the closed drawers' faces back to the front
contact line (casters, leveling feet or plinth edge), ``contact_span`` from there back to the rear contacts,
``cg_depth`` from the faces back to the center of gravity. ``Cabinet.mass``, ``cg_depth`` and ``cg_height`` are those of
the empty cabinet with its drawers in and closed; of a chest on its base, of both as one stack. A drawer and its
contents have their center of gravity at the middle of the drawer's inside depth, and of its clear height above its
floor. Front casters that swivel are taken as turned to the rear, which moves the contact line back by ``caster_trail``.
A blocked drawer does not open and counts as part of the case. Newtons and meters.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from matcher.cautions.loads import NOTHING, DrawerLoad
from matcher.cautions.stability import Stand, Tray, WeightedPart
from matcher.cautions.wording import drawers, in_order
from matcher.house import House
from matcher.records import Cabinet, Drawer, to_kg, to_mm

GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s2."""


@dataclass(frozen=True, slots=True)
class Footing:
    """A cabinet's stand, the same with an assumed center of gravity further forward, and on what both rest.

    ``span`` in meters, ``None`` if not given. ``lean`` is what is missing for the slope check.
    """

    stand: Stand
    cautious: Stand
    span: float | None
    assumptions: tuple[str, ...]
    lean: tuple[str, ...]


def openable(cabinet: Cabinet) -> tuple[Drawer, ...]:
    """The drawers a person can pull out, by bank, row and name."""
    boxes = [drawer for drawer in cabinet.drawers if drawer.slot != "blocked"]
    return tuple(sorted(boxes, key=lambda box: (box.bank, box.row, box.name)))


def newtons(mass: int) -> float:
    """Weight of a mass."""
    return to_kg(mass) * GRAVITY


def meters(length: int) -> float:
    """A length in meters."""
    return to_mm(length) / 1000


def missing_for_tip(cabinet: Cabinet, loads: Mapping[str, DrawerLoad]) -> tuple[str, ...]:
    """What the tip checks need and the catalogue does not give, in words."""
    boxes = openable(cabinet)
    lacking = ["the cabinet's mass"] * (cabinet.mass is None)
    lacking += ["the distance from the drawer faces back to the front contact line"] * (cabinet.contact_front is None)
    if cabinet.cg_depth is None and cabinet.depth is None:
        lacking.append("the depth of the cabinet or of its center of gravity")
    for what in ("mass", "travel"):
        unknown = [box for box in boxes if getattr(box, what) is None]
        if unknown:
            lacking.append(f"the {what} of {_which(unknown, boxes)}")
    lacking += [f"the mass of {group}" for name in sorted(loads) for group in loads[name].unknown]
    return tuple(lacking)


def footing(cabinet: Cabinet, loads: Mapping[str, DrawerLoad], house: House) -> Footing | None:
    """What stands on the floor, or ``None`` where `missing_for_tip` names something or the masses contradict.

    Free drawers are empty here.
    """
    boxes = openable(cabinet)
    mass, contact = cabinet.mass, cabinet.contact_front
    if missing_for_tip(cabinet, loads) or mass is None or contact is None:
        return None
    if mass <= sum(box.mass or 0 for box in boxes):
        return None
    front = meters(contact + (cabinet.caster_trail or 0))
    trays = tuple(_tray(box, loads.get(box.name, NOTHING), front) for box in boxes)
    center = cabinet.cg_depth if cabinet.cg_depth is not None else (cabinet.depth or 0) // 2
    case = _case(newtons(mass), meters(center) - front, _center_height(cabinet), trays)
    stand = Stand(case, trays, front)
    forward = meters(house.tip.cg_forward) if cabinet.cg_depth is None else 0.0
    cautious = replace(stand, case=replace(case, arm=case.arm - forward * newtons(mass) / case.low))
    span = None if cabinet.contact_span is None else meters(cabinet.contact_span)
    return Footing(stand, cautious, span, _assumptions(cabinet, house), _missing_for_slope(cabinet))


def _tray(box: Drawer, load: DrawerLoad, front: float) -> Tray:
    return Tray(
        name=box.name,
        box=newtons(box.mass or 0),
        low=newtons(load.low),
        high=newtons(load.high),
        arm=meters(box.inside_depth) / 2 - front,
        height=meters(box.above_ground or 0) + meters(box.clear_height) / 2,
        travel=meters(box.travel or 0),
    )


def _case(mass: float, arm: float, height: float, trays: tuple[Tray, ...]) -> WeightedPart:
    """The cabinet without its drawers, so that both together have the given weight and center of gravity."""
    own = mass - sum(tray.box for tray in trays)
    turning = mass * arm - sum(tray.box * tray.arm for tray in trays)
    rising = mass * height - sum(tray.box * tray.height for tray in trays)
    return WeightedPart(own, own, turning / own, rising / own)


def _center_height(cabinet: Cabinet) -> float:
    """Height of the center of gravity; half the cabinet's where it is not given."""
    return meters(cabinet.cg_height) if cabinet.cg_height is not None else meters(cabinet.height or 0) / 2


def _missing_for_slope(cabinet: Cabinet) -> tuple[str, ...]:
    lacking = []
    if cabinet.cg_height is None and cabinet.height is None:
        lacking.append("the height of the cabinet or of its center of gravity")
    unknown = [box for box in openable(cabinet) if box.above_ground is None]
    if unknown:
        lacking.append(f"the height above the ground of {_which(unknown, openable(cabinet))}")
    return tuple(lacking)


def _which(some: Sequence[Drawer], boxes: Sequence[Drawer]) -> str:
    return "every drawer" if len(some) == len(boxes) else drawers(in_order(some))


def _assumptions(cabinet: Cabinet, house: House) -> tuple[str, ...]:
    unit = house.lengths.unit_for(cabinet.drawers)
    said = [
        "free drawers are empty unless said otherwise",
        "every drawer's contents lie at the middle of its depth",
        "of masses known between bounds, what is closed has the low one and what is open the high one",
    ]
    if cabinet.cg_depth is None:
        said.append(
            f"the empty cabinet's center of gravity, which is not given, lies at mid-depth "
            f"({unit.show((cabinet.depth or 0) // 2)} behind the drawer faces), and for the margin "
            f"{unit.show(house.tip.cg_forward)} further forward"
        )
    if cabinet.cg_height is None and cabinet.height is not None:
        said.append("on a slope, that center of gravity lies at half the cabinet's height")
    if cabinet.caster_trail is None:
        said.append("the front contacts do not swivel, as no caster trail is given")
    elif cabinet.caster_trail:
        said.append(f"swivel casters are turned to the rear, {unit.show(cabinet.caster_trail)} off their stems")
    if cabinet.stands_on:
        said.append(f"the chest and {cabinet.stands_on} under it are one stack that does not slip or part")
    return tuple(said)
