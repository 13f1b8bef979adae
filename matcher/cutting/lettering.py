"""Letters of single lines, as a cutter or a plotter can follow them: strokes of our own on a grid of 4 by 8.

The baseline lies at 2 on the grid, capitals reach to 8, small letters to 6, tails down to 0.
"""

from __future__ import annotations

from typing import TypeAlias
from unicodedata import normalize

LetterLine: TypeAlias = tuple[tuple[int, int], ...]
"""An open line by its corners, in 1/320 mm."""

GLYPHS = {
    "0": "120307183847433212",
    "1": "172822 1232",
    "2": "07183847460242",
    "3": "084825354443321203",
    "4": "32380444",
    "5": "4808053544433202",
    "6": "48280603123243443505",
    "7": "084812",
    "8": "15060718384746351504031232434435",
    "9": "02224447381807061545",
    "/": "0248",
    "-": "1535",
    ".": "2223",
    ",": "2312",
    ":": "2223 2526",
    ";": "2312 2526",
    "+": "2327 0545",
    "=": "0444 0646",
    "_": "0242",
    "*": "2327 0446 0644",
    "'": "2827",
    '"': "1817 3837",
    "(": "38272332",
    ")": "18272312",
    "#": "1218 3238 0444 0646",
    "%": "0248 0708181707 3233434232",
    "&": "42061838360403123244",
    "°": "1718282717",
    "Ø": "120307183847433212 0248",
    "A": "0206284642 0444",
    "B": "02083847463505 3544433202",
    "C": "4738180703123243",
    "D": "02082846442202",
    "E": "48080242 0535",
    "F": "480802 0535",
    "G": "47381807031232434525",
    "H": "0208 4248 0545",
    "I": "1232 1838 2228",
    "J": "4843321203",
    "K": "0208 4804 1542",
    "L": "080242",
    "M": "0208254842",
    "N": "02084248",
    "O": "120307183847433212",
    "P": "02083847463505",
    "Q": "120307183847433212 2442",
    "R": "02083847463505 2542",
    "S": "473818070615354443321203",
    "T": "0848 2822",
    "U": "080312324348",
    "V": "082248",
    "W": "0812253248",
    "X": "0248 0842",
    "Y": "082548 2522",
    "Z": "08480242",
    "a": "4642 4536160503123243",
    "b": "0802 0516364543321203",
    "c": "4536160503123243",
    "d": "4842 4536160503123243",
    "e": "044445361605031242",
    "f": "48382722 1636",
    "g": "4641301001 4536160503123243",
    "h": "0802 0516364542",
    "i": "2226 2728",
    "j": "36312010 3738",
    "k": "0802 4604 1542",
    "l": "2822",
    "m": "0206 05162522 25364542",
    "n": "0206 0516364542",
    "o": "120305163645433212",
    "p": "0600 0516364543321203",
    "q": "4640 4536160503123243",
    "r": "0206 05163645",
    "s": "45361605143443321203",
    "t": "28233242 1636",
    "u": "0603123243 4642",
    "v": "062246",
    "w": "0612253246",
    "x": "0246 0642",
    "y": "0622 4610",
    "z": "06460242",
    " ": "",
}
"""Strokes of a character, each a row of corners, x and y a digit each."""
UNKNOWN = "0208484202"
"""A box stands for a character without strokes."""
ALIKE = str.maketrans({"×": "x", "–": "-", "—": "-", "−": "-", "⁄": "/", "′": "'", "″": '"', "’": "'"})
"""Characters drawn as others."""
RATIO = 0.65
"""Width of a character as a share of the height of the writing, as labels are given room for."""
CELL, CAPITAL, MIDDLE = 5.5, 6, 5
"""On the grid: from a character to the next, height of a capital, and where its middle lies."""
CAPITALS = 0.8
"""Height of capitals as a share of the height of the writing, so that tails stay within what is kept clear."""


def strokes(text: str, x: int, y: int, height: int, upright: bool) -> tuple[LetterLine, ...]:
    """A text ``height`` high as strokes, its middle at (x, y), reading to the right or ``upright`` to the back."""
    plain = normalize("NFKD", text.translate(ALIKE)).translate(ALIKE)
    letters = [letter for letter in plain if letter.isprintable() and not 0x300 <= ord(letter) <= 0x36F]
    wide, high = RATIO * height / CELL, CAPITALS * height / CAPITAL
    start = -wide * (CELL * (len(letters) - 1) + 4) / 2

    def at(n: int, across: str, along: str) -> tuple[int, int]:
        right, up = start + wide * (CELL * n + int(across)), high * (int(along) - MIDDLE)
        return (round(x - up), round(y + right)) if upright else (round(x + right), round(y + up))

    return tuple(
        tuple(at(n, across, along) for across, along in zip(stroke[::2], stroke[1::2], strict=True))
        for n, letter in enumerate(letters)
        for stroke in GLYPHS.get(letter, UNKNOWN).split()
    )
