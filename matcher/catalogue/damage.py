"""What spreadsheets do to sizes: 3/8 becomes a date, and what kind of date tells which size it was."""

from __future__ import annotations

import re

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_OTHER_MONTHS = {"mrz": 3, "mär": 3, "avr": 4, "abr": 4, "mai": 5, "ago": 8, "okt": 10, "dez": 12, "dic": 12}
_MONTH = {**{name: at for at, name in enumerate(_MONTHS, 1)}, **_OTHER_MONTHS}
_ISO = re.compile(r"(?P<y>[0-9]{4})-(?P<a>[0-9]{1,2})-(?P<b>[0-9]{1,2})([ T].*)?")
_NUMERIC = re.compile(r"(?P<a>[0-9]{1,2})([/.])(?P<b>[0-9]{1,2})\2(?P<y>[0-9]{4}|[0-9]{2})")
_NAMED = re.compile(r"(?P<d>[0-9]{1,2})[-. /]+(?P<m>[^\W\d_]{3,9})\.?|(?P<m2>[^\W\d_]{3,9})\.?[-. /]+(?P<d2>[0-9]{1,2})")
_TIME = re.compile(r"[0-9]{1,2}:[0-9]{2}(:[0-9]{2})?")
_DAY_NUMBER = range(40_000, 60_000)
"""How a spreadsheet counts the days of the years 2009 to 2064."""


def date_hint(text: str) -> str:
    """A remark for an error message if ``text`` looks like what a spreadsheet makes of a size; else empty."""
    pair = _parts_of_date(text)
    if pair is None:
        return ""
    was = _fraction(pair) if pair else ""
    turned = f"turned {was} into a date" if was else "made this a date"
    return f"a spreadsheet has {turned}: format the column as text and type it again"


def day_number_hint(text: str) -> str:
    """The same for a date shown as a plain count of days, where no such number can be meant."""
    if re.fullmatch(r"[0-9]{5}", text) and int(text) in _DAY_NUMBER:
        return "a spreadsheet has made this a date, shown as its day number: format the column as text and type it again"
    return ""


def _parts_of_date(text: str) -> tuple[int, ...] | None:
    """(month, day, two digits of the year) as far as known, empty for a time of day, nothing if it is no date."""
    if _TIME.fullmatch(text):
        return ()
    if found := _ISO.fullmatch(text) or _NUMERIC.fullmatch(text):
        return int(found["a"]), int(found["b"]), int(found["y"]) % 100
    if found := _NAMED.fullmatch(text):
        month = _MONTH.get((found["m"] or found["m2"])[:3].lower())
        return (month, int(found["d"] or found["d2"])) if month else None
    return None


def _fraction(parts: tuple[int, ...]) -> str:
    """The shop fraction behind a date: 3/8 was March 8 or August 3, 1/32 was January 1932."""
    month, day, *year = parts
    pairs = [(month, day), (day, month), *((month, short) for short in year if day == 1)]
    for over, under in pairs:
        if under in (2, 4, 8, 16, 32, 64) and over < under and over % 2:
            return f"{over}/{under}"
    return ""
