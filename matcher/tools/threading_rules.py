"""Dimension rules of taps, dies and what turns and checks them."""

from __future__ import annotations

from matcher.tools.rules import NOMINAL, Facts, Off, Rule, filled, from_memory, length_within, practice
from matcher.tools.series import DIES, TAPS, between


def _die_diameter(f: Facts) -> float:
    """Outside diameter of the first die that the thread is made in."""
    return next((diameter for largest, diameter, _ in DIES if f.s <= largest), 2 * f.s)


def _die_thickness(f: Facts) -> float:
    return next((thickness for largest, _, thickness in DIES if f.s <= largest), 0.7 * f.s)


THREADING_RULES = (
    Rule(
        kinds=("tap",),
        length=from_memory("ISO 529 taps", lambda f: between(TAPS, f.s), sure=True),
        width=from_memory("ISO 529 taps", lambda f: max(f.s, min(0.45 * f.s + 3, 1.2 * f.s))),
        height=from_memory("ISO 529 taps", lambda f: f.width),
        grams=filled(0.5),
        features=(("shank", lambda f: min(0.75 * f.s + 0.5, f.width)),),
        round=True,
    ),
    Rule(
        kinds=("die",),
        length=from_memory("ISO 2568 dies", _die_diameter),
        width=from_memory("ISO 2568 dies", lambda f: f.length),
        height=from_memory("ISO 2568 dies", _die_thickness),
        grams=filled(0.48, Off(0.35, 0.25)),
        features=(("hole", lambda f: min(f.s, 0.6 * f.width)),),
    ),
    Rule(
        kinds=("tap wrench",),
        length=practice(lambda f: f.nominal, NOMINAL),
        width=practice(lambda f: max(18, 0.12 * f.length)),
        height=practice(lambda f: max(12, 0.07 * f.length)),
        grams=filled(0.25),
        features=(("bar", lambda f: 0.5 * f.width),),
        check=length_within(60, 1500),
    ),
    Rule(
        kinds=("die stock",),
        length=from_memory("EN 22568 die stocks", lambda f: 9.5 * f.s),
        width=practice(lambda f: (1.4 * f.s) or 0.15 * f.length),
        height=practice(lambda f: max(14, 0.07 * f.length)),
        grams=filled(0.2, Off(0.4, 0.4)),
        features=(("bar", lambda f: 0.3 * f.width), ("die", lambda f: min(f.s or 0.1 * f.length, 0.8 * f.width))),
    ),
    Rule(("thread gauge",), practice(70), practice(28), practice(20), filled(0.2)),
    Rule(
        ("screw extractor",),
        practice(75, Off(0.35, 0.3)),
        practice(12, Off(0.5, 0.4)),
        practice(12, Off(0.5, 0.4)),
        filled(0.35, Off(0.7, 0.8)),
        round=True,
    ),
)
