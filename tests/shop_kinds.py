"""Kinds of tools with the sizes that shops stock, for generated catalogues. Common practice, no source."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

DRIVES: Mapping[str, tuple[str, str]] = {
    "1/4": ("4 4.5 5 5.5 6 7 8 9 10 11 12 13 14", "5/32 3/16 7/32 1/4 9/32 5/16 11/32 3/8 7/16 1/2 9/16"),
    "3/8": ("6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22", "1/4 5/16 3/8 7/16 1/2 9/16 5/8 11/16 3/4 13/16 7/8"),
    "1/2": (
        "10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 27 30 32",
        "3/8 7/16 1/2 9/16 5/8 11/16 3/4 13/16 7/8 15/16 1",
    ),
    "3/4": ("19 21 22 24 27 30 32 34 36 38 41 46", "3/4 7/8 15/16 1 1-1/16 1-1/8 1-1/4 1-3/8 1-1/2"),
    "1": ("24 27 30 32 36 41 46 50", "1 1-1/16 1-1/8 1-1/4 1-3/8 1-1/2 1-5/8"),
}
"""Sizes of sockets by square drive, metric and inch."""
SERIES = """
14 socket, 8 deep socket, 8 impact socket, 8 deep impact socket; by drive; by drive
5 universal-joint socket, 5 crowfoot wrench; by drive; by drive
6 spark plug socket; 14 16 18 21; 5/8 13/16; 3/8 1/2
6 bit socket; 4 5 6 7 8 10 12 14; 1/8 5/32 3/16 1/4 5/16 3/8 1/2; 3/8 1/2
6 bit socket; T10 T15 T20 T25 T27 T30 T40 T45 T50 T55 T60; ; 1/4 3/8 1/2
5 external hexalobular socket; E7 E8 E10 E11 E12 E14 E16 E18; ; 1/4 3/8 1/2
14 ratchet, 6 breaker bar, 6 universal joint, 5 torque wrench, 5 flex-head ratchet, 5 sliding T-handle; ; ; any
11 extension, 5 wobble extension; 50 75 100 125 150 200 250 300 450; ; any
6 adapter; 1/4 3/8 1/2 3/4; ; 1/4 3/8 1/2
14 combination wrench; 6 7 8 9 10 11 12 13 14 15 16 17 18 19 21 22 24 27 30; 1/4 5/16 3/8 7/16 1/2 9/16 5/8 11/16 3/4 1
7 ratcheting wrench; 8 9 10 11 12 13 14 15 16 17 18 19; 5/16 3/8 7/16 1/2 9/16 5/8 11/16 3/4
5 stubby combination wrench, 5 stubby ratcheting wrench; 8 9 10 11 12 13 14 15 17 19; 5/16 3/8 7/16 1/2 9/16 5/8 3/4
5 flex-head ratcheting wrench, 5 reversible ratcheting wrench; 8 10 12 13 14 15 17 19; 3/8 7/16 1/2 9/16 5/8 11/16 3/4
5 double box wrench, 5 open-end wrench; 6x7 8x9 10x11 12x13 14x15 16x17 18x19 20x22; 1/4x5/16 3/8x7/16 1/2x9/16 5/8x3/4
5 flare-nut wrench; 8x10 9x11 10x12 13x14 15x17 19x22; 3/8x7/16 1/2x9/16 5/8x11/16
5 ignition wrench; 4x5 5.5x7 6x8 9x10 11x13; 5/32x3/16 7/32x1/4 5/16x3/8 7/16x1/2
9 hex key, 5 T-handle hex key; 1.5 2 2.5 3 4 5 6 7 8 10 12 14 17; 5/64 3/32 1/8 5/32 3/16 7/32 1/4 5/16 3/8 1/2
5 nut driver; 4 5 5.5 6 7 8 9 10 11 12 13; 3/16 1/4 5/16 11/32 3/8 7/16 1/2
5 hexalobular key; T10 T15 T20 T25 T27 T30 T40 T45 T50
6 insert bit; SL4 SL5.5 PH1 PH2 PH3 PZ1 PZ2 T10 T15 T20 T25 T27 T30 T40
9 screwdriver, 5 stubby screwdriver; 3.5 4 5.5 6.5 8 10 PH0 PH1 PH2 PH3 PZ1 PZ2 T15 T20 T25; ; ; bench
9 combination pliers, 9 diagonal cutters, 9 long-nose pliers; 140 160 180 200; ; ; bench, one or two
7 slip-joint pliers, 7 locking pliers, 6 adjustable wrench, 6 snap-ring pliers; 180 200 250 300; ; ; bench, one or two
7 snips, 7 wire stripper, 7 file, 7 caliper, 7 pry bar, 7 pipe wrench; 160 200 250 300; ; ; bench, one or two
9 hammer; 200g 300g 500g 800g 1000g 1500g 16oz 24oz 32oz; ; ; bench, one or two
7 punch, 6 chisel; 2 3 4 5 6 8 10 12 14; ; ; bench
7 tape measure, 7 hacksaw, 7 feeler gauge, 7 mirror, 7 pick, 7 magnetic pick-up; ; ; ; bench
6 bit holder, 7 other, 8 cased
6 swivel impact socket; by drive; by drive; 3/8 1/2
6 stubby ratchet, 6 spinner handle, 6 impact universal joint; ; ; 1/4 3/8 1/2
6 impact adapter; 3/8 1/2 3/4; ; 3/8 1/2
6 socket rail; 200 260 300 400; ; ; bench, one or two
6 long-pattern combination wrench; 8 10 12 13 14 15 16 17 18 19 21 22; 5/16 3/8 7/16 1/2 9/16 5/8 11/16 3/4
6 ratcheting double box wrench; 8x10 10x12 12x13 14x15 16x17 17x19; 5/16x3/8 7/16x1/2 9/16x5/8
6 die stock; 25 30 38; ; ; bench, one or two
6 half-moon wrench; 10x12 11x13 14x17 19x22; 3/8x7/16 1/2x9/16 5/8x3/4
6 long-arm hex key, 6 ball-end long-arm hex key; 1.5 2 2.5 3 4 5 6 8 10; 1/16 5/64 3/32 1/8 5/32 3/16 1/4 5/16 3/8
6 torque screwdriver, 6 thread gauge, 6 screw extractor, 6 knife, 6 flashlight; ; ; ; bench
6 water-pump pliers, 6 hose-clamp pliers; 180 250 300; ; ; bench, one or two
6 left-cut snips, 6 right-cut snips; 240 250 260; ; ; bench, one or two
6 ball-peen hammer, 6 cross-peen hammer; 8oz 12oz 16oz 24oz 32oz; ; ; bench, one or two
6 sledge hammer; 1000g 1500g; ; ; bench, one or two
6 soft-face hammer, 6 dead-blow hammer, 6 mallet; 500g 700g 1000g; ; ; bench, one or two
6 needle file, 6 scraper, 6 clamp; 140 160 200 250; ; ; bench, one or two
6 rule, 6 square; 150 200 300; ; ; bench, one or two
6 tap, 6 die; M3 M4 M5 M6 M8 M10 M12 M16; ; ; bench
6 tap wrench; 200 280 320; ; ; bench, one or two
"""
"""A line is: kinds with their weights, that is how readily a set has them; their sizes, metric ones or all; sizes in
inch, where a set keeps these apart; the drives they have; whether they belong on a bench, and whether a set has only
one or two of the sizes."""


class Kind(NamedTuple):
    """What a line of `SERIES` says of one kind; ``sizes`` are metric and inch, or of neither system."""

    word: str
    weight: int
    sizes: tuple[str, ...]
    drives: tuple[str, ...]
    trait: str


def _kinds(line: str) -> Iterator[Kind]:
    words, metric, inch, drives, trait = (*(part.strip() for part in line.split(";")), "", "", "", "")[:5]
    sizes = (metric, inch) if inch else (metric,)
    known = tuple(DRIVES) if drives == "any" or metric == "by drive" else tuple(drives.split() or [""])
    for told in words.split(", "):
        weight, _, word = told.partition(" ")
        yield Kind(word, int(weight), sizes, known, trait)


KINDS = [kind for line in SERIES.strip().splitlines() for kind in _kinds(line)]
BOXES: Mapping[str, tuple[int, int, int]] = {
    "other": (160, 70, 40), "cased": (330, 240, 90), "tape measure": (72, 68, 36), "hacksaw": (410, 130, 34)
}  # fmt: skip
"""Length, width and height of usual pieces of kinds without sizes, mm."""
