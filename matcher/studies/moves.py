"""Where each group of a plan could go instead: what a planner asks before moving it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from matcher.fitting import GoesIn, Shortfall, StaysOut, admit_free, larger
from matcher.planning import Fits, Outcome, matches, pins_allow, usable
from matcher.records import Drawer, Group, LengthUnit


@dataclass(frozen=True, slots=True)
class OtherDrawer:
    """What a drawer says of a group: whether it ``takes`` it by itself, and in words how, or what is short.

    ``takes`` is true as well where neither a layout nor a proof against it is known; the words say so.
    """

    drawer: str
    takes: bool
    told: str


@dataclass(frozen=True, slots=True)
class Move:
    """A group that lies in ``drawer``, or part of one that is not ``whole``, and the other drawers.

    ``name`` is what a pin calls it.
    """

    group: str
    name: str
    drawer: str
    whole: bool
    places: tuple[OtherDrawer, ...]

    @property
    def takers(self) -> tuple[OtherDrawer, ...]:
        """The drawers that take it."""
        return tuple(place for place in self.places if place.takes)


def moves(outcome: Outcome) -> tuple[Move, ...]:
    """Every placement of a plan with the drawers it might go to, in the order of the cabinet; none without a plan.

    A part of a divided group moves with the whole of it. That a drawer takes a group by itself does not say that there
    is a plan with it there.
    """
    return tuple(_moves(outcome)) if isinstance(outcome, Fits) else ()


def _moves(outcome: Fits) -> Iterator[Move]:
    question = outcome.question
    parts = {group.name: group.part_of or group.name for group in outcome.plan.groups}
    for placement in outcome.plan.placements:
        whole = next(group for group in question.groups if group.name == parts[placement.group])
        name = whole.name if any(group.name == whole.name for group in question.unjoined) else whole.also[0]
        others = (drawer for drawer in usable(question.cabinet) if drawer.name != placement.drawer)
        places = tuple(_place(outcome, whole, other) for other in others)
        yield Move(placement.group, name, placement.drawer, placement.group == whole.name, places)


def _place(outcome: Fits, group: Group, drawer: Drawer) -> OtherDrawer:
    question = outcome.question
    wishes = [pin for pin in question.pins if pin.rule == "not in"]
    if not pins_allow(wishes, group, drawer):
        return OtherDrawer(drawer.name, False, "a wish keeps it out")
    if any(pin.rule == "keep free" and pin.count is None and matches(pin, drawer) for pin in question.pins):
        return OtherDrawer(drawer.name, False, "kept free")
    fit = admit_free(group, drawer, question.house)
    if isinstance(fit, GoesIn):
        told = "goes in as cases" if group.cased else "order lost" if fit.alone.how == "unordered" else "goes in"
        return OtherDrawer(drawer.name, True, told)
    if isinstance(fit, StaysOut):
        return OtherDrawer(drawer.name, False, _short(fit.shortfall, drawer, question.unit))
    return OtherDrawer(drawer.name, True, "not known whether it goes in")


def _short(lacking: Shortfall, drawer: Drawer, unit: LengthUnit) -> str:
    """What the drawer lacks."""
    if lacking.axis == "slot":
        return "takes no foam" if drawer.slot == "no foam" else "is for foam, not for cases"
    if lacking.axis == "load":
        return f"too heavy by {unit.in_mass(lacking.short)}"
    if lacking.enough:
        return f"would have to be {larger(lacking.enough, unit)}"
    return f"too small in {lacking.axis}" + (f" by {unit.needed(lacking.short)}" if lacking.axis != "area" else "")
