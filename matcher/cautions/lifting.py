"""The revised NIOSH lifting equation for one two-handed lift.

Source: Waters, Putz-Anderson, Garg, "Applications Manual for the Revised NIOSH Lifting Equation", DHHS (NIOSH)
Publication 94-110, revised 9/2021; page numbers below are that manual's. The equation does not hold for one-handed
lifts, more than 8 hours, seated or kneeling work, restricted space, pushing or pulling (p. 6).

The metric and the US customary constants are no exact conversions of each other: stay within one of the two.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import prod

from matcher.records import Grip


@dataclass(frozen=True, slots=True)
class Constants:
    """The equation's constants in one system of units (pp. 7-18)."""

    load: float
    """Load constant: the most that is recommended under the best conditions."""
    near: float
    """Reach below which nothing is gained."""
    far: float
    """Reach beyond which nothing is recommended."""
    best_height: float
    """Hand height of the best lift; also where the frequency and coupling tables change column."""
    height_slope: float
    highest: float
    short: float
    """Vertical travel below which nothing is gained."""
    long: float
    """Vertical travel beyond which nothing is recommended."""
    travel: float
    reach: float
    """Body to container, part of the assumed reach (p. 8)."""
    low_reach: float
    """The same with the hands below ``low``."""
    low: float


US = Constants(51, 10, 25, 30, 0.0075, 70, 10, 70, 1.8, 8, 10, 10)
"""Pounds and inches."""
METRIC = Constants(23, 25, 63, 75, 0.003, 175, 25, 175, 4.5, 20, 25, 25)
"""Kilograms and centimeters."""

TWIST_MAX = 135.0
TWIST_SLOPE = 0.0032

FREQUENCIES: tuple[float, ...] = (0.2, 0.5, *range(1, 16))
FREQUENCY_COLUMNS: dict[tuple[int, bool], tuple[float, ...]] = {
    (1, False): (1.00, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45, 0.41, 0.37, 0, 0, 0),
    (1, True): (1.00, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45, 0.41, 0.37, 0.34, 0.31, 0.28),
    (2, False): (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26, 0, 0, 0, 0, 0),
    (2, True): (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26, 0.23, 0.21, 0, 0, 0),
    (8, False): (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18, 0, 0, 0, 0, 0, 0, 0),
    (8, True): (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18, 0.15, 0.13, 0, 0, 0, 0, 0),
}
"""Table 5 (p. 15): multipliers at ``FREQUENCIES`` lifts a minute, by hours at most and whether the lift starts high."""

COUPLING: dict[Grip, tuple[float, float]] = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.90, 0.90)}
"""Table 7: below and from the best height up. The three values are the manual's, their layout is from memory."""


@dataclass(frozen=True, slots=True)
class Lift:
    """One two-handed lift, looked at where the hands are at ``height``; lengths in the units of the constants.

    ``start`` is the hands' height where the lift begins, ``twist`` in degrees, ``hours`` how long such lifting lasts.
    """

    reach: float
    height: float
    start: float
    travel: float
    twist: float
    per_minute: float
    hours: float
    grip: Grip


@dataclass(frozen=True, slots=True)
class Multipliers:
    """Shares of the load constant that are left, in the manual's order: HM, VM, DM, AM, FM, CM."""

    reach: float
    height: float
    travel: float
    twist: float
    frequency: float
    coupling: float

    @property
    def product(self) -> float:
        """All of them multiplied."""
        return prod((self.reach, self.height, self.travel, self.twist, self.frequency, self.coupling))


def multipliers(lift: Lift, constants: Constants = METRIC) -> Multipliers:
    """All six multipliers of a lift (pp. 7-18)."""
    high = constants.best_height
    return Multipliers(
        reach=0.0 if lift.reach > constants.far else constants.near / max(lift.reach, constants.near),
        height=0.0 if lift.height > constants.highest else 1 - constants.height_slope * abs(lift.height - high),
        travel=_travel_multiplier(lift.travel, constants),
        twist=0.0 if lift.twist > TWIST_MAX else 1 - TWIST_SLOPE * lift.twist,
        frequency=frequency_multiplier(lift.per_minute, lift.hours, lift.start >= high),
        coupling=COUPLING[lift.grip][lift.height >= high],
    )


def _travel_multiplier(travel: float, constants: Constants) -> float:
    if travel > constants.long:
        return 0.0
    return 0.82 + constants.travel / max(travel, constants.short)


def frequency_multiplier(per_minute: float, hours: float, high: bool) -> float:
    """Table 5 (p. 15), linear in between; ``high`` if the lift starts at the best height or above.

    Raises
    ------
    ValueError
        More than 8 hours: outside the equation (p. 6).
    """
    longest = next((limit for limit in (1, 2, 8) if hours <= limit), None)
    if longest is None:
        raise ValueError(f"the lifting equation does not hold for {hours} hours, only up to 8")
    return _interpolated(max(per_minute, FREQUENCIES[0]), FREQUENCY_COLUMNS[longest, high])


def _interpolated(per_minute: float, column: tuple[float, ...]) -> float:
    if per_minute > FREQUENCIES[-1]:
        return 0.0
    after = next(index for index, rate in enumerate(FREQUENCIES) if rate >= per_minute)
    if after == 0:
        return column[0]
    before = after - 1
    share = (per_minute - FREQUENCIES[before]) / (FREQUENCIES[after] - FREQUENCIES[before])
    return column[before] + share * (column[after] - column[before])


def recommended_weight(lift: Lift, constants: Constants = METRIC) -> float:
    """Recommended weight limit RWL = LC x HM x VM x DM x AM x FM x CM (p. 7)."""
    return constants.load * multipliers(lift, constants).product


def lifting_index(load: float, recommended: float) -> float | None:
    """LI = load / RWL (p. 7); ``None`` where nothing is recommended: not liftable."""
    return load / recommended if recommended > 0 else None


def assumed_reach(front_to_back: float, height: float, constants: Constants = METRIC) -> float:
    """Reach where it cannot be measured (p. 8); ``front_to_back`` is the distance from the container's front to the
    hands, half its width for a container lifted at its middle, and ``height`` that of the hands."""
    return front_to_back + (constants.reach if height >= constants.low else constants.low_reach)
