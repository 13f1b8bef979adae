"""How long words are in a common sans serif, and as much of them as goes into a room."""

from __future__ import annotations

from unicodedata import east_asian_width

_SIGNS = {
    0.28: "'ijl",
    0.3: "IJ",
    0.32: " ,.",
    0.34: "/:;\\|",
    0.36: "f",
    0.38: "-",
    0.4: "()[]t",
    0.42: "!r",
    0.46: '"',
    0.5: "*_`",
    0.54: "?sz",
    0.56: "Lc",
    0.58: "Fk",
    0.6: "vxy",
    0.62: "PTYaeo",
    0.64: "$0123456789ESbdghnpqu{}",
    0.66: "K",
    0.7: "ABCRVXZ",
    0.74: "U",
    0.76: "HN",
    0.78: "&DG",
    0.8: "OQ",
    0.82: "w",
    0.84: "#+<=>^~",
    0.88: "M",
    0.96: "%",
    0.98: "m",
    1.0: "@W",
}
WIDTHS = {mark: width for width, marks in _SIGNS.items() for mark in marks}
"""Widths of signs in font sizes, rounded up: those of the font that is printed, wider than most that screens have."""
OTHER = 0.84
"""Of any other sign."""


def fitted(text: str, room: float, size: float) -> str:
    """As much of a text as goes into the room at a font size; what is cut off shows as an ellipsis."""
    if extent(text, size) <= room + 1e-6:
        return text
    while text and extent(text + "…", size) > room:
        text = text[:-1]
    return f"{text.rstrip()}…" if text else ""


def extent(text: str, size: float) -> float:
    """Length of a text in a wide sans serif, on the safe side: 1.1 em a sign as wide as it is high."""
    return size * sum(_width(mark) for mark in text)


def _width(mark: str) -> float:
    return WIDTHS.get(mark) or (1.1 if east_asian_width(mark) in "WF" else OTHER)


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
