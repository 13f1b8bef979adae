"""Sizes and masses of real tools, with where each comes from.

No rule was fitted to those in `CHECKS`. What is remembered comes from the same memory as most rules, so that both agree
says that no formula is badly off, not that it is right.
"""

from __future__ import annotations

from dataclasses import dataclass

from matcher.records.given import Piece
from matcher.records.laid_out import Range
from matcher.records.units import PER_GRAM, to_mm
from matcher.records.words import System
from matcher.tools.dimensions import sized
from matcher.tools.notation import SizingError

MEMORY = "common practice, from memory"


@dataclass(frozen=True, slots=True)
class SizeCheck:
    """What a tool really measures: an axis in mm, or its mass in g."""

    kind: str
    size: str
    drive: str
    axis: str
    value: float
    source: str = MEMORY
    system: System = "metric"

    @property
    def estimate(self) -> Range:
        """What the rule says, in the units of records."""
        piece = Piece("set", "tool", self.kind, 1, system=self.system, size=self.size, drive=self.drive)
        spread = sized(piece).spread
        if spread is None:
            raise SizingError("size", "a spread")
        return getattr(spread, self.axis)  # type: ignore[no-any-return]

    def shown(self, units: int) -> float:
        """A length in mm or a mass in g."""
        return units / PER_GRAM if self.axis == "mass" else to_mm(units)

    @property
    def miss(self) -> float:
        """By which share of the real value the likely one is too large or (negative) too small."""
        return self.shown(self.estimate.likely) / self.value - 1

    @property
    def within(self) -> bool:
        """Whether the real value lies within the rule's own bounds."""
        return self.shown(self.estimate.low) <= self.value <= self.shown(self.estimate.high)


def _checks(rows: str, source: str = MEMORY, system: System = "metric") -> tuple[SizeCheck, ...]:
    """One check a line: kind, size, drive, axis, value, with bars between them."""
    cells = [[cell.strip() for cell in line.split("|")] for line in rows.strip().splitlines()]
    return tuple(
        SizeCheck(kind, size, drive, axis, float(value), source, system) for kind, size, drive, axis, value in cells
    )


PUBLISHED = (
    *_checks(
        """
        hex key | 3  | | length | 66
        hex key | 8  | | length | 108
        hex key | 8  | | width  | 44
        """,
        "DIN ISO 2936:2016-10, read at second hand, not where the rule's values were read",
    ),
    *_checks(
        """
        hex key | 5/16 | | length | 97.64
        hex key | 5/8  | | length | 161.14
        """,
        "ASME B18.3, arm C = 8 W + 1.344 in, derived from values read at second hand",
        "inch",
    ),
)

WIDTHS_AND_HEIGHTS = _checks(
    """
    socket | 13 | 1/2 | width | 22
    socket | 17 | 3/8 | width | 24
    socket | 32 | 1/2 | width | 43
    deep socket | 13 | 3/8 | width | 19
    impact socket | 19 | 1/2 | width | 29
    deep impact socket | 17 | 1/2 | width | 27.5
    bit socket | 6 | 3/8 | width | 19.5
    universal-joint socket | 13 | 3/8 | width | 22
    ratchet | | 1/4 | width | 25
    ratchet | | 1/2 | width | 44
    ratchet | | 3/8 | height | 36
    breaker bar | | 1/2 | width | 25
    breaker bar | | 1/2 | height | 38
    torque wrench | | 1/2 | width | 44
    extension | 125 | 1/2 | width | 23.5
    extension | 150 | 3/8 | width | 18
    universal joint | | 3/8 | width | 20.5
    spinner handle | | 1/4 | width | 28
    combination wrench | 13 | | width | 28.5
    combination wrench | 19 | | width | 40.5
    combination wrench | 13 | | height | 9.7
    combination wrench | 19 | | height | 13
    ratcheting wrench | 13 | | height | 10
    flex-head ratcheting wrench | 13 | | height | 12
    double box wrench | 16x17 | | width | 26.5
    double box wrench | 16x17 | | height | 30
    open-end wrench | 12x13 | | width | 28.5
    flare-nut wrench | 17x19 | | width | 41
    crowfoot wrench | 17 | 3/8 | width | 37.5
    adjustable wrench | 8 in | | width | 57
    pipe wrench | 14 in | | width | 85
    hexalobular key | T50 | | width | 36
    T-handle hex key | 5 | | width | 90
    screwdriver | PH2 | | width | 34
    screwdriver | PH1 | | width | 30
    screwdriver | 1.2x6.5 | | width | 34
    stubby screwdriver | PH2 | | width | 32
    nut driver | 10 | | width | 31
    combination pliers | 200 | | width | 56
    diagonal cutters | 160 | | width | 52
    diagonal cutters | 160 | | height | 18
    long-nose pliers | 200 | | width | 52
    long-nose pliers | 200 | | height | 17
    slip-joint pliers | 8 in | | width | 51
    water-pump pliers | 250 | | width | 52
    water-pump pliers | 250 | | height | 15
    snap-ring pliers | 180 | | width | 53
    hose-clamp pliers | 250 | | width | 66
    snips | 250 | | width | 62
    snips | 250 | | height | 23
    wire stripper | 200 | | width | 57
    ball-peen hammer | 16 oz | | width | 98
    cross-peen hammer | 500 g | | width | 118
    cross-peen hammer | 1000 g | | height | 33
    sledge hammer | 12 lb | | width | 190
    dead-blow hammer | 32 oz | | width | 108
    dead-blow hammer | 32 oz | | height | 54
    file | 250 | | width | 36
    caliper | 150 | | width | 78
    square | 150 | | width | 100
    tape measure | | | height | 42
    die stock | 25 | | width | 35
    """
)
"""Widths and heights as common tools have them: what makes pockets too narrow or too shallow."""
REMEMBERED = (
    *WIDTHS_AND_HEIGHTS,
    *_checks(
        """
        combination wrench | 8  | | length | 120
        combination wrench | 13 | | length | 160
        combination wrench | 17 | | length | 200
        combination wrench | 24 | | length | 285
        combination wrench | 30 | | length | 345
        """,
        "DIN 3113 A, from memory: no page of it was seen",
    ),
    *_checks(
        """
        double box wrench | 6x7   | | length | 165
        double box wrench | 10x11 | | length | 195
        double box wrench | 14x15 | | length | 225
        double box wrench | 20x22 | | length | 300
        double box wrench | 30x32 | | length | 375
        """,
        "ISO 10104, from memory: no page of it was seen",
    ),
    *_checks(
        """
        socket | 21 | 1/2 | width | 29.5
        socket | 21 | 1/2 | length | 39
        socket | 17 | 1/2 | mass | 78
        socket | 12 | 3/8 | mass | 32
        external hexalobular socket | E14 | 1/2 | length | 38
        deep socket | 17 | 1/2 | mass | 145
        deep socket | 10 | 3/8 | mass | 60
        spark plug socket | 16 | 3/8 | length | 65
        impact socket | 24 | 1/2 | width | 36.5
        impact socket | 13 | 1/2 | width | 28
        impact socket | 10 | 3/8 | width | 21
        impact socket | 24 | 1/2 | mass | 190
        deep impact socket | 21 | 1/2 | length | 78
        deep impact socket | 21 | 1/2 | mass | 290
        bit socket | T40 | 3/8 | length | 48
        bit socket | 12 | 1/2 | mass | 105
        universal-joint socket | 15 | 3/8 | length | 62
        universal-joint socket | 15 | 3/8 | mass | 100
        swivel impact socket | 17 | 1/2 | length | 72
        swivel impact socket | 17 | 1/2 | mass | 210
        ratchet | | 3/8 | length | 195
        ratchet | | 1/2 | mass | 560
        ratchet | | 1/4 | mass | 110
        ratchet | | 3/8 | width | 33
        flex-head ratchet | | 3/8 | mass | 300
        flex-head ratchet | | 3/8 | length | 215
        stubby ratchet | | 1/4 | length | 90
        stubby ratchet | | 3/8 | mass | 190
        spinner handle | | 1/4 | length | 150
        spinner handle | | 1/4 | mass | 85
        breaker bar | | 3/8 | length | 250
        breaker bar | | 3/8 | mass | 380
        sliding T-handle | | 1/2 | length | 300
        sliding T-handle | | 1/2 | mass | 500
        extension | 75 | 3/8 | mass | 75
        wobble extension | 250 | 1/2 | length | 250
        adapter | 1/2 | 3/8 | length | 38
        adapter | 1/2 | 3/8 | mass | 70
        impact adapter | 3/4 | 1/2 | length | 56
        impact adapter | 3/4 | 1/2 | mass | 280
        universal joint | | 1/2 | length | 70
        universal joint | | 1/4 | mass | 26
        impact universal joint | | 3/8 | length | 60
        impact universal joint | | 3/8 | mass | 150
        torque wrench | | 3/8 | length | 370
        torque wrench | | 1/2 | mass | 1500
        socket rail | 400 | | length | 405
        """
    ),
    *_checks(
        """
        combination wrench | 22 | | length | 260
        combination wrench | 17 | | mass | 165
        stubby combination wrench | 15 | | length | 120
        long-pattern combination wrench | 19 | | length | 275
        combination wrench | 10 | | length | 142
        combination wrench | 13 | | length | 170
        combination wrench | 19 | | length | 235
        ratcheting wrench | 13 | | length | 178
        ratcheting wrench | 15 | | length | 200
        ratcheting wrench | 18 | | length | 236
        ratcheting wrench | 13 | | mass | 110
        reversible ratcheting wrench | 16 | | length | 210
        flex-head ratcheting wrench | 13 | | length | 180
        stubby ratcheting wrench | 13 | | length | 110
        double box wrench | 16x17 | | length | 240
        double box wrench | 21x23 | | mass | 430
        ratcheting double box wrench | 12x14 | | length | 180
        half-moon wrench | 19x21 | | length | 210
        open-end wrench | 12x13 | | length | 170
        open-end wrench | 16x17 | | mass | 140
        flare-nut wrench | 17x19 | | length | 215
        flare-nut wrench | 10x12 | | length | 160
        ignition wrench | 8x9 | | length | 110
        crowfoot wrench | 17 | 3/8 | length | 42
        adjustable wrench | 15 in | | mass | 1250
        adjustable wrench | 10 in | | width | 70
        adjustable wrench | 12 in | | height | 18
        adjustable wrench | 6 in | | mass | 125
        pipe wrench | 18 in | | mass | 2600
        pipe wrench | 24 in | | length | 600
        pipe wrench | 8 in | | height | 22
        long-arm hex key | 10 | | length | 225
        ball-end long-arm hex key | 4 | | length | 140
        hexalobular key | T40 | | length | 108
        T-handle hex key | 5 | | length | 200
        """
    ),
    *_checks(
        """
        combination wrench | 1/2 | | length | 184
        combination wrench | 1-1/4 | | length | 430
        flex-head ratcheting wrench | 3/4 | | length | 250
        long-arm hex key | 1/4 | | length | 175
        tap | 1/4-20 | | length | 63.5
        tap | 1/2-13 | | length | 85.7
        die | 1/4-20 | | length | 25.4
        hex key | 7/8 | | mass | 860
        long-arm hex key | 0.028 | | length | 68
        ball-end long-arm hex key | 3/8 | | length | 225
        """,
        system="inch",
    ),
    *_checks(
        """
        screwdriver | PH3 | | length | 270
        screwdriver | PH2 | | mass | 95
        stubby screwdriver | PH2 | | mass | 60
        torque screwdriver | | | length | 200
        nut driver | 10 | | mass | 120
        nut driver | 10 | | length | 230
        insert bit | T25 | | mass | 6
        bit holder | | | mass | 40
        combination pliers | 160 | | mass | 190
        combination pliers | 180 | | height | 18
        diagonal cutters | 160 | | mass | 190
        long-nose pliers | 200 | | mass | 200
        slip-joint pliers | 8 in | | mass | 290
        water-pump pliers | 300 | | mass | 520
        hose-clamp pliers | 250 | | mass | 450
        locking pliers | 175 | | mass | 340
        snap-ring pliers | 225 | | mass | 260
        snips | 250 | | mass | 440
        left-cut snips | 250 | | mass | 440
        right-cut snips | 250 | | length | 250
        wire stripper | 200 | | mass | 270
        hammer | 16 oz | | length | 330
        hammer | 16 oz | | mass | 680
        ball-peen hammer | 24 oz | | length | 355
        cross-peen hammer | 1000 g | | length | 360
        sledge hammer | 10 lb | | mass | 5600
        soft-face hammer | 400 g | | length | 300
        dead-blow hammer | 32 oz | | length | 340
        mallet | 16 oz | | length | 320
        punch | 8 | | length | 150
        chisel | 25 | | length | 200
        chisel | 12 | | mass | 115
        pry bar | 18 in | | mass | 900
        file | 250 | | mass | 320
        needle file | 200 | | mass | 20
        scraper | 250 | | mass | 150
        knife | | | length | 165
        clamp | 6 in | | length | 280
        clamp | 6 in | | mass | 1700
        hacksaw | | | mass | 650
        die stock | 20 | | length | 200
        tap wrench | 375 | | mass | 800
        thread gauge | | | mass | 60
        screw extractor | | | length | 70
        tape measure | | | length | 78
        tape measure | | | mass | 300
        caliper | 200 | | mass | 200
        rule | 150 | | length | 165
        rule | 300 | | width | 25
        square | 300 | | length | 310
        feeler gauge | | | mass | 100
        mirror | | | mass | 80
        pick | | | length | 160
        magnetic pick-up | | | length | 170
        flashlight | | | mass | 200
        """
    ),
)
CHECKS = PUBLISHED + REMEMBERED
"""None of them was used to find a rule."""
FITTED = (
    *_checks(
        """
        nut driver | 13 | | mass | 150
        pry bar | 24 in | | mass | 1500
        flex-head ratchet | | 1/2 | mass | 860
        flare-nut wrench | 13x14 | | length | 185
        hexalobular key | T25 | | width | 22
        locking pliers | 250 | | width | 72
        locking pliers | 250 | | height | 18
        sledge hammer | 2000 g | | width | 120
        sledge hammer | 4 lb | | height | 47
        mallet | 32 oz | | width | 117
        caliper | 150 | | height | 16
        """
    ),
    *_checks(
        """
        combination wrench | 3/8 | | length | 159
        combination wrench | 1 | | length | 345
        """,
        system="inch",
    ),
)
"""Values that rules were fitted to: they say nothing of how near the rules come."""
