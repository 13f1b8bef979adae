"""Dimension rules of hex keys and hexalobular keys."""

from __future__ import annotations

from matcher.tools import masses
from matcher.tools.rules import Facts, Measure, Off, Rule, derived, from_memory, practice, read, weighed
from matcher.tools.series import HexKey, hex_key, hex_key_for, long_arm

ISO_2936 = "ISO 2936 hex keys"
ASME_B18_3 = "ASME B18.3 hex keys"


def _key(f: Facts) -> HexKey:
    return hex_key_for(f.s) if f.tip == "T" else hex_key(f.s, f.inch)


def _key_grams(f: Facts) -> float:
    flats = f.s if f.tip != "T" else _key(f).flats
    return masses.hex_bar(flats, f.length + f.width - flats)


def _arm(f: Facts) -> float:
    return min(f.height, f.width)


_BAR = Off(0.15, 0.05)
"""A hexagonal bar of greatest arms: real ones weigh hardly more."""
LONG_OFF, SHORT_OFF = Off(0.12, 0.03), Off(0.25, 0.03)
"""Metric keys of the older series DIN 911, still sold, have shorter arms, the short one most; from memory."""


def _bent(length: Measure, width: Measure, height: Measure, *kinds: str) -> Rule:
    """A key bent from a bar: its long arm, its short arm, and the bar's extent over corners."""
    return Rule(
        kinds=kinds,
        length=length,
        width=width,
        height=height,
        grams=weighed(_key_grams, _BAR),
        features=(("arm", _arm),),
    )


def _long(f: Facts) -> float:
    return _key(f).long


def _short(f: Facts) -> float:
    return _key(f).short


def _corners(f: Facts) -> float:
    return _key(f).corners


def _long_arm(f: Facts) -> float:
    return long_arm(f.s, f.inch)


LONG_ARMED = ("long-arm hex key", "ball-end long-arm hex key")
METRIC_KEY = _bent(
    read(ISO_2936, _long, off=LONG_OFF), read(ISO_2936, _short, off=SHORT_OFF), derived(ISO_2936, _corners), "hex key"
)
INCH_KEY = _bent(read(ASME_B18_3, _long), read(ASME_B18_3, _short), read(ASME_B18_3, _corners), "hex key")
HEXALOBULAR_KEY = _bent(
    practice(_long), practice(lambda f: 0.72 * _short(f), Off(0.2, 0.4)), practice(_corners), "hexalobular key"
)
T_KEY = Rule(
    kinds=("T-handle hex key",),
    length=practice(lambda f: f.nominal or 120 + 12 * f.s, Off(0.25, 0.3)),
    width=practice(lambda f: min(50 + 8 * f.s, 120)),
    height=practice(lambda f: min(14 + 1.2 * f.s, 28)),
    grams=weighed(lambda f: masses.hex_bar(f.s, f.length) + masses.PLASTIC * f.width * f.height**2),
    features=(("handle", lambda f: f.height), ("blade", lambda f: min(1.16 * f.s, f.width))),
)
METRIC_LONG_KEY = _bent(
    read(f"{ISO_2936}, extra long", _long_arm, off=LONG_OFF), METRIC_KEY.width, METRIC_KEY.height, *LONG_ARMED
)
INCH_LONG_KEY = _bent(practice(_long_arm), INCH_KEY.width, INCH_KEY.height, *LONG_ARMED)
REMEMBERED_KEY = _bent(
    from_memory(ASME_B18_3, _long, sure=True),
    from_memory(ASME_B18_3, _short, sure=True),
    from_memory(ASME_B18_3, _corners, sure=True),
    "hex key",
)
REMEMBERED_LONG_KEY = _bent(INCH_LONG_KEY.length, REMEMBERED_KEY.width, REMEMBERED_KEY.height, *LONG_ARMED)
METRIC_KEY_RULES = (METRIC_KEY, METRIC_LONG_KEY)
INCH_KEY_RULES = (INCH_KEY, INCH_LONG_KEY)
REMEMBERED_KEY_RULES = (REMEMBERED_KEY, REMEMBERED_LONG_KEY)
"""For the smallest and largest inch keys, whose rows were not read."""
KEY_RULES = (HEXALOBULAR_KEY, T_KEY)
