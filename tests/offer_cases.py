"""Plans made by hand for the tests of the offer: one organizer per drawer unless told otherwise, no pieces."""

from dataclasses import replace

from matcher.planning.outcome import Fits, Outcome, Undecided
from matcher.records.answered import Placement, Reason
from matcher.records.given import Catalogue, Demand, Organizer
from matcher.records.laid_out import Layout, Notch
from matcher.records.units import mm
from tests import builders
from tests.builders import HOUSE, RUN


def with_offer(**rules):
    """The default house with other rules for the offer."""
    return replace(HOUSE, offer=replace(HOUSE.offer, **rules))


def _layout(width, depth, height):
    """One notch as large as its field: something to cut, of no piece."""
    ring = ((0, 0), (width, 0), (width, depth), (0, depth))
    return Layout(width, depth, height, (), notches=(Notch(ring, mm(20), ()),))


def filled(group, drawer, field=(300, 200), height=40, organizer: Organizer | None = None, how="new"):
    """A placement that fills its drawer; ``field`` in millimeters."""
    side = HOUSE.clearance.side
    width, depth = drawer.inside_width - 2 * side, drawer.inside_depth - 2 * side
    layout = None if organizer else _layout(mm(field[0]), mm(field[1]), mm(height))
    if organizer:
        width, depth = min(width, organizer.width), min(depth, organizer.depth)
    return Placement(group, drawer.name, how, how, how, side, side, width, depth, mm(height), 0, 0, layout)


def placed(group, drawer, left, width, depth, height=40):
    """A placement at the front of its drawer, ``left`` from the side clearance; its pockets leave only the margin."""
    side, margin = HOUSE.clearance.side, HOUSE.pocket.margin
    layout = _layout(mm(width) - 2 * margin, mm(depth) - 2 * margin, mm(height))
    size = (mm(width), mm(depth), mm(height), 0, 0)
    return Placement(group, drawer.name, "new", "new", "new", side + mm(left), side, *size, layout)


def outcome(set_name, cabinet, *placements, ready=(), house=HOUSE, pieces=()) -> Fits:
    """A plan of one group a placement; ``pieces`` are those of every group."""
    owned = {organizer.group: organizer for organizer in ready}
    groups = [builders.group(one.group, *pieces, ready=owned.get(one.group)) for one in placements]
    return builders.fits(builders.question(cabinet, groups, house=house, set_name=set_name), placements)


def without_plan(verdict, set_name, cabinet, reason) -> Outcome:
    """A refusal, or an answer that is still open."""
    asked, told = builders.question(cabinet, set_name=set_name), Reason("short", reason)
    return Undecided(asked, RUN, (told,)) if verdict == "undecided" else builders.refused(asked, told)


def catalogue(cabinets, demand, organizers=()) -> Catalogue:
    """``demand`` as (set, cabinet, units, margin, offered)."""
    rows = tuple(Demand(name, where, units, margin, offered=offered) for name, where, units, margin, offered in demand)
    return builders.catalogue((), organizers, sorted(cabinets, key=lambda one: one.name), demand=rows)


def one_drawer(name, width=560, depth=405, height=100, **more):
    """A cabinet of one drawer."""
    return builders.cabinet(
        builders.drawer("1", width=width, depth=depth, height=height, cabinet=name, **more), name=name
    )


def simple(cabinets, field=(300, 200), units=100, margin=10, offered="yes", set_name="set"):
    """One set with one group in cabinets of one drawer: the catalogue and its plans."""
    rows = [(set_name, one.name, units, margin, offered) for one in cabinets]
    plans = {(set_name, one.name): outcome(set_name, one, filled("tools", one.drawers[0], field)) for one in cabinets}
    return catalogue(cabinets, rows), plans
