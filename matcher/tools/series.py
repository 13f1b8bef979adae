"""Published and from_memory series of tool dimensions, as tables. Millimeters, or inches where a name says so.

Classes: R1 read in two sources that agree, R2 read at second hand, D derived from those, M+ and M- from memory,
CP common practice, no source.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from matcher.tools.notation import SizingError
from matcher.tools.sizes import DRIVE_NAMES

# ------------------------------------------------------------------------------------------------------ square drives

_DRIVES: Mapping[str, tuple[float, ...]] = {
    #                   1/4    3/8    1/2   3/4     1
    "square":         (6.35, 9.525,  12.7, 19.05, 25.4),  # exact, R1
    "end":            (12.5,    20,    24,    38,   52),  # drive-end diameter d2, M-
    "impact_end":     (  14,    22,    30,    44,    54),  # the same of an impact socket, ISO 2725-2, M-
    "hole":           ( 8.5,  11.5,    16,    24,   28),  # drive hole depth q, M-
    "hand":           ( 2.2,   2.2,   3.0,   5.8,  8.9),  # hand socket d1 = 1.25 s + this, ISO 2725-1, M+ (1 in: M-)
    "impact":         ( 2.8,  4.05,   5.5,   9.9, 14.5),  # impact socket likewise, ISO 2725-2, M+ (1/2: M-, 1: CP)
    "smallest":       (   3,     4,     6,    12,   17),  # flats that a series of this drive begins and ends with, CP
    "largest":        (  17,    30,    42,    80,  120),
    "shortest":       (  25,    28,    38,    50,   62),  # standard length l = max(shortest, base + slope s), M-
    "base":           (  25,    24,    31,    31,   35),
    "slope":          (   0,   0.6,   0.6,  0.95,    1),
    "deep":           (  50,    64,    77,    95,  110),  # deep length, M- (1 in: CP)
    "bit":            (  37,    50,    60,    80,  100),  # whole length of a bit socket, CP
    "ratchet_head":   (  25,    35,    50,    70,   90),  # ISO 3315 from memory, M+
    "ratchet":        ( 130,   180,   260,   500,  700),  # planning length, M+ (1 in: CP)
    "ratchet_rise":   ( 1.1,   1.1,   0.9,   0.9,  0.9),  # height over the square / head width, CP
    "sliding":        ( 160,   250,   320,   510,  760),  # sliding T-handle, longest of the range, M-
    "hinged":         ( 165,   270,   490,   600,  800),  # hinged handle, M- (1 in: CP)
    "extension_head": (12.5,    20,    25,    38,   52),  # ISO 3316 from memory, M-
    "joint":          (  45,    68,    80,   110,  140),  # universal joint, M-
    "joint_head":     (  14,    23,    28,    42,   52),
    "adapter":        (  26,    34,    42,    62,   76),  # CP
    "torque":         ( 280,   400,   520,   850, 1250),  # CP
    "torque_head":    (  34,    40,    48,    70,   95),  # CP
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Drive:
    """Dimensions of everything on one square drive; the table says what each is and how far it is to be trusted."""

    name: str
    square: float
    end: float
    impact_end: float
    hole: float
    hand: float
    impact: float
    smallest: float
    largest: float
    shortest: float
    base: float
    slope: float
    deep: float
    bit: float
    ratchet_head: float
    ratchet: float
    ratchet_rise: float
    sliding: float
    hinged: float
    extension_head: float
    joint: float
    joint_head: float
    adapter: float
    torque: float
    torque_head: float


DRIVES: Mapping[str, Drive] = {
    name: Drive(name, **{column: row[place] for column, row in _DRIVES.items()})
    for place, name in enumerate(DRIVE_NAMES)
}

# ----------------------------------------------------------------------------------------------------------- hex keys

ISO_2936: Mapping[float, tuple[float, float]] = {
    # flats s: (short arm l2, standard long arm l1); R1 for 1.5 to 10, 12, 14, 17, 19 without halves, else R2
    0.7: (7, 33), 0.9: (11, 33), 1.3: (13, 41), 1.5: (15.5, 46.5), 2: (18, 52), 2.5: (20.5, 58.5), 3: (23, 66),
    3.5: (25.5, 69.5), 4: (29, 74), 4.5: (30.5, 80), 5: (33, 85), 6: (38, 96), 7: (41, 102), 8: (44, 108),
    9: (47, 114), 10: (50, 122), 11: (53, 129), 12: (57, 137), 13: (63, 145), 14: (70, 154), 15: (73, 161),
    16: (76, 168), 17: (80, 177), 18: (84, 188), 19: (89, 199), 21: (96, 211), 22: (102, 222), 23: (108, 233),
    24: (114, 248), 27: (127, 277), 29: (141, 311), 30: (142, 315), 32: (157, 347), 36: (176, 391),
}  # fmt: skip

ISO_2936_EXTRA_LONG: Mapping[float, float] = {
    # flats s: extra long arm l1, a maximum; R2
    1.3: 81, 1.5: 91.5, 2: 102, 2.5: 114.5, 3: 129, 3.5: 140, 4: 144, 4.5: 156, 5: 165, 6: 186, 7: 197, 8: 208, 9: 219,
    10: 234, 11: 247, 12: 262, 13: 277, 14: 294, 15: 307, 16: 307, 17: 337, 18: 358,
}  # fmt: skip

ASME_B18_3: Mapping[float, tuple[float, float, float]] = {
    # flats W: (across corners Y, short arm B, long arm C), maxima of the short-arm series in inches, R2
    0.05: (0.0560, 0.625, 1.750), 1 / 16: (0.0701, 0.656, 1.844), 5 / 64: (0.0880, 0.703, 1.969),
    3 / 32: (0.1058, 0.750, 2.094), 7 / 64: (0.1238, 0.797, 2.219), 1 / 8: (0.1418, 0.844, 2.344),
    9 / 64: (0.1593, 0.891, 2.469), 5 / 32: (0.1774, 0.938, 2.594), 3 / 16: (0.2135, 1.031, 2.844),
    7 / 32: (0.2490, 1.125, 3.094), 1 / 4: (0.2845, 1.219, 3.344), 5 / 16: (0.3570, 1.344, 3.844),
    3 / 8: (0.4300, 1.469, 4.344), 7 / 16: (0.5018, 1.594, 4.844), 1 / 2: (0.5735, 1.719, 5.344),
    9 / 16: (0.6452, 1.844, 5.844), 5 / 8: (0.7169, 1.969, 6.344), 3 / 4: (0.8603, 2.219, 7.344),
}  # fmt: skip

ASME_B18_3_REMEMBERED: Mapping[float, tuple[float, float]] = {
    # flats W: (short arm B, long arm C) of the same series in inches, from memory, M+; up to 1 in the rules of the rows
    # that were read, B = 2 W + 0.719 and C = 8 W + 1.344, tell the same
    0.028: (0.312, 1.312), 0.035: (0.438, 1.312), 7 / 8: (2.469, 8.344), 1: (2.719, 9.344), 1.25: (3.25, 11.5),
    1.5: (3.75, 13.5), 1.75: (4.25, 15.5), 2: (4.75, 17.5),
}  # fmt: skip
_CORNERS = 1.1472  # greatest Y over W of the rows that were read, D


@dataclass(frozen=True, slots=True)
class HexKey:
    """A hex key: flats, across corners, short arm and long arm in mm."""

    flats: float
    corners: float
    short: float
    long: float


def _metric_key(s: float) -> HexKey:
    short, long = ISO_2936[s]
    return HexKey(s, 1.14 * s - 0.03, short, long)  # e max by the rule that reproduces all nine values read, D


def _inch_key(*inches: float) -> HexKey:
    return HexKey(*(25.4 * value for value in inches))


_READ_INCH_KEYS = [_inch_key(w, *row) for w, row in ASME_B18_3.items()]
_REMEMBERED_INCH_KEYS = [_inch_key(w, _CORNERS * w, *row) for w, row in ASME_B18_3_REMEMBERED.items()]
_METRIC_KEYS = [_metric_key(s) for s in ISO_2936]
_NEAR = 0.01  # mm; a size off the 1/320 mm grid is still the size it was written as


def hex_key(s: float, inch: bool) -> HexKey:
    """Row of the hex key with ``s`` mm across flats.

    Raises
    ------
    SizingError
        The series has no such size.
    """
    found = _row(_READ_INCH_KEYS + _REMEMBERED_INCH_KEYS if inch else _METRIC_KEYS, s)
    if found is None:
        known = "0.028 to 2 in" if inch else "0.7 to 36"
        raise SizingError(
            "size", f"a hex key size whose arms are known here, {known}, or length, width and height given"
        )
    return found


def _row(keys: Sequence[HexKey], s: float) -> HexKey | None:
    return next((key for key in keys if abs(key.flats - s) < _NEAR), None)


def is_remembered_key(s: float) -> bool:
    """Whether the row of the inch hex key with ``s`` mm across flats is from memory."""
    return _row(_REMEMBERED_INCH_KEYS, s) is not None


def hex_key_for(across: float) -> HexKey:
    """Metric hex key of the first size of at least ``across`` mm: hexalobular keys have no series of their own, CP."""
    return next((key for key in _METRIC_KEYS if key.flats >= across), _METRIC_KEYS[-1])


def long_arm(s: float, inch: bool) -> float:
    """Long arm of a long-arm hex key: ISO 2936 extra long; of an inch key between the metric rows, CP.

    No inch key is shorter than those of the long series of ASME B18.3, 12 W + 2.344 in, from memory.

    Raises
    ------
    SizingError
        The metric series has no such size.
    """
    if inch:
        return max(between(ISO_2936_EXTRA_LONG, s), 12 * s + 25.4 * 2.344)
    found = next((length for flats, length in ISO_2936_EXTRA_LONG.items() if abs(flats - s) < _NEAR), None)
    if found is None:
        raise SizingError("size", "a long-arm hex key size from 1.3 to 18, or length, width and height given")
    return found


# ----------------------------------------------------------------------------------------------------- wrench openings


def inch_opening(flats: float) -> tuple[float, float]:
    """Least and greatest opening in mm of an inch wrench for ``flats`` mm (ASME B18.2.2 appendix, R1).

    In inches 1.005 W + 0.001 and 0.005 W + 0.004 more.
    """
    w = flats / 25.4
    least = 1.005 * w + 0.001
    return 25.4 * least, 25.4 * (least + 0.005 * w + 0.004)


# --------------------------------------------------------------------------------------------------------- screw tips

ISO_10664: Mapping[int, float] = {
    # hexalobular size: point to point A, R2
    6: 1.75, 8: 2.40, 10: 2.80, 15: 3.35, 20: 3.95, 25: 4.50, 27: 5.10, 30: 5.60, 40: 6.75,
}  # fmt: skip

_ACROSS: Mapping[str, Mapping[int, float]] = {
    # tip: number: across its points or its shank; from memory, M+, but for what is read above
    "T": {1: 0.9, 2: 1.0, 3: 1.2, 4: 1.35, 5: 1.5, 7: 2.1, 9: 2.6, **ISO_10664,
          35: 5.95, 45: 7.95, 47: 8.4, 50: 8.95, 55: 11.35, 60: 13.45, 70: 15.7, 80: 17.75, 90: 20.2, 100: 22.4},
    "E": {4: 3.9, 5: 4.75, 6: 5.75, 7: 6.2, 8: 7.55, 10: 9.45, 11: 10.1, 12: 11.2, 14: 12.95, 16: 14.8, 18: 16.7,
          20: 18.5, 22: 20.1, 24: 22.2, 28: 26.0, 32: 29.9},
    "PH": {0: 3, 1: 4.5, 2: 6, 3: 8, 4: 10},
    "PZ": {0: 3, 1: 4.5, 2: 6, 3: 8, 4: 10},
    "SQ": {0: 3, 1: 4, 2: 5, 3: 6, 4: 8},
    "M": {number: float(number) for number in range(3, 21)},
}  # fmt: skip


def nearest_number(tip: str, number: int) -> int:
    """The number of the tip that is nearest to ``number``, the smaller of two."""
    return min(sorted(_ACROSS[tip]), key=lambda known: abs(known - number))


def across(tip: str, number: int) -> float:
    """Millimeters across a lettered tip.

    Raises
    ------
    SizingError
        The tip has no such number.
    """
    sizes = _ACROSS[tip]
    if number not in sizes:
        known = ", ".join(str(size) for size in sorted(sizes))
        raise SizingError("size", f"a size {tip} of {known}, or length, width and height given")
    return sizes[number]


CROSS_BLADES: Mapping[int, float] = {0: 60, 1: 80, 2: 100, 3: 150, 4: 200}
"""Blade length B of ISO 8764 cross-recess screwdrivers by number, from memory, M+."""

SLOTTED_BLADES: Mapping[float, float] = {2.5: 75, 3.5: 100, 4: 100, 5.5: 125, 6.5: 125, 8: 150, 10: 175, 12: 200}
"""Blade width: the middle one of three lengths of ISO 2380-2, from memory, M-."""

# ------------------------------------------------------------------------------------------------------- taps and dies

TAPS: Mapping[float, float] = {
    3: 48, 4: 53, 5: 58, 6: 66, 8: 72, 10: 80, 12: 89, 14: 95, 16: 102, 18: 112, 20: 112, 22: 118, 24: 130, 30: 150,
}  # fmt: skip
"""Thread diameter: whole length of a tap, ISO 529 from memory, M+; used for inch taps too, CP."""

DIES: Sequence[tuple[float, float, float]] = (
    (2.6, 16, 5), (6, 20, 7), (9, 25, 9), (11, 30, 11), (14, 38, 14), (20, 45, 18), (24, 55, 22), (36, 65, 25),
)  # fmt: skip
"""Largest thread diameter, outside diameter and thickness of round dies, ISO 2568 from memory, M-."""

# ------------------------------------------------------------------------------------------------------------- pliers

PLIERS: Mapping[str, Mapping[float, tuple[float, float]]] = {
    # kind: nominal length: (head width, thickness); from memory, M-
    "combination pliers": {160: (25, 11), 180: (28, 12.5), 200: (32, 14), 250: (40, 20)},
    "diagonal cutters": {125: (22, 10), 160: (28, 12), 180: (32, 14), 200: (36, 16)},
    "long-nose pliers": {160: (19, 10), 200: (22, 12)},
}

PLIERS_GRAMS: Mapping[float, float] = {140: 95, 160: 180, 180: 240, 200: 310, 250: 480}
"""Nominal length: mass in grams, CP."""


def between(table: Mapping[float, float], at: float) -> float:
    """Value of a table at ``at``: straight between its rows, in proportion beyond its ends."""
    keys: Sequence[float] = sorted(table)
    place = bisect_left(keys, at)
    if place == 0:
        return table[keys[0]] * at / keys[0]
    if place == len(keys):
        return table[keys[-1]] * at / keys[-1]
    low, high = keys[place - 1], keys[place]
    return table[low] + (table[high] - table[low]) * (at - low) / (high - low)
