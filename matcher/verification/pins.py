"""A planner's hard wishes about places: R11."""

from __future__ import annotations

from collections.abc import Iterator

from matcher.records import Drawer, Pin, counted, show_mm
from matcher.verification.belonging import name_of
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Scene, Seat, called


def pins_hold(scene: Scene) -> Iterator[Violation]:
    """R11: every pin of these sets and this cabinet; a blank set or cabinet means all."""
    for pin in scene.pins:
        yield from _broken(scene, pin)


def _broken(scene: Scene, pin: Pin) -> Iterator[Violation]:
    if pin.rule == "apart":
        yield from _in_one_drawer(scene, pin)
        return
    if pin.rule == "together":
        yield from _not_in_one(scene, pin)
        return
    if pin.count is not None:
        yield from _too_few_free(scene, pin, pin.count)
        return
    for seat in scene.seats:
        meant = pin.rule == "keep free" or called(scene, seat.group, pin.group)
        wrong = _means(pin, seat.drawer) != (pin.rule == "in")
        if meant and wrong:
            yield _violation(seat, f"{pin.rule} {_place(pin)}")


def _in_one_drawer(scene: Scene, pin: Pin) -> Iterator[Violation]:
    for seats in scene.held.values():
        others = [seat for seat in seats if called(scene, seat.group, pin.other)]
        for seat in seats:
            if called(scene, seat.group, pin.group) and any(other is not seat for other in others):
                yield _violation(seat, f"apart from {pin.other}")


def _not_in_one(scene: Scene, pin: Pin) -> Iterator[Violation]:
    """All that the catalogue puts in the two groups lies in one organizer; a group that is not there wants nothing."""
    one, other = ([seat for seat in scene.seats if _holds(scene, seat, name)] for name in (pin.group, pin.other))
    if one and other:
        for seat in [seat for seat in scene.seats if seat in one or seat in other][1:]:
            yield _violation(seat, f"{pin.group} together with {pin.other}, in one organizer")


def _holds(scene: Scene, seat: Seat, name: str) -> bool:
    """Whether any of a group lies here, whatever the plan calls what it lies in."""
    own = {name_of(scene.catalogue, scene.sets, sized.piece) for sized in seat.group.pieces}
    whole = {scene.belonging.whole.get(one) for one in own}
    return name in own | whole or name in (seat.group.name, seat.group.part_of)


def _too_few_free(scene: Scene, pin: Pin, count: int) -> Iterator[Violation]:
    """Of the drawers meant that may hold something, those high enough above their liner must hold nothing."""
    free = [
        drawer
        for drawer in scene.cabinet.drawers
        if drawer.slot != "blocked" and drawer.name not in scene.held and _means(pin, drawer)
        if drawer.clear_height - drawer.liner >= (pin.height or 0)
    ]
    if len(free) < count:
        height = f" of {show_mm(pin.height)}" if pin.height else ""
        text = f"free{height}: {counted(len(free), 'drawer')}; wished: {count}"
        yield Violation("R11", scene.cabinet.name, count - len(free), text)


def _violation(seat: Seat, wish: str) -> Violation:
    return Violation("R11", seat.group.name, 1, f"{seat.group.name} is in {seat.drawer.name}; wished: {wish}")


def _means(pin: Pin, drawer: Drawer) -> bool:
    """Whether the drawer, bank and row of a pin, as far as given, all mean this drawer."""
    in_bank = pin.bank is None or drawer.bank <= pin.bank <= drawer.last_bank
    return in_bank and pin.drawer in ("", drawer.name) and pin.row in (None, drawer.row)


def _place(pin: Pin) -> str:
    named = (("drawer", pin.drawer), ("bank", pin.bank), ("row", pin.row))
    return ", ".join(f"{word} {value}" for word, value in named if value not in ("", None))
