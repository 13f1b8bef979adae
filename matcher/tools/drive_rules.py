"""Dimension rules of sockets, bit sockets and everything else on a square drive."""

from __future__ import annotations

from matcher.tools import masses
from matcher.tools.rules import (
    NOMINAL,
    Check,
    Facts,
    Features,
    Formula,
    Measure,
    Off,
    Rule,
    any_size,
    drive_takes,
    filled,
    from_memory,
    length_within,
    practice,
    weighed,
)

ISO_2725_1 = "ISO 2725-1 socket diameters"
ISO_2725_2 = "ISO 2725-2 impact socket diameters"
ISO_3315 = "ISO 3315 driving parts"
ISO_3316 = "ISO 3316 attachments"
SOCKET_LENGTHS = "socket lengths"


GREATEST_DIAMETER = Off(0.2, 0.05)
"""Remembered diameters are greatest ones: real sockets are slimmer; common practice, no source."""
SLIM = 0.85
"""Mass of a hand socket over that of one with the greatest diameters; from memory."""
THICK = 1.1
"""The same of an impact socket, which has more steel below its hexagon; from memory."""


def hand_nut_end(f: Facts) -> float:
    """Nut-end diameter d1 of a hand socket: 1.25 s + a constant of the drive (ISO 2725-1, from memory)."""
    return 1.25 * f.s + f.drive.hand


def impact_nut_end(f: Facts) -> float:
    """Nut-end diameter d1 of an impact socket: 1.25 s + a constant of the drive (ISO 2725-2, from memory)."""
    return 1.25 * f.s + f.drive.impact


def standard_length(f: Facts) -> float:
    """Length of a socket of the standard series."""
    return max(f.drive.shortest, f.drive.base + f.drive.slope * f.s)


def deep_length(f: Facts) -> float:
    """Length of a deep socket; never below the standard series."""
    return max(f.drive.deep, standard_length(f))


def _socket(kinds: tuple[str, ...], impact: bool, length: Formula) -> Rule:
    nut_end, source, share = (impact_nut_end, ISO_2725_2, THICK) if impact else (hand_nut_end, ISO_2725_1, SLIM)

    def end(f: Facts) -> float:
        return f.drive.impact_end if impact else f.drive.end

    def widest(f: Facts) -> float:
        return max(nut_end(f), end(f))

    def nut_end_as_given(f: Facts) -> float:
        return f.width * nut_end(f) / widest(f)

    def grams(f: Facts) -> float:
        hole = min(f.drive.hole, f.length / 2)
        return share * masses.socket(nut_end_as_given(f), f.width, f.length, f.s, f.drive.square, hole)

    return Rule(
        kinds=kinds,
        length=from_memory(SOCKET_LENGTHS, length, off=Off(0.2, 0.2)),
        width=from_memory(source, widest, off=GREATEST_DIAMETER),
        height=from_memory(source, widest, off=GREATEST_DIAMETER),
        grams=weighed(grams, Off(0.35, 0.35)),
        features=(
            ("nut end", nut_end_as_given),
            ("drive end", lambda f: f.width * end(f) / widest(f)),
            ("flats", lambda f: min(f.s, 0.9 * f.width)),
            ("square", _square),
        ),
        check=drive_takes,
        round=True,
    )


def _round(
    kinds: tuple[str, ...],
    length: Measure,
    diameter: Measure,
    share: float,
    features: Features = (),
    check: Check = any_size,
) -> Rule:
    """A round piece whose steel fills ``share`` of the box round it."""
    return Rule(kinds, length, diameter, diameter, filled(share), features, check, round=True)


def _jointed(kind: str, nut_end: Formula, source: str) -> Rule:
    """A socket with a joint in it."""
    diameter = from_memory(source, lambda f: max(nut_end(f), f.drive.joint_head))
    return Rule(
        kinds=(kind,),
        length=practice(lambda f: f.drive.joint, Off(0.3, 0.2)),
        width=diameter,
        height=diameter,
        grams=filled(0.38),
        features=(
            ("neck", _of_width(0.75)),
            ("nut end", lambda f: f.width * nut_end(f) / max(nut_end(f), f.drive.joint_head)),
            ("flats", lambda f: min(f.s, 0.9 * f.width)),
            ("square", _square),
        ),
        check=drive_takes,
        round=True,
    )


def _square(f: Facts) -> float:
    """Side of the square drive, within the piece."""
    return min(f.drive.square, 0.7 * f.width)


def _of_width(share: float) -> Formula:
    return lambda f: share * f.width


SOCKETS = (
    _socket(("socket", "external hexalobular socket"), False, standard_length),
    _socket(("deep socket", "spark plug socket"), False, deep_length),
    _socket(("impact socket",), True, standard_length),
    _socket(("deep impact socket",), True, deep_length),
    _round(
        ("bit socket",),
        length=practice(lambda f: f.nominal or f.drive.bit, Off(0.3, 0.3)),
        diameter=practice(lambda f: max(f.drive.end, 1.16 * f.s)),
        share=0.33,
        features=(
            ("bit", lambda f: min(1.16 * f.s, f.width)),
            ("body", lambda f: min(f.drive.shortest, 0.7 * f.length)),
            ("square", _square),
        ),
    ),
    _jointed("universal-joint socket", hand_nut_end, ISO_2725_1),
    _jointed("swivel impact socket", impact_nut_end, ISO_2725_2),
)

RANGE = Off(0.25, 0.26)
"""From the planning length to the ends of the remembered range of the drive, the widest of five drives."""
RATCHET_HEAD = from_memory(ISO_3315, lambda f: f.drive.ratchet_head, sure=True, off=Off(0.2, 0.1))
"""Width of a ratchet's head: a greatest one, so that real heads are rather narrower."""
_RATCHET_FEATURES = (("grip", _of_width(0.55)), ("shank", _of_width(0.4)), ("square", _square))

IMPACT_WIDER = 1.15
"""Diameter of an impact attachment over that of a hand-driven one; common practice, no source."""


def _adapter(kind: str, wider: float, share: float) -> Rule:
    return Rule(
        kinds=(kind,),
        length=practice(lambda f: _larger(f, "adapter")),
        width=practice(lambda f: wider * _larger(f, "end")),
        height=practice(lambda f: wider * _larger(f, "end")),
        grams=filled(share, Off(0.4, 0.35)),
        features=(
            ("tip", lambda f: min(_other(f, "end") * 0.8, f.width)),
            ("foot", lambda f: min(wider * f.drive.end, f.width)),
            ("square", lambda f: min(_other(f, "square"), 0.7 * f.width)),
        ),
        round=True,
    )


def _other(f: Facts, column: str) -> float:
    return float(getattr(f.other_square or f.drive, column))


def _larger(f: Facts, column: str) -> float:
    return max(float(getattr(f.drive, column)), _other(f, column))


DRIVE_TOOLS = (
    Rule(
        kinds=("ratchet",),
        length=from_memory(ISO_3315, lambda f: f.drive.ratchet, sure=True, off=RANGE),
        width=RATCHET_HEAD,
        height=practice(lambda f: f.drive.ratchet_rise * f.width),
        grams=filled(0.13),
        features=_RATCHET_FEATURES,
    ),
    Rule(
        kinds=("flex-head ratchet",),
        length=practice(lambda f: 1.17 * f.drive.ratchet, RANGE),
        width=RATCHET_HEAD,
        height=practice(lambda f: f.drive.ratchet_rise * f.width),
        grams=filled(0.16),
        features=_RATCHET_FEATURES,
    ),
    Rule(
        kinds=("stubby ratchet",),
        length=practice(lambda f: 0.62 * f.drive.ratchet),
        width=RATCHET_HEAD,
        height=practice(lambda f: f.drive.ratchet_rise * f.width),
        grams=filled(0.16),
        features=_RATCHET_FEATURES,
    ),
    Rule(
        kinds=("spinner handle",),
        length=practice(lambda f: 120 + 4 * f.drive.square),
        width=practice(lambda f: 22 + 1.2 * f.drive.square),
        height=practice(lambda f: f.width),
        grams=filled(0.09),
        features=(
            ("handle", lambda f: 0.6 * f.length),
            ("blade", lambda f: min(1.3 * f.drive.square, f.width)),
            ("square", _square),
        ),
        round=True,
    ),
    Rule(
        kinds=("breaker bar",),
        length=from_memory(ISO_3315, lambda f: f.drive.hinged, off=Off(0.25, 0.25)),
        width=practice(lambda f: 1.1 * f.drive.end),
        height=practice(lambda f: f.drive.end + f.drive.hole),
        grams=filled(0.28),
        features=(("grip", _of_width(0.8)), ("shank", _of_width(0.6)), ("square", _square)),
    ),
    Rule(
        kinds=("sliding T-handle",),
        length=from_memory(ISO_3315, lambda f: f.drive.sliding, off=Off(0.4, 0.05)),
        width=practice(lambda f: f.drive.end + 1.5 * f.drive.hole),
        height=practice(lambda f: f.drive.end),
        grams=filled(0.19),
        features=(
            ("bar", lambda f: min(0.6 * f.height, 0.5 * f.width)),
            ("slider", lambda f: f.height),
            ("square", _square),
        ),
    ),
    _round(
        ("extension", "wobble extension"),
        length=practice(lambda f: f.nominal, NOMINAL),
        diameter=from_memory(ISO_3316, lambda f: f.drive.extension_head),
        share=0.32,
        features=(
            ("shank", _of_width(0.62)),
            ("tip", _of_width(0.7)),
            ("head", lambda f: min(2 * f.drive.hole, 0.4 * f.length)),
            ("square", _square),
        ),
        check=length_within(20, 1000),
    ),
    _adapter("adapter", 1.0, 0.45),
    _adapter("impact adapter", IMPACT_WIDER, 0.35),
    _round(
        ("universal joint",),
        length=from_memory(ISO_3316, lambda f: f.drive.joint, off=Off(0.3, 0.1)),
        diameter=from_memory(ISO_3316, lambda f: f.drive.joint_head),
        share=0.4,
        features=(("neck", _of_width(0.75)), ("square", _square)),
    ),
    _round(
        ("impact universal joint",),
        length=practice(lambda f: f.drive.joint),
        diameter=practice(lambda f: IMPACT_WIDER * f.drive.joint_head),
        share=0.45,
        features=(("neck", _of_width(0.75)), ("square", _square)),
    ),
    Rule(
        kinds=("socket rail",),
        length=practice(lambda f: f.nominal, NOMINAL),
        width=practice(30),
        height=practice(20),
        grams=filled(0.1),
        check=length_within(80, 1000),
    ),
    Rule(
        kinds=("torque wrench",),
        length=practice(lambda f: f.drive.torque, Off(0.25, 0.3)),
        width=practice(lambda f: f.drive.torque_head),
        height=practice(lambda f: f.width),
        grams=filled(0.17),
        features=(("grip", _of_width(0.75)), ("shank", _of_width(0.5)), ("square", _square)),
    ),
)


DRIVE_RULES = SOCKETS + DRIVE_TOOLS
