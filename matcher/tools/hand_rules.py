"""Dimension rules of screwdrivers, bits, pliers, measuring and other hand tools, and of cased equipment."""

from __future__ import annotations

from matcher.tools import masses
from matcher.tools.rules import (
    NOMINAL,
    Facts,
    Formula,
    Measure,
    Off,
    Rule,
    filled,
    from_memory,
    length_within,
    must_be_given,
    practice,
    weighed,
)
from matcher.tools.series import CROSS_BLADES, PLIERS, PLIERS_GRAMS, SLOTTED_BLADES, between

CLOSED_HANDLES = 55
"""Width of closed pliers over the handles, 50 +- 5 at every length, mm; common practice, no source."""

GRIPS = 16
"""Thickness of pliers over their grips, dipped ones 12 and sleeved ones 20; common practice, no source."""

# ------------------------------------------------------------------------------------------------------- screwdrivers


def _blade_width(f: Facts) -> float:
    """A cross-recess blade's shank is what its size says; others are a little wider than their tip."""
    return f.s if f.tip in ("PH", "PZ", "SL") else 1.16 * f.s + 0.5


def _end(f: Facts) -> float:
    """Width of the very end of a tip: a slotted one is its blade's, a cross comes to a point."""
    return 0.3 * f.s if f.tip in ("PH", "PZ") else f.s


def _handle_width(f: Facts) -> float:
    return min(max(22 + 1.5 * _blade_width(f), 22), 38)


def _handle(f: Facts) -> float:
    return min(max(70 + 5 * _blade_width(f), 80), 120)


def _blade(f: Facts) -> float:
    if f.nominal:
        return f.nominal
    if f.tip in ("PH", "PZ"):
        return CROSS_BLADES[f.number]
    return between(SLOTTED_BLADES, min(max(f.s, 2.5), 12))


def _driver(kind: str, length: Measure, diameter: Measure, handle: Formula, blade: Formula, shank: Formula) -> Rule:
    """A blade as wide as ``blade`` at its tip, that weighs as one ``shank`` mm round, in a handle."""

    def grams(f: Facts) -> float:
        held = min(handle(f), f.length / 2)
        return masses.driver(min(shank(f), f.width), f.length - held, f.width, held)

    return Rule(
        kinds=(kind,),
        length=length,
        width=diameter,
        height=diameter,
        grams=weighed(grams),
        features=(
            ("handle", lambda f: min(handle(f), 0.7 * f.length)),
            ("blade", lambda f: min(blade(f), f.width)),
            ("tip", lambda f: min(_end(f), f.width)),
        ),
        round=True,
    )


def _nut_end(f: Facts) -> float:
    return 1.25 * f.s + 2.2


def _nut_handle(f: Facts) -> float:
    return min(90 + 2 * f.s, 125)


DRIVERS = (
    _driver(
        "screwdriver",
        from_memory("ISO 2380-2 and ISO 8764-2 blade lengths", lambda f: _blade(f) + _handle(f), off=Off(0.2, 0.25)),
        practice(_handle_width),
        _handle,
        _blade_width,
        _blade_width,
    ),
    _driver("stubby screwdriver", practice(35 + 55), practice(32), lambda _f: 55, _blade_width, _blade_width),
    Rule(
        kinds=("torque screwdriver",),
        length=practice(220),
        width=practice(40),
        height=practice(40),
        grams=filled(0.09),
        features=(("handle", lambda f: 0.6 * f.length), ("blade", lambda f: 0.25 * f.width)),
        round=True,
    ),
    _driver(
        "nut driver",
        practice(lambda f: 125 + _nut_handle(f)),
        practice(lambda f: max(24 + 0.6 * f.s, _nut_end(f))),
        _nut_handle,
        _nut_end,
        lambda f: 0.3 * f.s + 4,
    ),
    Rule(
        kinds=("insert bit",),
        length=from_memory("ISO 1173 form C bits", lambda f: f.nominal or 25, sure=True),
        width=practice(lambda f: max(7.4, 1.16 * f.s)),
        height=practice(lambda f: max(7.4, 1.16 * f.s)),
        grams=filled(0.5),
        features=(
            ("tip", lambda f: min(max(1.16 * f.s, 2), f.width)),
            ("point", lambda f: min(max(_end(f), 1), f.width)),
        ),
        round=True,
    ),
    Rule(("bit holder",), practice(75), practice(12), practice(12), filled(0.45), round=True),
)

# ------------------------------------------------------------------------------------------------------------- pliers


_GRIPS_OFF = Off(0.3, 0.3)


def _plier_grams(factor: float) -> Measure:
    return weighed(lambda f: factor * between(PLIERS_GRAMS, f.length))


def _pliers(kind: str, source: str, factor: float) -> Rule:
    """Pliers of a kind whose heads are tabled by nominal length."""
    heads = {length: row[0] for length, row in PLIERS[kind].items()}
    thick = {length: row[1] for length, row in PLIERS[kind].items()}
    return Rule(
        kinds=(kind,),
        length=from_memory(source, lambda f: f.nominal, sure=True, off=NOMINAL),
        width=practice(lambda f: max(CLOSED_HANDLES, between(heads, f.length))),
        height=practice(lambda f: max(GRIPS, between(thick, f.length)), _GRIPS_OFF),
        grams=_plier_grams(factor),
        features=(("head", lambda f: min(between(heads, f.length), f.width)),),
        check=length_within(80, 500),
    )


def _like_pliers(kind: str, head: float, thick: float, factor: float, width: float = CLOSED_HANDLES) -> Rule:
    """Pliers of a kind without a table: head width and thickness are shares of the length."""
    return Rule(
        kinds=(kind,),
        length=practice(lambda f: f.nominal, NOMINAL),
        width=practice(lambda f: max(width, head * f.length)),
        height=practice(lambda f: max(GRIPS, thick * f.length), _GRIPS_OFF),
        grams=_plier_grams(factor),
        features=(("head", lambda f: min(head * f.length, f.width)),),
        check=length_within(80, 500),
    )


GRIPPERS = (
    _pliers("combination pliers", "ISO 5746 pliers", 1.05),
    _pliers("diagonal cutters", "ISO 5749 diagonal cutters", 1.05),
    _pliers("long-nose pliers", "ISO 5745 long-nose pliers", 0.75),
    _like_pliers("slip-joint pliers", 0.18, 0.056, 0.85),
    _like_pliers("water-pump pliers", 0.18, 0.056, 0.75),
    _like_pliers("hose-clamp pliers", 0.16, 0.08, 1.0, width=70),
    _like_pliers("locking pliers", 0.28, 0.07, 1.25, width=65),
    _like_pliers("snap-ring pliers", 0.14, 0.065, 0.7),
    *(_like_pliers(kind, 0.17, 0.085, 0.95, width=65) for kind in ("snips", "left-cut snips", "right-cut snips")),
    _like_pliers("wire stripper", 0.16, 0.09, 0.8),
)

# ------------------------------------------------------------------------------------------- measuring, other, cased

_POCKETED = Off(0.3, 0.2)
"""A kind of many sizes: the likely ones are large, so that most real ones are smaller."""

MEASURING = (
    Rule(("tape measure",), practice(85, _POCKETED), practice(85, _POCKETED), practice(47, _POCKETED), filled(0.13)),
    Rule(
        kinds=("caliper",),
        length=practice(lambda f: f.nominal + 90, Off(0.1, 0.1)),
        width=practice(lambda f: 0.2 * f.length + 35),
        height=practice(17),
        grams=filled(0.06),
        features=(("beam", lambda f: 0.22 * f.width),),
        check=length_within(70, 1000),
    ),
    Rule(
        kinds=("rule",),
        length=practice(lambda f: f.nominal + 15, NOMINAL),
        width=practice(lambda f: min(max(0.08 * f.length, 19), 40), Off(0.35, 0.25)),
        height=practice(2, Off(0.75, 0.25)),
        grams=filled(0.5),
        check=length_within(70, 2000),
    ),
    Rule(
        kinds=("square",),
        length=practice(lambda f: f.nominal + 20, Off(0.1, 0.15)),
        width=practice(lambda f: min(max(0.6 * f.nominal, 50), 120) if f.nominal else 0.6 * f.length),
        height=practice(22),
        grams=filled(0.08),
        features=(("stock", lambda f: min(30, f.length / 3)), ("blade", lambda f: min(25, f.width / 2))),
        check=length_within(50, 1000),
    ),
    Rule(("feeler gauge",), practice(115), practice(28), practice(22), filled(0.2)),
    Rule(("mirror",), practice(220), practice(60, Off(0.5, 0.3)), practice(22), filled(0.035)),
    Rule(("pick",), practice(170, Off(0.25, 0.4)), practice(20), practice(20), filled(0.07)),
    Rule(("magnetic pick-up",), practice(180, Off(0.3, 0.4)), practice(18), practice(18), filled(0.15), round=True),
    Rule(
        ("flashlight",),
        practice(160, Off(0.35, 0.4)),
        practice(38),
        practice(38),
        filled(0.12, Off(0.6, 0.8)),
        round=True,
    ),
)

ANY_BOX = tuple(
    Rule(
        (kind,), must_be_given("length"), must_be_given("width"), must_be_given("height"), filled(share, Off(0.8, 1.5))
    )
    for kind, share in (("other", 0.2), ("cased", 0.08))
)

HAND_RULES = DRIVERS + GRIPPERS + MEASURING + ANY_BOX
