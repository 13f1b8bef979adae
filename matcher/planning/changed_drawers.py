"""What became of the drawers and the parts of a released plan since it was released."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from matcher.fitting import carried
from matcher.house import House
from matcher.planning.made_organizers import same_sizes
from matcher.records import Catalogue, Drawer, LengthUnit, Organizer, listed

SIDES = (
    ("inside_width", "narrower", "wider"),
    ("inside_depth", "less deep", "deeper"),
    ("clear_height", "lower", "higher"),
)
LENGTHS = (("corner_radius", "corners with a radius"), ("liner", "a liner"))


def drawer_changes(was: Drawer, now: Drawer, unit: LengthUnit) -> Iterator[str]:
    """A sentence on everything of a drawer that is not what it was."""
    for side, less, more in SIDES:
        before, after = getattr(was, side), getattr(now, side)
        if before != after:
            word, by = (less if after < before else more), unit.show(abs(after - before))
            yield f"the drawer is {by} {word}: {unit.clear(after)} inside, was {unit.clear(before)}"
    for name, words in LENGTHS:
        before, after = getattr(was, name), getattr(now, name)
        if before != after:
            yield f"the drawer has {words} of {unit.show(after)}, was {unit.show(before)}"
    if was.load_rating != now.load_rating:
        yield f"the drawer's load rating is {_load(now.load_rating, unit)}, was {_load(was.load_rating, unit)}"
    if was.slot != now.slot:
        yield f"the drawer's slot is {now.slot!r}, was {was.slot!r}"
    if was.obstructions != now.obstructions:
        yield f"the drawer has other obstructions, {len(now.obstructions)} of them"
    if (was.bank, was.last_bank, was.row) != (now.bank, now.last_bank, now.row):
        yield f"the drawer is in bank {now.bank}, row {now.row}, was in bank {was.bank}, row {was.row}"


def _load(rating: int | None, unit: LengthUnit) -> str:
    return "not given" if rating is None else unit.in_mass(rating)


def trimming(row: Organizer, drawer: Drawer, house: House, unit: LengthUnit) -> str:
    """A sentence where an organizer that has a drawer to itself goes in only if it is trimmed; else blank."""
    found = carried(row, drawer, house)
    if found.how != "trim":
        return ""
    cuts = ((found.width, "width"), (found.depth, "depth"))
    told = [f"{unit.needed(-by)} off its {side}" for by, side in cuts if by < 0]
    return f"{row.part or row.group} would have to be trimmed: {listed(told)}"


def part_changes(row: Organizer, catalogue: Catalogue, unit: LengthUnit) -> str:
    """A sentence where a released organizer is no longer a row of the catalogue, or one of other sizes; else blank."""
    name = row.part or f"the organizer of {row.group}"
    rows = [*catalogue.organizers, *(kept.made for kept in catalogue.parts)]
    found = [one for one in rows if (one.set, one.group, one.part) == (row.set, row.group, row.part)]
    if not found:
        return f"{name} is no longer in the table organizers"
    if any(same_sizes(one, row) for one in found):
        return ""
    return f"{name} has other sizes in the table organizers: {_sizes(found, unit)}, was {_sizes([row], unit)}"


def _sizes(rows: Iterable[Organizer], unit: LengthUnit) -> str:
    """Outside, and the field where it is known."""
    return " or ".join(
        " x ".join(unit.show(side) for side in (row.width, row.depth, row.height)) + _field(row, unit) for row in rows
    )


def _field(row: Organizer, unit: LengthUnit) -> str:
    if row.field_width is None or row.field_depth is None:
        return ""
    return f" with a field of {unit.show(row.field_width)} x {unit.show(row.field_depth)}"
