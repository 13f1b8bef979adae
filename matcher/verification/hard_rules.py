"""The hard rules, numbered once, and what a broken one looks like."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

RULES: Mapping[str, str] = MappingProxyType(
    {
        "R1": "Every piece and ready-made organizer, or one made instead, is placed once, in its group; nothing else.",
        "R2": "Every group, or each part of one that may be split, is in one drawer; parts are runs in reading order.",
        "R3": "Organizers go only into foam drawers, cased groups into those without unless the house allows it.",
        "R4": "An organizer keeps the side clearance from all four walls of its drawer.",
        "R5": "An organizer, the liner under it and the top clearance over it stay within the drawer's clear height.",
        "R6": "Organizers in one drawer do not overlap.",
        "R7": "Groups that may not share lie alone, cased and foam never mix, families only where the house lets them.",
        "R8": "A group weighs what its pieces do; what a drawer holds no more than its load rating, if it has one.",
        "R9": "Organizers keep the side clearance from obstructions; cuts the margin too if foam is cut round one.",
        "R10": "Pockets and notches keep the side clearance and their margin from a drawer's rounded corners.",
        "R11": "Pins hold: in, not in, apart, together in one organizer, keep free (a drawer, or so many of a height).",
        "R12": "Between two pockets or notches of an organizer there is the web that the deeper one needs.",
        "R13": "Pockets and notches lie in their field, fill it if ordered, and it keeps the margin from the edges.",
        "R14": "A pocket has its piece's room and depth, a finger's notch if needed, foam below, and tells its height.",
        "R15": "How an organizer gets into its drawer, and its gaps, are what its sizes say, on each axis and overall.",
        "R16": "Where there is order systems have sides; drives lie outside in and sizes ascend, or they lie in nests.",
        "R17": "Free drawers are exactly those that may hold something and hold nothing.",
        "R18": "Where the house has a base sheet, every pocket and notch ends in it and leaves the floor below itself.",
    }
)


@dataclass(frozen=True, slots=True)
class Violation:
    """A broken rule.

    ``thing`` is the group, drawer or piece; ``excess`` how far it is off: 1/320 mm, mass units (R8) or a count.
    """

    rule: str
    thing: str
    excess: int
    text: str
