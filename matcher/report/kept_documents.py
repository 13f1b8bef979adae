"""Plans to keep as documents: what was made, what differs now, what no longer goes in."""

from __future__ import annotations

from typing import Any

from matcher.planning import sentences, stranded_words, summary
from matcher.records import Changes, KeptOrganizer, LengthUnit, Snapshot, Stranded, to_kg, to_mm

Document = dict[str, Any]


def snapshot_document(kept: Snapshot) -> Document:
    """A plan to keep: its drawers and organizers."""
    made = {one.made.group: outside_document(one) | kept_document(one) for one in kept.organizers}
    return {
        "set": kept.set,
        "cabinet": kept.cabinet,
        "fill": kept.fill,
        "placements": [{"group": group, "drawer": drawer} | made.get(group, {}) for group, drawer in kept.drawers],
        "free_drawers": list(kept.free),
        "goals": [
            {"name": name, "value": value} | ({"proved": kept.settled} if name == "together" else {})
            for name, value in kept.goals
        ],
    }


def changes_document(found: Changes) -> Document:
    """What differs from the plan to keep."""
    return {
        "summary": summary(found),
        "sentences": list(sentences(found)),
        "moves": [{"group": group, "before": was, "now": now} for group, was, now in found.moved],
        "divided": [{"group": group, "before": was, "now": now} for group, was, now in found.divided],
        "no_longer_placed": list(found.lost),
        "new": list(found.new),
        "free_drawers": {"before": found.free[0], "now": found.free[1]},
        "goals": [{"name": name, "before": was, "now": now} for name, was, now in found.goals],
    }


def stranded_document(one: Stranded, unit: LengthUnit) -> Document:
    """Organizers that no longer go into their drawer, with what is short."""
    return {
        "text": stranded_words(one, unit),
        "groups": list(one.groups),
        "drawer": one.drawer,
        "lacks": one.lacks or None,
        "short_mm": to_mm(one.short) if one.lacks else None,
    }


def outside_document(kept: KeptOrganizer) -> Document:
    """Where an organizer lies and how large it is."""
    return {
        "left_mm": to_mm(kept.left),
        "front_mm": to_mm(kept.front),
        "width_mm": to_mm(kept.made.width),
        "depth_mm": to_mm(kept.made.depth),
        "height_mm": to_mm(kept.made.height),
    }


def kept_document(kept: KeptOrganizer) -> Document:
    """What is told of an organizer so that it can be kept: its field, how many tools it holds, what it is a part of,
    what it weighs."""
    made = kept.made
    field = (made.field_left, made.field_front, made.field_width, made.field_depth)
    names = ("field_left_mm", "field_front_mm", "field_width_mm", "field_depth_mm")
    told = {name: None if length is None else to_mm(length) for name, length in zip(names, field, strict=True)}
    masses = {"mass_low_kg": _kg(kept.mass_low, kept), "mass_high_kg": _kg(kept.mass_high, kept)}
    return {**told, "pieces": kept.pieces, "part_of": kept.part_of, **masses}


def _kg(mass: int, kept: KeptOrganizer) -> float | None:
    """A mass in kilograms; ``None`` where that of the organizer is not known."""
    return to_kg(mass) if kept.mass_high else None
