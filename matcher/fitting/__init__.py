"""One organizer and one drawer: what a drawer offers, which layouts go in and how, what is short, hand heights.

Reading order, from what is called first to what it stands on: `reuse`, `admission`, `ready_made`, `room_left`,
`fits`, `openings`, `reach`, `shortfalls`.
"""

from matcher.fitting.admission import admit, admit_angled, admit_free, box_of, corner_inset, edge, shut_out
from matcher.fitting.fits import Fit, GoesIn, Open, OutsideSize, StaysOut, effort_of
from matcher.fitting.openings import Opening, clear_rectangles, opening, surpasses
from matcher.fitting.reach import PER_USE, counted_uses, hand_height, has_lift, reach_cost
from matcher.fitting.ready_made import field_in
from matcher.fitting.reuse import Carried, block_of, carried, kept_of, organizer_of, spot_of
from matcher.fitting.room_left import fitting, least_trimmed, roomiest, roominess
from matcher.fitting.shortfalls import Axis, Lacks, Shortfall, all_lacks, larger

__all__ = [
    "PER_USE",
    "Axis",
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
    "admit_angled",
    "admit_free",
    "all_lacks",
    "block_of",
    "box_of",
    "carried",
    "clear_rectangles",
    "corner_inset",
    "counted_uses",
    "edge",
    "effort_of",
    "field_in",
    "fitting",
    "hand_height",
    "has_lift",
    "kept_of",
    "larger",
    "least_trimmed",
    "opening",
    "organizer_of",
    "reach_cost",
    "roomiest",
    "roominess",
    "shut_out",
    "spot_of",
    "surpasses",
]
