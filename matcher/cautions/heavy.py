"""LIFT and HIGH: single heavy pieces and where a person has to lift them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from matcher.cautions.lifting import METRIC, Lift, assumed_reach, lifting_index, recommended_weight
from matcher.cautions.wording import drawers, height, in_order
from matcher.fitting import hand_height
from matcher.house import House
from matcher.records import Cabinet, Caution, Drawer, LengthUnit, Plan, SizedPiece, kg, to_kg, to_mm

GOAL = 1.0
"""Lifting index not to be exceeded (DHHS (NIOSH) 94-110, p. 20)."""


@dataclass(frozen=True, slots=True)
class Heavy:
    """A single heavy piece in its drawer; ``hand`` is the hands' height above the ground, ``None`` if not known.

    ``unit`` is what it is told in.
    """

    piece: SizedPiece
    drawer: Drawer
    hand: int | None
    unit: LengthUnit

    @property
    def words(self) -> str:
        """Where it is, what it is and what it weighs."""
        piece = self.piece.piece
        name = " ".join(filter(None, (piece.tool, piece.size)))
        return f"Drawer {self.drawer.name}: {name} ({self.unit.masses(self.piece.mass_low, self.piece.mass_high)})"


def heavy_pieces(cabinet: Cabinet, plan: Plan, house: House) -> tuple[Heavy, ...]:
    """Pieces that weigh as much as a lift, on the high bound of their mass."""
    boxes = {drawer.name: drawer for drawer in cabinet.drawers}
    groups, unit = {group.name: group for group in plan.groups}, house.lengths.unit_for(cabinet.drawers)
    return tuple(
        Heavy(piece, boxes[placement.drawer], hand_height(boxes[placement.drawer], placement.height), unit)
        for placement in plan.placements
        for piece in groups[placement.group].pieces
        if piece.mass_high >= house.lift.mass
    )


def lift_cautions(cabinet: Cabinet, plan: Plan, house: House) -> Iterator[Caution]:
    """LIFT by the lifting equation for pieces marked ``two_hands``, else a plain note; HIGH above shoulder height."""
    found = heavy_pieces(cabinet, plan, house)
    for heavy in found:
        if not heavy.piece.piece.two_hands:
            yield Caution("LIFT", "info", _plain_note(heavy, house))
        elif heavy.hand is not None:
            yield _two_handed(heavy, heavy.hand, house)
        if heavy.hand is not None and heavy.hand > house.height.shoulder:
            yield Caution("HIGH", "caution", _too_high(heavy, heavy.hand, house))
    lost = {heavy.drawer.name: heavy.drawer for heavy in found if heavy.hand is None}
    if lost:
        names = drawers(in_order(list(lost.values())))
        text = f"Lifting out of {names} not evaluated: height above the ground not given."
        yield Caution("DATA", "info", text)


def _plain_note(heavy: Heavy, house: House) -> str:
    at = "" if heavy.hand is None else f", here lifted at {height(heavy.hand)}"
    best = f"{height(house.height.knuckle)} to {height(house.height.elbow)}"
    return (
        f"{heavy.words} is a single heavy piece{at}. Near the front of a drawer it is lifted best, at a hand height of "
        f"{best}. The lifting equation does not hold for one-handed lifts and was not applied."
    )


def _too_high(heavy: Heavy, hand: int, house: House) -> str:
    return (
        f"{heavy.words} is a single heavy piece that has to be lifted down from {height(hand)}, above the shoulder of "
        f"a short user ({height(house.height.shoulder)}). Give it a lower drawer."
    )


def two_handed_lift(heavy: Heavy, hand: int, house: House) -> Lift:
    """The lift out of the drawer to the bench, in centimeters, seen at its start."""
    rules, height_cm = house.lift, to_mm(hand) / 10
    return Lift(
        reach=assumed_reach(rules.reach_share * to_mm(heavy.drawer.inside_depth) / 10, height_cm),
        height=height_cm,
        start=height_cm,
        travel=abs(to_mm(rules.bench) / 10 - height_cm),
        twist=rules.twist_deg,
        per_minute=rules.per_minute,
        hours=rules.hours,
        grip=rules.grip,
    )


def _two_handed(heavy: Heavy, hand: int, house: House) -> Caution:
    lift, load = two_handed_lift(heavy, hand, house), to_kg(heavy.piece.mass_high)
    recommended = recommended_weight(lift, METRIC)
    index = lifting_index(load, recommended)
    assumed = _assumed(lift, hand, house)
    if index is None:
        text = f"{heavy.words} is not liftable there: the revised NIOSH equation recommends no weight at all"
        return Caution("LIFT", "caution", f"{text}; {assumed}. {_remedy(heavy)}")
    most = heavy.unit.in_mass(kg(recommended))
    text = f"{heavy.words} is a two-handed lift; the revised NIOSH equation recommends at most {most} there"
    if index > GOAL:
        return Caution("LIFT", "caution", f"{text} (lifting index {index:.2f}, above 1); {assumed}. {_remedy(heavy)}")
    return Caution("LIFT", "info", f"{text} (lifting index {index:.2f}); {assumed}.")


def _remedy(heavy: Heavy) -> str:
    best = kg(METRIC.load)
    if heavy.piece.mass_high > best:
        most = heavy.unit.in_mass(best).replace(".0 ", " ")
        return f"It is more than the {most} recommended at best: lift it with a hoist or with two people."
    return "It is easier near the front, and in a drawer between knuckle and bench height."


def _assumed(lift: Lift, hand: int, house: House) -> str:
    return (
        f"assumed: hands {lift.reach * 10:.0f} mm in front of the ankles and {height(hand)} above the ground, bench at "
        f"{height(house.lift.bench)}, {lift.per_minute:g} lifts a minute for up to {lift.hours:g} h, {lift.grip} grip, "
        f"{lift.twist:g} degrees of twist"
    )
