"""What a plan puts into each drawer as plain documents: organizers, and how full a drawer is."""

from __future__ import annotations

from typing import Any

from matcher.fitting import kept_of
from matcher.planning import Fits
from matcher.records import Group, Margin, PieceCounts, Placement, Plan, basis_counts, to_kg, to_mm
from matcher.report.kept_documents import kept_document, outside_document

Document = dict[str, Any]


def part_shown(answer: Fits) -> Document:
    """What a plan puts into each drawer and how full that is."""
    return {
        "placements": placements_document(answer.plan),
        "margins": [margin_document(margin) for margin in answer.margins],
    }


def placements_document(made: Plan) -> list[Document]:
    """Every organizer of a plan, one row each."""
    groups = {group.name: group for group in made.groups}
    return [_placement(placement, groups[placement.group]) for placement in made.placements]


def _placement(placement: Placement, group: Group) -> Document:
    """Where an organizer lies; the thickness of its foam where that is known, and how much of it is a base."""
    layout, kept = placement.layout, kept_of(placement, group)
    return {
        "group": placement.group,
        "drawer": placement.drawer,
        "how": placement.how,
        "how_width": placement.how_width,
        "how_depth": placement.how_depth,
        **outside_document(kept),
        "thickness_mm": to_mm(layout.thickness) if layout and layout.thickness else None,
        "base_thickness_mm": to_mm(layout.base) if layout and layout.thickness else None,
        "gap_width_mm": to_mm(placement.gap_width),
        "gap_depth_mm": to_mm(placement.gap_depth),
        **kept_document(kept),
        **by_basis_document(basis_counts(group.pieces)),
    }


def margin_document(margin: Margin) -> Document:
    """What a used drawer has beyond what its contents need."""
    return {
        "drawer": margin.drawer,
        "groups": list(margin.groups),
        "least_width_mm": to_mm(margin.least_width),
        "least_depth_mm": to_mm(margin.least_depth),
        "least_height_mm": to_mm(margin.least_height),
        "spare_width_mm": to_mm(margin.spare_width),
        "spare_depth_mm": to_mm(margin.spare_depth),
        "spare_height_mm": to_mm(margin.spare_height),
        "load_kg": to_kg(margin.load),
        "load_left_kg": None if margin.load_left is None else to_kg(margin.load_left),
        "fill_share": margin.fill,
    }


def by_basis_document(basis: PieceCounts) -> Document:
    """The counts as columns of a row."""
    return {"measured": basis.measured, "from_standard": basis.standard, "estimated": basis.estimated}
