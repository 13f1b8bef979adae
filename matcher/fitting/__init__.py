"""One organizer and one drawer: what a drawer offers, which layouts go in and how, what is short, hand heights.

Reading order, from what is called first to what it stands on: `reuse`, `admission`, `room_left`, `openings`, `reach`,
`shortfalls`.
"""

from matcher.fitting.admission import (
    Fit,
    GoesIn,
    Open,
    OutsideSize,
    StaysOut,
    admit,
    admit_free,
    box_of,
    corner_inset,
    edge,
    effort_of,
)
from matcher.fitting.openings import Opening, clear_rectangles, opening
from matcher.fitting.reach import PER_USE, counted_uses, hand_height, has_lift, reach_cost
from matcher.fitting.reuse import Carried, carried, organizer_of, rounded_for, spot_of
from matcher.fitting.room_left import fitting, least_trimmed, roomiest, roominess
from matcher.fitting.shortfalls import Lacks, Shortfall, larger

__all__ = [
    "PER_USE",
    "Carried",
    "Fit",
    "GoesIn",
    "Lacks",
    "Open",
    "Opening",
    "OutsideSize",
    "Shortfall",
    "StaysOut",
    "admit",
    "admit_free",
    "box_of",
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
    "least_trimmed",
    "opening",
    "organizer_of",
    "reach_cost",
    "roomiest",
    "roominess",
    "rounded_for",
    "spot_of",
]
