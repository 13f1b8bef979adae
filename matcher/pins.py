"""Pins as a planner says them, and which drawers they mean."""

from __future__ import annotations

import re

from matcher.errors import UsageError
from matcher.records import Drawer, Pin

_SAID = (
    (re.compile(r"keep (?P<place>.+) free"), "keep free"),
    (re.compile(r"(?P<group>.+) apart from (?P<other>.+)"), "apart"),
    (re.compile(r"(?P<group>.+?) not in (?P<place>(?:drawer|bank|row) .+)"), "not in"),
    (re.compile(r"(?P<group>.+?) in (?P<place>(?:drawer|bank|row) .+)"), "in"),
)
EXPECTED = (
    "expected one of: GROUP in PLACE; GROUP not in PLACE; GROUP apart from GROUP; keep PLACE free; "
    "where PLACE is drawer NAME, bank NUMBER, row NUMBER, or several of these with commas"
)


def pin_words(pin: Pin) -> str:
    """A pin as a planner would say it."""
    said = {"drawer": pin.drawer, "bank": pin.bank, "row": pin.row}
    place = ", ".join(f"{word} {value}" for word, value in said.items() if value not in ("", None))
    if pin.rule == "apart":
        return f"{pin.group} apart from {pin.other}"
    if pin.rule == "keep free":
        return f"keep {place} free"
    return f"{pin.group} {pin.rule} {place}"


def parse_pin(text: str) -> Pin:
    """A pin from the words of `pin_words`, for all sets and cabinets.

    Raises
    ------
    UsageError
        The words are no pin.
    """
    for pattern, rule in _SAID:
        said = pattern.fullmatch(" ".join(text.split()))
        if said:
            words = said.groupdict()
            place = _place(text, words.get("place"))
            return Pin(rule, "", "", words.get("group") or "", words.get("other") or "", *place)  # type: ignore[arg-type]
    raise UsageError(f"pin {text!r}: {EXPECTED}")


def _place(text: str, words: str | None) -> tuple[str, int | None, int | None]:
    """Drawer, bank and row of a place in words."""
    found: dict[str, str] = {}
    for part in words.split(", ") if words else ():
        word, _, value = part.partition(" ")
        if word not in ("drawer", "bank", "row") or not value or word in found:
            raise UsageError(f"pin {text!r}: {EXPECTED}")
        found[word] = value
    numbers = [found.get(word) for word in ("bank", "row")]
    if any(number is not None and not number.isdecimal() for number in numbers):
        raise UsageError(f"pin {text!r}: expected a whole number for a bank or row")
    bank, row = (None if number is None else int(number) for number in numbers)
    return found.get("drawer", ""), bank, row


def matches(pin: Pin, drawer: Drawer) -> bool:
    """Whether a pin's drawer, bank and row (those given) all mean this drawer."""
    in_bank = pin.bank is None or drawer.bank <= pin.bank <= drawer.last_bank
    return in_bank and pin.drawer in ("", drawer.name) and pin.row in (None, drawer.row)
