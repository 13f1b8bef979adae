"""One organizer and one drawer: what a drawer offers, which layouts go in and how, what is short, hand heights."""

from matcher.fitting.admission import Fit, Size, admit, admit_free, corner_inset, edge, effort_of
from matcher.fitting.openings import Opening, Rectangle, clear_rectangles, opening
from matcher.fitting.reach import PER_USE, counted_uses, hand_height, has_lift, reach_cost
from matcher.fitting.reuse import Carried, carried, organizer_of, rounded_for, spot_of
from matcher.fitting.room_left import fitting, roomiest, roominess
from matcher.fitting.shortfalls import Lacks, Shortfall, larger

__all__ = [
    "PER_USE",
    "Carried",
    "Fit",
    "Lacks",
    "Opening",
    "Rectangle",
    "Shortfall",
    "Size",
    "admit",
    "admit_free",
    "carried",
    "clear_rectangles",
    "corner_inset",
    "counted_uses",
    "edge",
    "effort_of",
    "fitting",
    "hand_height",
    "has_lift",
    "larger",
    "opening",
    "organizer_of",
    "reach_cost",
    "roomiest",
    "roominess",
    "rounded_for",
    "spot_of",
]
