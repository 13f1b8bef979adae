"""A plan released: which organizers get new parts, their rows in the table of organizers, foam and cost.

A ready-made organizer that goes in as it is or with a strip keeps its part and its row. One that is cut anew gets a new
part. So does one that is trimmed: it no longer goes in wherever the whole one does, and that one stays in stock
(interchangeable parts share a number, others do not; common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from matcher.cutting import Cut, cut
from matcher.fitting import organizer_of
from matcher.planning import Fits, as_made, first_tool, snapshot
from matcher.records import (
    Catalogue,
    Group,
    Organizer,
    Placement,
    ReleasedOrganizer,
    ReleasedPlan,
    released_tool,
)
from matcher.studies.part_numbers import new_parts

REVISION = "A"
"""Revision of a new part; own choice."""
KEPT = ("as is", "shim")
"""Ways in that leave an organizer the part it is."""


def released_as(found: Fits, catalogue: Catalogue, prefix: str) -> ReleasedPlan:
    """The plan with a part for every organizer, new ones numbered in its order after all those of the catalogue.

    ``unit_cost`` is what ``cut`` says an organizer's share of its sheets costs, blank where no price or foam is known.

    Raises
    ------
    UsageError
        The prefix is none, or the house rules give no feed or depth of a pass.
    """
    question, made = found.question, found.plan
    groups = {group.name: group for group in made.groups}
    parts, work = new_parts((catalogue, question.catalogue), prefix), cut(found, allow_estimates=True)
    planned = {placed.group: placed for placed in made.placements}
    lying = as_made(made.placements, question.cabinet, question.house, strips=False)
    organizers = []
    for placed in lying:
        group, before = groups[placed.group], planned[placed.group]
        told = ReleasedOrganizer(placed, before.how, tuple(map(released_tool, group.pieces)), None, group.part_of)
        if group.cased:
            organizers.append(told)
        elif before.how in KEPT:
            organizers.append(replace(told, row=group.organizer))
        else:
            row = _row(found, before, group, work, next(parts))
            instead_of = group.organizer.part if group.organizer else ""
            organizers.append(replace(told, row=row, new=True, instead_of=instead_of))
    asked = replace(question.wishes, keep=None, alternatives=0)
    return ReleasedPlan(snapshot(found), question.cabinet.drawers, tuple(organizers), asked)


def _row(found: Fits, placed: Placement, group: Group, work: Cut, part: str) -> Organizer:
    """The row of a new part: its sizes, and for which drawer and tools it was made."""
    job = next((job for job in work.jobs if job.blank.group == group.name), None)
    own = group.organizer or Organizer("", "", 0, 0, 0)
    foam = job.foam.name if job and job.foam else ("" if job else own.foam)
    return replace(
        organizer_of(placed, group),
        set=found.question.set,
        mass=own.mass,
        family=own.family,
        tier=own.tier,
        system=group.system,
        part=part,
        revision=REVISION,
        unit_cost=round(job.cost, 2) if job and job.cost is not None else None,
        foam=foam,
        cabinet=found.cabinet,
        drawer=placed.drawer,
        pieces=group.tools,
        part_of=group.part_of,
        first_piece=first_tool(group, found.plan.groups),
    )


def new_rows(plan: ReleasedPlan) -> Iterator[Organizer]:
    """The rows that the release adds to the table of organizers."""
    yield from (one.row for one in plan.organizers if one.row and one.new)
