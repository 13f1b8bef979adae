"""Dimension rules of hammers, punches, chisels, pry bars, files, saws, scrapers, knives and clamps."""

from __future__ import annotations

from matcher.tools.rules import NOMINAL, Facts, Formula, Off, Rule, filled, grown, length_within, practice, weighed


def _head_grams(f: Facts) -> float:
    """Weight of a hammer's head: as its size says, or by its length as of machinists' hammers."""
    return f.head_grams or min(max(300 * (f.length / 300) ** 6.67, 50), 6000)


HANDLED = 1.3
"""Mass of a hammer over that of its head; from memory."""


def _handle_length(f: Facts) -> float:
    """Length of a hammer for one hand by the weight of its head."""
    return float(300 * (f.head_grams / 300) ** 0.15)


def _sledge_length(f: Facts) -> float:
    """Short handles for one hand up to 1.5 kg, from 3.5 kg on long ones for two."""
    return min(max(280, 280 + 0.31 * (f.head_grams - 1500)), 900)


SLEDGE_LENGTH = Off(0.4, 0.4)
"""Heads of 1.5 to 3.5 kg come on handles for one hand and for two; common practice, no source."""


def _hammer(kind: str, length: Formula, wide: float, thick: float, off: Off | None = None, power: float = 0.22) -> Rule:
    """A hammer whose head is ``wide`` mm across at 300 g and ``thick`` mm through at 500 g.

    ``off`` is its length's; the head's width grows with a ``power`` of its weight.
    """
    return Rule(
        kinds=(kind,),
        length=practice(length, off),
        width=practice(lambda f: wide * (_head_grams(f) / 300) ** power),
        height=practice(lambda f: max(thick, thick * (_head_grams(f) / 500) ** (1 / 3))),
        grams=weighed(lambda f: HANDLED * _head_grams(f), Off(0.25, 0.25)),
        features=(("head", lambda f: min(f.height, f.length / 3)), ("handle", lambda f: min(30, f.width / 2))),
    )


STRIKING_RULES = (
    _hammer("hammer", _handle_length, 108, 30),
    _hammer("ball-peen hammer", _handle_length, 95, 32),
    _hammer("cross-peen hammer", _handle_length, 105, 26),
    _hammer("sledge hammer", _sledge_length, 66, 32, SLEDGE_LENGTH, power=0.36),
    _hammer("soft-face hammer", _handle_length, 100, 38),
    _hammer("dead-blow hammer", _handle_length, 95, 48),
    _hammer("mallet", _handle_length, 78, 60, power=1 / 3),
    Rule(
        kinds=("punch",),
        length=practice(150, Off(0.35, 0.4)),
        width=practice(lambda f: max(12, f.s + 4)),
        height=practice(lambda f: f.width),
        grams=filled(0.45),
        features=(("tip", lambda f: min(max(f.s, 2), f.width)),),
        round=True,
    ),
    Rule(
        kinds=("chisel",),
        length=practice(lambda f: min(max(125, 8 * f.s), 300)),
        width=practice(lambda f: max(f.s, 18)),
        height=practice(lambda f: max(12, 0.6 * f.s)),
        grams=filled(0.55, Off(0.3, 0.3)),
        features=(("body", lambda f: min(max(12, 0.6 * f.s), f.width)),),
    ),
    Rule(
        kinds=("pry bar",),
        length=practice(lambda f: f.nominal, NOMINAL),
        width=practice(lambda f: min(max(0.1 * f.length, 20), 60)),
        height=practice(lambda f: min(max(0.1 * f.length, 20), 60)),
        grams=grown(1500, 610, 1.9),
        features=(("shank", lambda f: 0.6 * f.width),),
        check=length_within(80, 2000),
    ),
    Rule(
        kinds=("file",),
        length=practice(lambda f: f.nominal + 110, Off(0.1, 0.1)),
        width=practice(lambda f: max(32, 0.1 * f.length)),
        height=practice(32),
        grams=grown(200, 310, 2.6),
        features=(("handle", lambda f: min(110, 0.6 * f.length)), ("blade", lambda f: 0.85 * f.width)),
        check=length_within(50, 500),
    ),
    Rule(
        kinds=("needle file",),
        length=practice(lambda f: f.nominal, NOMINAL),
        width=practice(10),
        height=practice(8),
        grams=filled(0.12),
        features=(("handle", lambda f: 0.5 * f.length), ("blade", lambda f: 0.6 * f.width)),
        check=length_within(80, 320),
    ),
    Rule(
        kinds=("scraper",),
        length=practice(lambda f: f.nominal, NOMINAL),
        width=practice(40, Off(0.4, 0.5)),
        height=practice(30),
        grams=filled(0.06),
        features=(("handle", lambda f: 0.5 * f.length), ("blade", lambda f: 0.6 * f.width)),
        check=length_within(100, 400),
    ),
    Rule(("knife",), practice(160, Off(0.35, 0.25)), practice(38), practice(25), filled(0.1)),
    Rule(
        kinds=("clamp",),
        length=practice(lambda f: 1.35 * f.nominal + 80, Off(0.3, 0.3)),
        width=practice(lambda f: min(max(0.5 * f.length, 60), 150), Off(0.4, 0.3)),
        height=practice(lambda f: min(max(0.12 * f.length, 20), 40)),
        grams=filled(0.13, Off(0.7, 0.7)),
        features=(("bar", lambda f: min(25, f.width / 3)),),
        check=length_within(20, 1500),
    ),
    Rule(("hacksaw",), practice(420), practice(140), practice(35), filled(0.038), (("frame", lambda _f: 25),)),
)
