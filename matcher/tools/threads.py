"""Reads the thread that a tap or a die cuts: metric, inch by fraction or number, pipe."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

from matcher.tools.notation import NUMBER, SizingError, Unit, number, refusal

METRIC = "M8 or M8x1.25"
INCH = "5/16-18, 8-32 or 1/4 NPT"
_EXAMPLE = f"a thread such as {METRIC}, {INCH}"
_METRIC = re.compile(rf"(?:M ?({NUMBER})(?: ?x ?{NUMBER})?|({NUMBER}) ?x ?{NUMBER})", re.IGNORECASE)
_INCH = re.compile(
    r"(?P<before>[GR]|#|no\.?)? ?(?P<size>(?:[0-9]+[ -])?[0-9]+ ?/ ?[0-9]+|[0-9]{1,2})(?:\"| ?in)?"
    r"(?: ?- ?(?P<pitch>[0-9]{1,2}(?:\.5)?))?(?: ?(?P<series>UN[A-Z]{0,2}|BSW|BSF|NPTF?|NPSM?|BSPP?|BSPT))?",
    re.IGNORECASE,
)
_NUMBERED_FROM = 24
"""Threads to the inch from which a whole number is a number size: 8-32 is number 8, 1-8 one inch (ASME B1.1)."""
_PIPES: Mapping[str, str] = {
    # nominal: outside diameter in inches, ASME B1.20.1, from memory, M+
    "1/16": "0.3125", "1/8": "0.405", "1/4": "0.54", "3/8": "0.675", "1/2": "0.84", "3/4": "1.05", "1": "1.315",
    "1-1/4": "1.66", "1-1/2": "1.9", "2": "2.375",
}  # fmt: skip


def thread(text: str) -> tuple[Fraction, Unit]:
    """Nominal diameter of a thread and the unit it is in, from a tidy text; of a pipe thread its outside diameter.

    Raises
    ------
    SizingError
        It is no thread that taps are made for.
    """
    metric, inches = _METRIC.fullmatch(text), _INCH.fullmatch(text)
    if metric and 0 < float(metric[1] or metric[2]) <= 150:
        return Fraction(Decimal(metric[1] or metric[2])), "metric"
    if not inches or not (inches["pitch"] or inches["series"] or inches["before"] or "/" in inches["size"]):
        raise refusal("size", text, _EXAMPLE)
    diameter = _inches(inches)
    if not 0 < diameter <= 6:
        raise refusal("size", text, _EXAMPLE)
    return diameter, "inch"


def _inches(found: re.Match[str]) -> Fraction:
    """Diameter in inches; number sizes are 0.060 in + 0.013 in a number (ASME B1.1)."""
    size, before = found["size"], (found["before"] or "").upper()
    if before in ("G", "R") or (found["series"] or "").upper().startswith(("NP", "BSP")):
        if size.replace(" ", "-") not in _PIPES:
            raise SizingError("size", f"a pipe thread of {', '.join(_PIPES)}")
        return Fraction(_PIPES[size.replace(" ", "-")])
    if size.isdigit() and (before or float(found["pitch"] or 0) >= _NUMBERED_FROM):
        return Fraction(60 + 13 * int(size), 1000)
    return number(size, "size", _EXAMPLE)[0]
