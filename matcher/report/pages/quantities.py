"""Lengths and masses in both systems for one display switch: a page shows one of them and carries both.

An inch length that is a whole number of 1/64 is a shop fraction and exact; any other is a decimal rounded to 0.001 in.
"""

from __future__ import annotations

from math import ceil

from markupsafe import Markup

from matcher.records import PER_INCH, PER_KG, PER_LB, PER_MM, in_inches

SMALL, IN_MM = 0.1, PER_INCH / PER_MM


def length(*millimeters: float) -> Markup:
    """One or more lengths joined by a times sign, in millimeters and in inches."""
    metric = " × ".join(mm_words(value) for value in millimeters)
    inch = " × ".join(inch_words(value) for value in millimeters)
    exact = " ".join(repr(value) for value in millimeters)
    return Markup(
        '<span class="q" data-mm="{}"><span class="mm">{} mm</span><span class="in">{} in</span></span>'
    ).format(exact, metric, inch)


def shortfall(millimeters: float) -> Markup:
    """A length that is short, rounded up where there is little room: to 1 mm and to 0.1 in."""
    inches = ceil(millimeters / IN_MM * 10) / 10
    return Markup('<span class="mm">{} mm</span><span class="in">{:g} in</span>').format(ceil(millimeters), inches)


def mass(kilograms: float) -> Markup:
    """A mass in kilograms and in pounds."""
    return Markup(
        '<span class="q" data-kg="{}"><span class="mm">{} kg</span><span class="in">{} lb</span></span>'
    ).format(repr(kilograms), kg_words(kilograms), lb_words(kilograms))


def mm_words(millimeters: float) -> str:
    """One decimal, or two where one would hide a shortfall; none where it is zero."""
    digits = 1 if millimeters == 0 or abs(millimeters) >= SMALL else 2
    return _plain(f"{millimeters:,.{digits}f}")


def inch_words(millimeters: float) -> str:
    """A shop fraction to 1/64, or three decimals where it is not one."""
    return in_inches(round(millimeters * PER_MM))


def kg_words(kilograms: float) -> str:
    """Kilograms to 0.1."""
    return _plain(f"{kilograms:,.1f}")


def lb_words(kilograms: float) -> str:
    """Pounds to 0.1."""
    return _plain(f"{kilograms * PER_KG / PER_LB:,.1f}")


def money(amount: float) -> str:
    """An amount with two decimals."""
    return f"{amount:,.2f}"


def percent(share: float | None) -> str:
    """A share in percent; a dash where there is none."""
    return "–" if share is None else f"{100 * share:.1f} %"


def _plain(text: str) -> str:
    return text[:-2] if text.endswith(".0") else text
