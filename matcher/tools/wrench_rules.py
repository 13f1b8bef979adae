"""Dimension rules of wrenches."""

from __future__ import annotations

from collections.abc import Callable

from matcher.tools import masses
from matcher.tools.rules import (
    NOMINAL,
    Facts,
    Features,
    Formula,
    Measure,
    Off,
    Rule,
    derived,
    filled,
    flats_within,
    from_memory,
    grown,
    length_within,
    over_least,
    practice,
    read,
    weighed,
)
from matcher.tools.series import inch_opening

ISO_3318 = "ISO 3318 open-end head widths"
ISO_7738 = "ISO 7738 combination wrenches"
HOUSE_LENGTH = 1.25
"""Planning length of a combination wrench over the least length of its series; common practice, no source."""
LONG_PATTERN = 1.5
"""The same of a long pattern; common practice, no source."""


def open_head(s: float) -> float:
    """Greatest width b1 of an open-end head, ISO 3318, read at second hand."""
    return 2.1 * s + 7


def box_head(s: float) -> float:
    """Greatest diameter b2 of a box head, ISO 3318 from memory; the outline is drawn from it."""
    return 1.55 * s + 3.5


def box_ring(s: float) -> float:
    """Box head diameter fitted to A-A-1346A, page 2, for 11.1 to 19.05 mm; the mass is reckoned from it."""
    return 1.37 * s + 2.3


def medium_length(s: float) -> float:
    """Least length of the medium series, fitted to nine minima of ISO 7738 (up to 1.9 mm off)."""
    return 8.75 * s + 20.6


def _open_thick(f: Facts) -> float:
    return 0.33 * f.s + 2.7


def _box_thick(f: Facts) -> float:
    return 0.55 * f.s + 3.5


def _ratchet_ring(s: float) -> float:
    return 1.9 * s + 4


def _head(f: Facts) -> float:
    return f.width


def _shank(f: Facts) -> float:
    return f.width * (0.85 * f.s + 1) / open_head(f.s)


def _least_opening(s: float, f: Facts) -> float:
    """Least width of an opening: an inch wrench's by ASME B18.2.2, a metric one's is its size."""
    return inch_opening(s)[0] if f.inch else s


def _opening(f: Facts) -> float:
    return min(_least_opening(f.s, f), f.width / 2)


def _small_opening(f: Facts) -> float:
    return min(_least_opening(f.small or f.s, f), f.width / 2)


def _holes(most: float) -> Features:
    """What the rings at both ends take, the larger at ``most`` of the width at most, the smaller in proportion."""

    def lower(f: Facts) -> float:
        small = f.small or f.s
        return min(_least_opening(small, f), most * f.width * small / f.s)

    return (("opening", lambda f: min(_least_opening(f.s, f), most * f.width)), ("small opening", lower))


def _scaled(ring: float, f: Facts) -> float:
    """A head's diameter, scaled as the measured width of the open head is to its rule."""
    return f.width * ring / open_head(f.s)


def inch_length(s: float) -> float:
    """Length of an inch combination wrench: a line through 3/8 in (159 mm) and 1 in (345 mm), from memory."""
    return 11.717 * s + 47.4


def ratcheting_length(s: float) -> float:
    """Length of a ratcheting wrench: small ones are longer than combination wrenches of their size.

    A line through remembered lengths of 8, 10, 12, 14, 17 and 19 mm (140, 159, 171, 190, 226, 248); common practice.
    """
    return 9.8 * s + 58


def _medium(f: Facts) -> float:
    return inch_length(f.s) if f.inch else HOUSE_LENGTH * medium_length(f.s)


def _long(f: Facts) -> float:
    return LONG_PATTERN * medium_length(f.s) if not f.inch else LONG_PATTERN / HOUSE_LENGTH * inch_length(f.s)


GREATEST_HEAD = Off(0.2, 0.02)
"""A greatest width: real heads are narrower; common practice, no source."""
OPEN_WIDTH = read(ISO_3318, lambda f: open_head(f.s), off=GREATEST_HEAD)
_MEDIUM = over_least(ISO_7738, _medium, Off(0.15, 0.25))
_LONG = over_least(ISO_7738, _long, Off(0.18, 0.2))
_SHORT = derived(ISO_7738, lambda f: medium_length(f.s) + 0.9, Off(0.35, 0.03))  # covers the three maxima read
_RATCHETING = practice(lambda f: ratcheting_length(f.s), Off(0.15, 0.15))
_BOX_THICK = from_memory(ISO_7738, _box_thick, off=Off(0.25, 0.1))
_WRENCH_MASS = Off(0.35, 0.4)


def _one_open_mass(ring: Callable[[float], float]) -> Measure:
    """Open jaws, a shank, and a ring as wide as ``ring`` says of the size."""

    def grams(f: Facts) -> float:
        thick = (_open_thick(f), f.height)
        shank = (_shank(f), 0.25 * f.s + 1.5)
        return masses.combination_wrench(f.s, f.length, f.width, _scaled(ring(f.s), f), shank, thick)

    return weighed(grams, _WRENCH_MASS)


def _one_open(ring: Formula) -> Features:
    """Open jaws at one end, a ring at the other."""
    return (("head", _head), ("opening", _opening), ("box", ring), ("shank", _shank))


def _two_open(slot: float = 1.0) -> Features:
    """Jaws at both ends that leave ``slot`` of their opening free between their tips."""
    return (
        ("head", _head),
        ("small head", lambda f: f.width * open_head(f.small or f.s) / open_head(f.s)),
        ("shank", _shank),
        ("opening", lambda f: slot * _opening(f)),
        ("small opening", lambda f: slot * _small_opening(f)),
    )


def _two_rings(ring: Callable[[float], float]) -> Features:
    """Rings at both ends, as wide as ``ring`` says of their sizes."""
    return (
        ("head", _head),
        ("small head", lambda f: f.width * ring(f.small) / ring(f.s)),
        ("shank", lambda f: 0.55 * f.width),
        *_holes(0.66),
    )


def _combination(kind: str, length: Measure) -> Rule:
    return Rule(
        kinds=(kind,),
        length=length,
        width=OPEN_WIDTH,
        height=_BOX_THICK,
        grams=_one_open_mass(box_ring),
        features=_one_open(lambda f: _scaled(box_head(f.s), f)),
        check=flats_within(3, 85),
    )


def _ratcheting(kinds: tuple[str, ...], length: Measure, thick: Formula) -> Rule:
    return Rule(
        kinds=kinds,
        length=length,
        width=OPEN_WIDTH,
        height=practice(thick),
        grams=_one_open_mass(_ratchet_ring),
        features=_one_open(lambda f: _scaled(_ratchet_ring(f.s), f)),
        check=flats_within(3, 85),
    )


WRENCH_RULES = (
    _combination("combination wrench", _MEDIUM),
    _combination("stubby combination wrench", _SHORT),
    _combination("long-pattern combination wrench", _LONG),
    _ratcheting(("ratcheting wrench",), _RATCHETING, lambda f: 0.5 * f.s + 4),
    _ratcheting(("reversible ratcheting wrench", "flex-head ratcheting wrench"), _RATCHETING, lambda f: 0.5 * f.s + 7),
    _ratcheting(("stubby ratcheting wrench",), _SHORT, lambda f: 0.5 * f.s + 4),
    Rule(
        kinds=("double box wrench",),
        length=from_memory("double box wrench lengths", lambda f: 8 * f.s + 112, off=Off(0.25, 0.12)),
        width=from_memory(ISO_3318, lambda f: box_head(f.s)),
        height=practice(lambda f: min(max(25, 0.6 * f.s + 20), 40)),
        grams=filled(0.15),
        features=_two_rings(box_head),
        check=flats_within(3, 85),
    ),
    Rule(
        kinds=("ratcheting double box wrench",),
        length=practice(lambda f: 8 * f.s + 60),
        width=practice(lambda f: _ratchet_ring(f.s)),
        height=practice(lambda f: 0.5 * f.s + 4),
        grams=filled(0.3),
        features=_two_rings(_ratchet_ring),
        check=flats_within(3, 85),
    ),
    Rule(
        kinds=("half-moon wrench",),
        length=practice(lambda f: 6 * f.s + 75, Off(0.2, 0.25)),
        width=practice(lambda f: 0.4 * f.length),
        height=practice(lambda f: max(12, 0.6 * f.s + 4)),
        grams=filled(0.12),
        features=(
            ("head", lambda f: min(box_head(f.s), f.width / 2)),
            ("small head", lambda f: min(box_head(f.small), f.width / 2)),
            ("shank", lambda f: min(0.85 * f.s + 1, f.width / 3)),
            *_holes(0.4),
        ),
        check=flats_within(3, 85),
    ),
    Rule(
        kinds=("open-end wrench",),
        length=from_memory("ISO 10102 open-end wrenches", lambda f: 7.5 * f.s + 70, off=Off(0.15, 0.15)),
        width=OPEN_WIDTH,
        height=from_memory("ISO 10102 open-end wrenches", _open_thick),
        grams=filled(0.23),
        features=_two_open(),
        check=flats_within(3, 85),
    ),
    Rule(
        kinds=("flare-nut wrench",),
        length=practice(lambda f: 7.5 * f.s + 80, Off(0.15, 0.2)),
        width=practice(lambda f: open_head(f.s), Off(0.25, 0.05)),
        height=practice(_box_thick),
        grams=filled(0.22),
        features=(*_two_open(slot=0.6), ("hole", _opening), ("small hole", _small_opening)),
        check=flats_within(3, 85),
    ),
    Rule(
        kinds=("ignition wrench",),
        length=practice(lambda f: 6 * f.s + 60),
        width=OPEN_WIDTH,
        height=practice(_open_thick),
        grams=filled(0.25),
        features=_two_open(),
        check=flats_within(2, 36),
    ),
    Rule(
        kinds=("crowfoot wrench",),
        length=practice(lambda f: 1.05 * f.s + 3.5 + f.drive.end),
        width=practice(lambda f: max(open_head(f.s), f.drive.end)),
        height=practice(lambda f: f.drive.hole + 2),
        grams=filled(0.35),
        features=(
            ("boss", lambda f: min(f.drive.end, f.width)),
            ("opening", _opening),
            ("square", lambda f: min(f.drive.square, 0.7 * f.width)),
        ),
        check=flats_within(3, 85),
    ),
    Rule(
        kinds=("adjustable wrench",),
        length=practice(lambda f: f.nominal, NOMINAL),
        width=practice(lambda f: 0.27 * f.length),
        height=practice(lambda f: 0.05 * f.length + 3),
        grams=grown(250, 203, 2.5),
        features=(("shank", lambda f: 0.4 * f.width),),
        check=length_within(80, 800),
    ),
    Rule(
        kinds=("pipe wrench",),
        length=practice(lambda f: 1.05 * f.nominal, Off(0.1, 0.08)),
        width=practice(lambda f: 0.25 * f.length),
        height=practice(lambda f: 0.075 * f.length + 8),
        grams=grown(1600, 373, 2, Off(0.3, 0.3)),
        features=(("shank", lambda f: 0.35 * f.width),),
        check=length_within(100, 1500),
    ),
)
