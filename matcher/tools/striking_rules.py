"""Dimension rules of hammers, punches, chisels, pry bars, files, saws, scrapers, knives and clamps."""

from __future__ import annotations

from matcher.tools import masses
from matcher.tools.rules import Facts, Formula, Rule, length_within, practice


def _share(share: float) -> Formula:
    return lambda f: masses.share_of_box(share, f.length, f.width, f.height)


def _head_grams(f: Facts) -> float:
    """Weight of a hammer's head: as its size says, or by its length as of machinists' hammers."""
    return f.head_grams or min(max(300 * (f.length / 300) ** 6.67, 50), 6000)


def _handle_length(f: Facts) -> float:
    """Length of a hammer for one hand by the weight of its head."""
    return float(300 * (f.head_grams / 300) ** 0.15)


def _sledge_length(f: Facts) -> float:
    """Short handles for one hand up to 1.5 kg, from 3.5 kg on long ones for two."""
    return min(max(280, 280 + 0.31 * (f.head_grams - 1500)), 900)


def _hammer(kind: str, length: Formula, wide: float, thick: float) -> Rule:
    """A hammer whose head is ``wide`` mm across at 300 g and ``thick`` mm through at 500 g."""
    return Rule(
        kinds=(kind,),
        length=practice(length),
        width=practice(lambda f: wide * (_head_grams(f) / 300) ** 0.22),
        height=practice(lambda f: max(thick, thick * (_head_grams(f) / 500) ** (1 / 3))),
        grams=lambda f: 1.4 * _head_grams(f),
        features=(("head", lambda f: min(f.height, f.length / 3)), ("handle", lambda f: min(30, f.width / 2))),
    )


STRIKING_RULES = (
    _hammer("hammer", _handle_length, 108, 30),
    _hammer("ball-peen hammer", _handle_length, 95, 32),
    _hammer("cross-peen hammer", _handle_length, 105, 26),
    _hammer("sledge hammer", _sledge_length, 100, 36),
    _hammer("soft-face hammer", _handle_length, 100, 38),
    _hammer("dead-blow hammer", _handle_length, 95, 48),
    _hammer("mallet", _handle_length, 95, 60),
    Rule(
        kinds=("punch",),
        length=practice(150),
        width=practice(lambda f: max(12, f.s + 4)),
        height=practice(lambda f: f.width),
        grams=_share(0.7),
        features=(("tip", lambda f: min(max(f.s, 2), f.width)),),
        round=True,
    ),
    Rule(
        kinds=("chisel",),
        length=practice(lambda f: min(max(125, 8 * f.s), 300)),
        width=practice(lambda f: max(f.s, 18)),
        height=practice(lambda f: max(12, 0.6 * f.s)),
        grams=_share(0.7),
        features=(("body", lambda f: min(max(12, 0.6 * f.s), f.width)),),
    ),
    Rule(
        kinds=("pry bar",),
        length=practice(lambda f: f.nominal),
        width=practice(lambda f: min(max(0.1 * f.length, 20), 60)),
        height=practice(lambda f: min(max(0.1 * f.length, 20), 60)),
        grams=_share(0.3),
        features=(("shank", lambda f: 0.6 * f.width),),
        check=length_within(80, 2000),
    ),
    Rule(
        kinds=("file",),
        length=practice(lambda f: f.nominal + 110),
        width=practice(lambda f: max(32, 0.1 * f.length)),
        height=practice(32),
        grams=_share(0.35),
        features=(("handle", lambda f: min(110, 0.6 * f.length)), ("blade", lambda f: 0.85 * f.width)),
        check=length_within(50, 500),
    ),
    Rule(
        kinds=("needle file",),
        length=practice(lambda f: f.nominal),
        width=practice(10),
        height=practice(8),
        grams=_share(0.3),
        features=(("handle", lambda f: 0.5 * f.length), ("blade", lambda f: 0.6 * f.width)),
        check=length_within(80, 320),
    ),
    Rule(
        kinds=("scraper",),
        length=practice(lambda f: f.nominal),
        width=practice(40),
        height=practice(30),
        grams=_share(0.2),
        features=(("handle", lambda f: 0.5 * f.length), ("blade", lambda f: 0.6 * f.width)),
        check=length_within(100, 400),
    ),
    Rule(("knife",), practice(160), practice(38), practice(25), _share(0.15)),
    Rule(
        kinds=("clamp",),
        length=practice(lambda f: 1.35 * f.nominal + 80),
        width=practice(lambda f: min(max(0.5 * f.length, 60), 150)),
        height=practice(lambda f: min(max(0.12 * f.length, 20), 40)),
        grams=_share(0.12),
        features=(("bar", lambda f: min(25, f.width / 3)),),
        check=length_within(20, 1500),
    ),
    Rule(("hacksaw",), practice(420), practice(140), practice(35), _share(0.06), (("frame", lambda _f: 25),)),
)
