"""Reads sizes and square drives as the trade writes them, exactly.

``13``, ``9/16``, ``1-1/16``, ``3/8"``, ``T25``, ``PH2``, ``5.5x125``, ``10x12``, ``M8``. Where a spreadsheet spoiled
one, the error says what it probably was.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from math import inf

from matcher.records import System, gram, inch, lb, mm, remembered
from matcher.tools.kinds import KINDS, Form, Kind
from matcher.tools.notation import NUMBER, SizingError, Unit, number, refusal, shown, tidy
from matcher.tools.threads import INCH, METRIC, thread

TIPS: Mapping[str, int] = {"": 0, "H": 0, "SL": 1, "PH": 2, "PZ": 3, "SQ": 4, "T": 5, "E": 6, "M": 7}
"""Screw tips in the order in which a series shows them: hexagon (H, or no letter), slotted, cross recess PH and PZ,
square, hexalobular T, external hexalobular E, twelve-point M."""

_TIP_STEP = 1_000_000  # more than any length in 1/320 mm that a size can have
_LARGEST = mm(1000)
_SMALLEST_METRIC = Fraction("0.7")  # across flats, ISO 2936, read at second hand
_TIMES = r"(?:(?<=[0-9\"])|(?<=mm)|(?<=in)) ?x ?(?=[0-9.])"
_DECIMAL_COMMA = r"(?<=[0-9]),(?=[0-9]{1,2}(?![0-9]))"
_WIDEST_BLADE, _SHORTEST_BLADE, _LONGEST_BLADE = 19, 20, 500  # mm; common practice, no source
_SPELLINGS = {"TX": "T", "S": "SL", "HEX": "H", "P": "PH", "#": "PH", "NO.": "PH"}
_WEIGHTS: Mapping[str, Callable[[Fraction], int]] = {
    "g": gram,
    "kg": lambda value: gram(value * 1000),
    "oz": lambda value: lb(value / 16),
    "lb": lb,
    "lbs": lb,
}
DRIVE_NAMES: tuple[str, ...] = ("1/4", "3/8", "1/2", "3/4", "1")
_FLATS_EXAMPLES: Mapping[System, str] = {
    "metric": "a metric size such as 13",
    "inch": "an inch size such as 3/8",
    "": "a size such as 13 or 3/8",
}
_METRIC_DRIVES = (
    ("6", "6.3", "6.35"),
    ("9.5", "9.525", "10"),
    ("12", "12.5", "12.7"),
    ("19", "19.05", "20"),
    ("25", "25.4"),
)


@dataclass(frozen=True, slots=True)
class ToolSize:
    """A size read exactly; lengths in 1/320 mm, ``mass`` in 10 micrograms.

    ``flats`` is the width across flats (of the larger opening), a slotted tip's blade width or a thread's diameter;
    ``smaller`` the other opening of a double-ended wrench; ``tip`` and ``number`` a lettered tip; ``length`` a nominal
    length; ``mass`` the weight of a hammer's head. ``rank`` orders sizes within a series, metric and inch alike.
    ``text`` is the tidy form, ``system`` the unit in which flats were read.
    """

    flats: int | None
    rank: int
    text: str
    smaller: int | None = None
    tip: str = ""
    number: int = 0
    length: int | None = None
    mass: int | None = None
    system: System = ""


@remembered(4096)
def parse_size(text: str, system: System, kind: str) -> ToolSize:
    """Read the size of a piece of ``kind``; ``system`` settles what a plain number means.

    Raises
    ------
    SizingError
        A ValueError whose text is what was expected, naming a fraction that was turned into a date.
    """
    known = KINDS[kind]
    return _READERS[known.form](tidy(text), system, known)


@remembered(256)
def parse_drive(text: str) -> int:
    """Exact width of a square drive, in 1/320 mm, from inches (``3/8``, ``0.375``) or ISO millimeters (``9.5 mm``).

    Raises
    ------
    SizingError
        It is none of the five drives.
    """
    example = "a square drive: 1/4, 3/8, 1/2, 3/4 or 1"
    written = tidy(text)
    value, mark = number(written, "drive", example)
    for name, metric in zip(DRIVE_NAMES, _METRIC_DRIVES, strict=True):
        in_inches = mark != "metric" and value == Fraction(name)
        if in_inches or (mark != "inch" and value in [Fraction(nominal) for nominal in metric]):
            return inch(Fraction(name))
    raise refusal("drive", written, example)


def drive_name(drive: int) -> str:
    """Name of a square drive by its exact width, e.g. ``3/8``."""
    return next(name for name in DRIVE_NAMES if inch(Fraction(name)) == drive)


def _measure(
    text: str, system: System, example: str, plain: System = "", metric_from: float = inf
) -> tuple[int, Unit, Fraction]:
    """Length in 1/320 mm, its unit and the number itself.

    ``plain`` is the unit where nothing says which; without one a number from ``metric_from`` on is metric, and one that
    no metric size is as small as is inch.
    """
    value, mark = number(text, "size", example)
    small: Unit | None = "inch" if value < _SMALLEST_METRIC else None
    unit = mark or system or plain or ("metric" if value >= metric_from else small)
    if unit is None:
        raise SizingError("system", f"metric or inch: the size {text} alone does not say")
    if system and unit != system:
        raise SizingError("size", f"{example}: {text} is {unit} where column system says {system}")
    length = mm(value) if unit == "metric" else inch(value)
    if not 0 < length <= _LARGEST:
        raise refusal("size", text, example)
    return length, unit, value


def _flats(text: str, system: System, kind: Kind) -> ToolSize:
    example = _FLATS_EXAMPLES[system]
    length, unit, value = _measure(text, system, example, "" if kind.has_system else "metric", kind.metric_from)
    _within_reach(length, text, example)
    return ToolSize(length, length, shown(value, unit), system=unit)


def _within_reach(flats: int, text: str, example: str) -> None:
    """No wrench is larger than 200 mm across flats: what is, was a date's number or an inch size taken for metric."""
    if flats > mm(200):
        raise refusal("size", text, example)


def _two_flats(text: str, system: System, kind: Kind) -> ToolSize:
    example = "two sizes such as 10x12 or 3/8x7/16"
    ends = re.split(r" ?x ?", text, flags=re.IGNORECASE)
    if len(ends) == 1 and kind.word == "ignition wrench":
        return _flats(text, system, kind)
    if len(ends) != 2:
        raise refusal("size", text, example)
    last_mark = re.search(r"[a-z\"']+$", ends[1], re.IGNORECASE)
    if last_mark and re.search("[0-9]$", ends[0]):
        ends[0] += last_mark[0]
    first, second = (_flats(end, system, kind) for end in ends)
    smaller, larger = sorted((first.flats or 0, second.flats or 0))
    return ToolSize(larger, larger, f"{first.text}x{second.text}", smaller=smaller, system=first.system)


def _tip(text: str, system: System, kind: Kind) -> ToolSize:
    """A tip, with the length of its blade behind it if that is written: ``PH2x100``, ``5.5x125``, ``1x5.5x125``."""
    *before, last = re.split(_TIMES, re.sub(_DECIMAL_COMMA, ".", text), flags=re.IGNORECASE)
    tip, thickness = (before or [last])[-1], before[:-1]
    if before and kind.bare == "SL" and not thickness and re.fullmatch(rf"{NUMBER}", tip) and not _is_length(last):
        tip, thickness, before = last, [tip], []
    if len(thickness) > (kind.bare == "SL"):
        raise refusal("size", text, _tip_example(kind))
    found = _bladed(tip, thickness, kind) if thickness else _single_tip(tip, system, kind)
    return _with_length(found, last, system, kind) if before else found


def _bladed(width: str, thickness: list[str], kind: Kind) -> ToolSize:
    """A slotted tip by its blade's thickness and width."""
    number(thickness[0], "size", _tip_example(kind))
    return _slotted(width, "metric", _tip_example(kind), f"{thickness[0]}x{width.replace(' ', '')}")


def _is_length(text: str) -> bool:
    """Whether a number behind a blade's is the blade's length: no blade is as wide."""
    value, unit = number(text, "size", "a blade's width or length")
    return unit == "inch" or value >= _SHORTEST_BLADE


def _with_length(tip: ToolSize, text: str, system: System, kind: Kind) -> ToolSize:
    """The tip with the length of what it is on, in its own unit unless that is marked."""
    example = f"{_tip_example(kind)}, with a length from {_SHORTEST_BLADE} to {_LONGEST_BLADE} mm behind it: PH2x100"
    length, unit, value = _measure(text, "", example, tip.system or system or "metric")
    if not mm(_SHORTEST_BLADE) <= length <= mm(_LONGEST_BLADE):
        raise refusal("size", text, example)
    return replace(tip, length=length, text=f"{tip.text}x{shown(value, unit)}{' in' * (unit == 'inch')}")


def _single_tip(text: str, system: System, kind: Kind) -> ToolSize:
    lettered = re.fullmatch(r"(?P<letters>[a-z]+|#|no\.)[ -]?(?P<rest>.+)", text, re.IGNORECASE)
    if not lettered:
        return _bare_tip(text, system, kind)
    letters = _SPELLINGS.get(lettered["letters"].upper(), lettered["letters"].upper())
    if letters == "SL":
        return _slotted(lettered["rest"], system, _tip_example(kind))
    if letters == "H":
        return _flats(lettered["rest"], system, kind)
    if letters not in TIPS or not re.fullmatch("[0-9]{1,3}", lettered["rest"]):
        raise refusal("size", text, _tip_example(kind))
    return _numbered(letters, int(lettered["rest"]))


def _tip_example(kind: Kind) -> str:
    bare = {"H": "5, 3/16 or T25", "SL": "5.5x125, 1x5.5, PH2 or T25", "T": "T25", "E": "E12"}
    return f"a size such as {bare[kind.bare]}"


def _bare_tip(text: str, system: System, kind: Kind) -> ToolSize:
    if kind.bare == "H":
        return _flats(text, system, kind)
    if kind.bare == "SL":
        return _slotted(text, system, _tip_example(kind))
    if not re.fullmatch("[0-9]{1,3}", text):
        raise refusal("size", text, _tip_example(kind))
    return _numbered(kind.bare, int(text))


def _slotted(text: str, system: System, example: str, written: str = "") -> ToolSize:
    width, unit, value = _measure(text, "", example, system or "metric")
    if width > mm(_WIDEST_BLADE):
        raise refusal("size", text, f"{example}; no blade is wider than {_WIDEST_BLADE} mm")
    return ToolSize(width, TIPS["SL"] * _TIP_STEP + width, written or shown(value, unit), tip="SL", system=unit)


def _numbered(tip: str, number: int) -> ToolSize:
    return ToolSize(None, TIPS[tip] * _TIP_STEP + number, f"{tip}{number}", tip=tip, number=number)


def _thread(text: str, system: System, _kind: Kind) -> ToolSize:
    """A thread by its nominal diameter; its pitch is kept in the text only."""
    diameter, unit = thread(text)
    if system and unit != system:
        raise SizingError("size", f"a thread such as {METRIC if system == 'metric' else INCH}: {text} is {unit}")
    width = mm(diameter) if unit == "metric" else inch(diameter)
    return ToolSize(width, width, text, system=unit)


def _square(text: str, _system: System, _kind: Kind) -> ToolSize:
    try:
        drive = parse_drive(text)
    except SizingError as wrong:
        raise SizingError("size", f"the other end's drive: {wrong.expected}") from wrong
    return ToolSize(None, drive, drive_name(drive), length=drive)


def _length(text: str, system: System, _kind: Kind) -> ToolSize:
    example = "a length such as 200 (mm) or 8 in"
    length, unit, value = _measure(text, "", example, system or "metric")
    return ToolSize(None, length, shown(value, unit) + (" in" if unit == "inch" else ""), length=length)


def _weight(text: str, system: System, _kind: Kind) -> ToolSize:
    example = "the weight of the head such as 500 g or 16 oz"
    found = re.fullmatch(rf"({NUMBER}) ?([a-z]*)\.?", text, re.IGNORECASE)
    unit = (found[2].lower() or ("oz" if system == "inch" else "g")) if found else ""
    if not found or unit not in _WEIGHTS:
        raise refusal("size", text, example)
    mass = _WEIGHTS[unit](Fraction(Decimal(found[1])))
    if not gram(20) <= mass <= gram(20_000):
        raise refusal("size", text, f"{example}, from 20 g to 20 kg")
    return ToolSize(None, mass, f"{found[1]} {unit}", mass=mass)


def _text(text: str, _system: System, _kind: Kind) -> ToolSize:
    return ToolSize(None, 0, text)


_READERS: Mapping[Form, Callable[[str, System, Kind], ToolSize]] = {
    "flats": _flats,
    "two flats": _two_flats,
    "tip": _tip,
    "thread": _thread,
    "drive": _square,
    "length": _length,
    "weight": _weight,
    "text": _text,
}
