"""Changes that can only help: after each of them what fit still fits, and divides and mixes no more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from random import Random

from matcher.house.rules import House
from matcher.planning.deciding import Decided, decide_drawers
from matcher.planning.question import ask
from matcher.records.given import Cabinet, Catalogue, Drawer
from matcher.records.units import mm
from tests.builders import HOUSE


def decided(catalogue: Catalogue, house: House = HOUSE) -> Decided:
    """The verdict on all sets of the catalogue together in its first cabinet."""
    sets = dict.fromkeys(piece.set for piece in catalogue.pieces)
    return decide_drawers(ask(catalogue, house, "+".join(sets), catalogue.cabinets[0].name))


def helped(catalogue: Catalogue, seed: int) -> Iterator[tuple[str, Catalogue]]:
    """The catalogue of one cabinet after each change, with what was changed."""
    random, (cabinet, *_) = Random(seed), catalogue.cabinets
    foam = [drawer for drawer in cabinet.drawers if drawer.slot == "foam"]
    one = random.choice(foam or cabinet.drawers)
    yield "a drawer larger", _with(catalogue, cabinet, [_larger(d) if d is one else d for d in cabinet.drawers])
    yield "a drawer more", _with(catalogue, cabinet, [*cabinet.drawers, _below(cabinet, one)])
    if len(catalogue.pieces) > 1:
        left = random.randrange(len(catalogue.pieces))
        yield "a row fewer", replace(catalogue, pieces=catalogue.pieces[:left] + catalogue.pieces[left + 1 :])
    yield "no pins", replace(catalogue, pins=())


def _with(catalogue: Catalogue, cabinet: Cabinet, drawers: list[Drawer]) -> Catalogue:
    return replace(catalogue, cabinets=(replace(cabinet, drawers=tuple(drawers)),))


def _larger(drawer: Drawer) -> Drawer:
    """As it was and 20 mm wider, deeper and higher; what is built in stays where it is."""
    return replace(
        drawer,
        inside_width=drawer.inside_width + mm(20),
        inside_depth=drawer.inside_depth + mm(20),
        clear_height=drawer.clear_height + mm(20),
    )


def _below(cabinet: Cabinet, like: Drawer) -> Drawer:
    """Another such drawer in a row below all others."""
    return replace(like, name="one more", row=max(drawer.row for drawer in cabinet.drawers) + 1)
