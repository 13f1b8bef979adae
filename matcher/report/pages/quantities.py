"""Lengths and masses in both systems for one display switch: a page shows one of them and carries both.

An inch length that is a whole number of 1/64 is a shop fraction and exact; any other is rounded to 1/32 and has
its exact value as a title.
"""

from __future__ import annotations

from math import ceil

from markupsafe import Markup

from matcher.records import PER_KG, PER_LB, PER_MM, Toward, in_fraction, in_inches, in_shop_fraction

SMALL = 0.1


def length(*millimeters: float, toward: Toward | None = None) -> Markup:
    """One or more lengths joined by a times sign, in millimeters and in inches: rounded to the nearest."""
    metric = " × ".join(mm_words(value) for value in millimeters)
    inch = " × ".join(inch_words(value, toward) for value in millimeters)
    exact = " ".join(repr(value) for value in millimeters)
    lengths = [round(value * PER_MM) for value in millimeters]
    told = "" if all(map(in_shop_fraction, lengths)) else " × ".join(map(in_inches, lengths))
    title = Markup(' title="exactly {} in ({} mm)"').format(told, metric) if told else ""
    return Markup(
        '<span class="q" data-mm="{}"><span class="mm">{} mm</span><span class="in"{}>{} in</span></span>'
    ).format(exact, metric, title, inch)


def clear(*millimeters: float) -> Markup:
    """What is there, such as the inside of a drawer or what is to spare: inches rounded down."""
    return length(*millimeters, toward=Toward.DOWN)


def needed(*millimeters: float) -> Markup:
    """What there has to be, such as the outside of an organizer: inches rounded up."""
    return length(*millimeters, toward=Toward.UP)


def shortfall(millimeters: float) -> Markup:
    """A length that is short, rounded up where there is little room: to 1 mm and to 1/32 in."""
    inches = inch_words(millimeters, Toward.UP)
    return Markup('<span class="mm">{} mm</span><span class="in">{} in</span>').format(ceil(millimeters), inches)


def mass(kilograms: float) -> Markup:
    """A mass in kilograms and in pounds."""
    return Markup(
        '<span class="q" data-kg="{}"><span class="mm">{} kg</span><span class="in">{} lb</span></span>'
    ).format(repr(kilograms), kg_words(kilograms), lb_words(kilograms))


def mm_words(millimeters: float) -> str:
    """One decimal, or two where one would hide a shortfall; none where it is zero."""
    digits = 1 if millimeters == 0 or abs(millimeters) >= SMALL else 2
    return _plain(f"{millimeters:,.{digits}f}")


def inch_words(millimeters: float, toward: Toward | None = None) -> str:
    """A shop fraction to 1/64 where it is one, else a fraction to 1/32, rounded ``toward``."""
    return in_fraction(round(millimeters * PER_MM), toward)


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
