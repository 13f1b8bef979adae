"""The changes that a refusal names, made: what a planner would do to the catalogue or the house rules."""

import re
from dataclasses import replace

from matcher.planning.answering import plan
from matcher.planning.outcome import DoesNotFit, Undecided
from matcher.records.given import GroupRule
from matcher.records.units import mm
from tests.builders import HOUSE, cabinet

SIDES = {"wider": "inside_width", "longer front to back": "inside_depth", "higher inside": "clear_height"}
BEGIN = "it would fit with "


def confirmed(known, house=HOUSE):
    """The answer without a plan, after every change that it names was made and gave one; and the changes."""
    outcome = plan(known, house, "set", "cabinet")
    assert isinstance(outcome, DoesNotFit | Undecided)
    assert outcome.reasons
    assert outcome.change.startswith(BEGIN)
    changes = outcome.change.removeprefix(BEGIN).split("; or with ")
    for change in changes:
        assert turned(known, change, house) == "fits", change
    return outcome, changes


def turned(known, change, house=HOUSE):
    """The verdict after a change that is told in words."""
    if other := re.fullmatch(r"the cabinet (\w+) instead( \(.*\))?", change):
        return plan(known, house, "set", other[1]).verdict
    return plan(changed(known, change), changed_house(house, change), "set", "cabinet").verdict


def changed_house(house, change):
    """The house rules with a change made."""
    together, pocket = dict(re.findall(r"\b(mix|divide) = (\w+)", change)), house.pocket
    if margin := re.match(r"margins of ([\d.]+) mm", change):
        pocket = replace(pocket, margin=mm(margin[1]))
    cased = house.layout.cased_in_foam or "cased_in_foam = true" in change
    return replace(
        house,
        together=replace(house.together, **together),
        pocket=pocket,
        layout=replace(house.layout, cased_in_foam=cased),
    )


def changed(known, change):
    """The catalogue with a change made, the same if it is one of the house rules."""
    if larger := re.findall(r"(?:drawer (\w+) )?([\d.]+) mm (wider|longer front to back|higher inside)", change):
        box = ""
        for name, by, side in larger:
            box = name or box
            known = resized(known, box, SIDES[side], mm(by))
        return known
    if lifted := re.fullmatch(r"the pin lifted: (.*)", change):
        return replace(known, pins=tuple(pin for pin in known.pins if pin.drawer not in lifted[1]))
    if freed := re.fullmatch(r"(share|split) = yes of (.*)", change):
        rules = (GroupRule(name, **{freed[1]: True}) for name in names_in(freed[2]))
        return replace(known, group_rules=(*rules, *known.group_rules))
    if foam := re.fullmatch(r"foam in drawers? (.*)", change):
        return with_foam(known, names_in(foam[1]))
    if pieces := re.fullmatch(r"\d+ pieces? of (.*) left out \((.*)\)", change):
        out = names_in(pieces[2])
        return replace(
            known, pieces=tuple(row for row in known.pieces if row.group != pieces[1] or row.tool not in out)
        )
    if change.endswith("left out") or "left out: " in change:
        out = re.sub(r"\d+ of \d+ groups left out: | left out", "", change).split(", ")
        return without(known, *out)
    return known


def names_in(text):
    """The names of a list in words."""
    return re.split(r", | and ", text)


def with_foam(known, names):
    """The catalogue whose first cabinet has foam in some drawers more."""
    held, *others = known.cabinets
    boxes = [replace(box, slot="foam") if box.name in names else box for box in held.drawers]
    return replace(known, cabinets=(cabinet(*boxes), *others))


def resized(known, name, side, by):
    """The catalogue whose first cabinet has one drawer that is larger."""
    held, *others = known.cabinets
    boxes = [replace(box, **{side: getattr(box, side) + by}) if box.name == name else box for box in held.drawers]
    return replace(known, cabinets=(cabinet(*boxes), *others))


def without(known, *groups):
    """The catalogue without some groups."""
    return replace(
        known,
        organizers=tuple(row for row in known.organizers if row.group not in groups),
        pieces=tuple(row for row in known.pieces if row.group not in groups),
    )
