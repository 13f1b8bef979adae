"""How long words are in a common sans serif, and as much of them as goes into a room."""

from __future__ import annotations

from unicodedata import east_asian_width


def fitted(text: str, room: float, size: float) -> str:
    """As much of a text as goes into the room at a font size; what is cut off shows as an ellipsis."""
    if extent(text, size) <= room + 1e-6:
        return text
    while text and extent(text + "…", size) > room:
        text = text[:-1]
    return f"{text.rstrip()}…" if text else ""


def extent(text: str, size: float) -> float:
    """Length of a text in a common sans serif, on the safe side: 0.58 em a character, 1.1 em a wide one."""
    return size * sum(1.1 if east_asian_width(mark) in "WF" else 0.58 for mark in text)


def shrunk(text: str, room: float, size: float, least: float) -> float:
    """The font size at which a text goes into the room, no larger than ``size`` and no smaller than ``least``."""
    return max(least, min(size, size * room / max(extent(text, size), 1e-9)))


def wrapped(text: str, room: float, size: float, first: float = 0.0) -> list[str]:
    """A text in lines that go into the room, broken at spaces; a word longer than a line is cut off.

    The first line begins ``first`` further in.
    """
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and extent(longer, size) <= room - (first if len(lines) == 1 else 0):
            lines[-1] = longer
        elif lines or extent(word, size) <= room - first:
            lines.append(fitted(word, room, size))
        else:
            lines += ["", fitted(word, room, size)]
    return lines


NARROW = {"/": 0.34, "-": 0.36, ".": 0.32, ",": 0.32, " ": 0.32, "(": 0.39, ")": 0.39, "i": 0.28, "l": 0.28, "t": 0.4}
"""Widths of narrow signs in a wide sans serif, in font sizes."""


def closely(text: str, size: float) -> float:
    """Length of a short text such as a tool's size, sign by sign: 0.64 em a figure or letter, less a narrow sign."""
    return size * sum(NARROW.get(mark, 1.1 if east_asian_width(mark) in "WF" else 0.64) for mark in text)
