"""Does a cabinet stay on its feet with drawers open? Statics about the line through its front floor contacts.

Any consistent units of weight and length. Arms are distances *behind* the front contact line with everything closed;
what lies behind the line restores. Weights are bounds, and every function takes the worse end of each: so a light
closed drawer and a heavy open one. On a level floor no height enters the moment.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from math import cos, degrees, inf, pi, sin

HALVINGS = 60
"""Enough for the slope limit to be exact in floating point."""


@dataclass(frozen=True, slots=True)
class WeightedPart:
    """A weight between two bounds, its arm behind the front contact line and its height above the floor."""

    low: float
    high: float
    arm: float
    height: float


@dataclass(frozen=True, slots=True)
class Tray:
    """A drawer: its own weight ``box``, contents between ``low`` and ``high``, arm and height of both when closed."""

    name: str
    box: float
    low: float
    high: float
    arm: float
    height: float
    travel: float

    def part(self, opened: bool) -> WeightedPart:
        """The drawer with its contents, moved forward by its travel if open."""
        arm = self.arm - self.travel if opened else self.arm
        return WeightedPart(self.box + self.low, self.box + self.high, arm, self.height)


@dataclass(frozen=True, slots=True)
class Stand:
    """What stands on the floor: the case without drawers, the drawers, and ``front``, how far the drawer faces stand
    in front of the contact line when closed."""

    case: WeightedPart
    trays: tuple[Tray, ...]
    front: float


def parts(stand: Stand, opened: Collection[str] = ()) -> tuple[WeightedPart, ...]:
    """Case and drawers with those named ``opened`` pulled out."""
    return (stand.case, *(tray.part(tray.name in opened) for tray in stand.trays))


def only_loaded(stand: Stand, name: str) -> Stand:
    """The same cabinet with every drawer but one empty."""
    trays = tuple(tray if tray.name == name else replace(tray, low=0.0, high=0.0) for tray in stand.trays)
    return replace(stand, trays=trays)


def loaded(stand: Stand, name: str, contents: float) -> Stand:
    """The same cabinet with one drawer holding ``contents``."""
    trays = tuple(replace(tray, low=contents, high=contents) if tray.name == name else tray for tray in stand.trays)
    return replace(stand, trays=trays)


def moment(things: Iterable[WeightedPart]) -> float:
    """Least restoring moment about the front contact line; the cabinet stands on a level floor iff it is above 0."""
    return sum(min(part.low * part.arm, part.high * part.arm) for part in things)


def push_to_tip(stand: Stand, name: str) -> float:
    """Least downward push at the front of the one open drawer that tips the cabinet; 0 or less if none is needed."""
    tray = next(tray for tray in stand.trays if tray.name == name)
    return push_at(moment(parts(stand, {name})), tray.travel + stand.front)


def push_at(restoring: float, distance: float) -> float:
    """Downward push that tips, ``distance`` in front of the contact line; infinite if the push is not in front."""
    return restoring / distance if distance > 0 else inf


def most_open(stand: Stand) -> int:
    """Largest N such that the N drawers that cost the most moment may be open together."""
    closed, names = moment(parts(stand)), heaviest_first(stand)
    if closed <= 0:
        return 0
    return next(
        (count for count in range(len(names)) if moment(parts(stand, names[: count + 1])) <= 0),
        len(names),
    )


def heaviest_first(stand: Stand) -> tuple[str, ...]:
    """Drawers by the moment that opening them costs (weight x travel), most first, then by name."""

    def gain(tray: Tray) -> tuple[float, str]:
        return moment([tray.part(opened=True)]) - moment([tray.part(opened=False)]), tray.name

    return tuple(tray.name for tray in sorted(stand.trays, key=gain))


def slope_limit(things: Iterable[WeightedPart]) -> float:
    """Degrees by which a floor may fall towards the front before the cabinet tips; 0 if it tips on a level floor.

    The moment sum W (a cos t - h sin t) of any choice of weights changes sign once between 0 and 90 degrees, hence
    also the least of them.
    """
    held = tuple(things)
    if moment(held) <= 0:
        return 0.0
    low, high = 0.0, pi / 2
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if moment(_tilted(held, middle)) > 0:
            low = middle
        else:
            high = middle
    return degrees(low)


def _tilted(things: Iterable[WeightedPart], angle: float) -> tuple[WeightedPart, ...]:
    return tuple(replace(part, arm=part.arm * cos(angle) - part.height * sin(angle)) for part in things)


def weight(things: Iterable[WeightedPart]) -> float:
    """Most that everything together weighs."""
    return sum(part.high for part in things)


def front_reaction(things: Iterable[WeightedPart], span: float) -> float:
    """Most that the front contacts carry together, W (L - a) / L with ``span`` L between front and rear contacts."""
    shares = (((span - part.arm) / span, part) for part in things)
    return sum(max(share * part.low, share * part.high) for share, part in shares)
