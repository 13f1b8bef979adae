"""Pins as a planner says them, and which drawers they mean."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from matcher.records import PER_MM, Drawer, Pin, UsageError, counted, in_inches, in_shop_fraction, inch, mm

_COUNTED = re.compile(r"keep (?P<count>[0-9]{1,4}) drawers?( of (?P<height>.+))? free")
_MANY = re.compile(r"(?P<count>[0-9]{1,4})( of (?P<height>.+))?")
_LENGTH = re.compile(r"(?P<number>[0-9]{1,5}(\.[0-9]{1,6})?|([0-9]{1,3} )?[0-9]{1,3}/[0-9]{1,3}) ?(?P<unit>mm|in)")
_SAID = (
    (re.compile(r"keep (?P<place>.+) free"), "keep free"),
    (re.compile(r"(?P<group>.+) together with (?P<other>.+)"), "together"),
    (re.compile(r"(?P<group>.+) apart from (?P<other>.+)"), "apart"),
    (re.compile(r"(?P<group>.+?) not in (?P<place>(?:drawer|bank|row) .+)"), "not in"),
    (re.compile(r"(?P<group>.+?) in (?P<place>(?:drawer|bank|row) .+)"), "in"),
)
EXPECTED = (
    "expected one of: GROUP in PLACE; GROUP not in PLACE; GROUP apart from GROUP; GROUP together with GROUP; "
    "keep PLACE free; keep NUMBER drawers of HEIGHT free; "
    "where PLACE is drawer NAME, bank NUMBER, row NUMBER, or several of these with commas"
)

EXPECTED_FREE = "expected a number of drawers and their least clear height: 2, 2 of 100 mm or 2 of 3 15/16 in"
LONGEST = mm(10_000)


def pin_words(pin: Pin) -> str:
    """A pin as a planner would say it."""
    said = {"drawer": pin.drawer, "bank": pin.bank, "row": pin.row}
    place = ", ".join(f"{word} {value}" for word, value in said.items() if value not in ("", None))
    if pin.rule == "apart":
        return f"{pin.group} apart from {pin.other}"
    if pin.rule == "together":
        return f"{pin.group} together with {pin.other}"
    if pin.count is not None:
        height = "" if pin.height is None else f" of {_height(pin.height)}"
        return f"keep {counted(pin.count, 'drawer')}{height} free"
    if pin.rule == "keep free":
        return f"keep {place} free"
    return f"{pin.group} {pin.rule} {place}"


def _height(length: int) -> str:
    """A height as it was given, as far as it tells: in inches where it is a shop fraction and no whole millimeter."""
    if in_shop_fraction(length) and length % PER_MM:
        return f"{in_inches(length)} in"
    return f"{(Decimal(length) / PER_MM).normalize():f} mm"


def parse_pin(text: str) -> Pin:
    """A pin from the words of `pin_words`, for all sets and cabinets.

    Raises
    ------
    UsageError
        The words are no pin.
    """
    words = " ".join(text.split())
    many = _COUNTED.fullmatch(words)
    if many:
        return _many_free(f"pin {text!r}", many)
    for pattern, rule in _SAID:
        said = pattern.fullmatch(words)
        if said:
            named = said.groupdict()
            place = _place(text, named.get("place"))
            return Pin(rule, "", "", named.get("group") or "", named.get("other") or "", *place)  # type: ignore[arg-type]
    raise UsageError(f"pin {text!r}: {EXPECTED}")


def parse_keep_free(text: str) -> Pin:
    """A pin from how many drawers stay free: ``2``, ``2 of 100 mm`` or ``2 of 3 15/16 in``.

    Raises
    ------
    UsageError
        The words are no number of drawers, or their height is none.
    """
    said = _MANY.fullmatch(" ".join(text.split()))
    if said is None:
        raise UsageError(f"keep free {text!r}: {EXPECTED_FREE}")
    return _many_free(f"keep free {text!r}", said)


def parse_together(text: str) -> tuple[Pin, ...]:
    """Pins from groups for one organizer: ``hex keys with pliers``, or more of them, each joined to the next.

    Raises
    ------
    UsageError
        The words are not two groups or more.
    """
    names = " ".join(text.split()).split(" with ")
    if len(names) < 2 or not all(map(str.strip, names)):
        raise UsageError(f"together {text!r}: expected groups for one organizer: GROUP with GROUP")
    return tuple(Pin("together", group=group, other=other) for group, other in pairwise(names))


def _many_free(told: str, said: re.Match[str]) -> Pin:
    height = None if said["height"] is None else _length(told, said["height"])
    if int(said["count"]) == 0:
        raise UsageError(f"{told}: {EXPECTED_FREE}")
    return Pin("keep free", count=int(said["count"]), height=height)


def _length(told: str, words: str) -> int:
    """A length in millimeters, or in inches with a shop fraction, rounded up."""
    said = _LENGTH.fullmatch(words)
    try:
        number = sum(map(Fraction, said["number"].split())) if said else Fraction(0)
    except ZeroDivisionError:
        number = Fraction(0)
    length = (inch if said and said["unit"] == "in" else mm)(number)
    if not 0 < length <= LONGEST:
        raise UsageError(f"{told}: {EXPECTED_FREE}")
    return length


def _place(text: str, words: str | None) -> tuple[str, int | None, int | None]:
    """Drawer, bank and row of a place in words."""
    found: dict[str, str] = {}
    for part in words.split(", ") if words else ():
        word, _, value = part.partition(" ")
        if word not in ("drawer", "bank", "row") or not value or word in found:
            raise UsageError(f"pin {text!r}: {EXPECTED}")
        found[word] = value
    numbers = [found.get(word) for word in ("bank", "row")]
    if any(number is not None and not re.fullmatch("[0-9]{1,3}", number) for number in numbers):
        raise UsageError(f"pin {text!r}: expected a whole number for a bank or row")
    bank, row = (None if number is None else int(number) for number in numbers)
    return found.get("drawer", ""), bank, row


def matches(pin: Pin, drawer: Drawer) -> bool:
    """Whether a pin's drawer, bank and row (those given) all mean this drawer, and it is as high as the pin asks."""
    if pin.height is not None and drawer.clear_height - drawer.liner < pin.height:
        return False
    in_bank = pin.bank is None or drawer.bank <= pin.bank <= drawer.last_bank
    return in_bank and pin.drawer in ("", drawer.name) and pin.row in (None, drawer.row)
