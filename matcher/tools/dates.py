"""Recognizes shop fractions that a spreadsheet turned into dates, such as 3/8 shown as 8-Mar."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

_MONTHS = (
    "jan ene gen",
    "feb fév",
    "mar mär mrz",
    "apr avr abr",
    "may mai mag",
    "jun juin giu",
    "jul juil lug",
    "aug aoû ago",
    "sep set",
    "oct okt ott",
    "nov",
    "dec dez déc dic",
)
"""Beginnings of the months' names in English, German, French, Spanish and Italian."""

_EPOCH = date(1899, 12, 30)  # day 0 of spreadsheet serial numbers
_SERIALS = range(11_000, 75_000)  # 1930 to 2105: below lie sizes, above nothing
_DENOMINATORS = (2, 4, 8, 16, 32, 64)

_PATTERNS = (
    r"(?P<y>[0-9]{4})-(?P<m>[0-9]{1,2})-(?P<d>[0-9]{1,2})(?:[ T][0-9:.]+)?",
    r"(?P<m>[0-9]{1,2})/(?P<d>[0-9]{1,2})/(?P<y>[0-9]{4}|[0-9]{2})(?: [0-9:.]+)?",
    r"(?P<d>[0-9]{1,2})\.(?P<m>[0-9]{1,2})\.(?P<y>[0-9]{4}|[0-9]{2})?(?: [0-9:.]+)?",
    r"(?P<d>[0-9]{1,2})[-. /]+(?P<name>[^\W\d]{3,9})\.?(?:[-, /]+(?P<y>[0-9]{4}|[0-9]{2}))?",
    r"(?P<name>[^\W\d]{3,9})\.?[-. /]+(?P<d>[0-9]{1,2})(?:[-, /]+(?P<y>[0-9]{4}|[0-9]{2}))?",
)


@dataclass(frozen=True, slots=True)
class Spoiled:
    """A date where a size was meant; ``was`` is the fraction it probably was, or nothing."""

    was: str


def spoiled(text: str) -> Spoiled | None:
    """What a date (or a date's serial number) was before the spreadsheet changed it; nothing if it is no date."""
    if text.isascii() and text.isdecimal() and int(text) in _SERIALS:
        day = _EPOCH + timedelta(days=int(text))
        return Spoiled(_fraction(day.year, day.month, day.day))
    for pattern in _PATTERNS:
        found = re.fullmatch(pattern, text.strip())
        if found:
            return _from_parts(found.groupdict())
    return None


def _from_parts(parts: dict[str, str | None]) -> Spoiled | None:
    name = parts.get("name")
    month = _month(name) if name else int(parts["m"] or 0)
    return Spoiled(_fraction(int(parts.get("y") or 0), month, int(parts["d"] or 0))) if month else None


def _month(name: str) -> int:
    """Number of a month by its name, or 0."""
    fits = (any(name.lower().startswith(begin) for begin in row.split()) for row in _MONTHS)
    return next((number for number, fit in enumerate(fits, start=1) if fit), 0)


def _fraction(year: int, month: int, day: int) -> str:
    """The shop fraction behind a date: 5/32 is read as May 1932, 1-3/8 as January 3, 2008, 3/8 as March 8."""
    short = year % 100
    if year and day == 1 and short in (32, 64):
        return f"{month}/{short}"
    if year and short in (2, 4, 8, 16) and day % 2 and day < short:
        return f"{month}-{day}/{short}"
    for top, bottom in ((month, day), (day, month)):
        if bottom in _DENOMINATORS and top % 2 and top < bottom:
            return f"{top}/{bottom}"
    return ""
