"""House rules as frozen records: lengths in 1/320 mm, masses in 10 micrograms."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from math import ceil
from typing import Literal, TypeAlias

from matcher.records import Bound, Drawer, Fill, GoalName, Grip, HandReach, LengthUnit, System, unit_of_drawers

CornerRelief: TypeAlias = Literal["none", "dog-bone"]
"""What is done where a tool's corner is sharper than the cutter is round."""


@dataclass(frozen=True, slots=True)
class Clearance:
    """Room round an organizer, and which gaps count as what."""

    side: int
    top: int
    gap: int
    strip_min: int
    wide_gap_share: float


@dataclass(frozen=True, slots=True)
class PocketRules:
    """Pockets and the foam round and under them."""

    fit: int
    web: int
    web_share: Decimal
    margin: int
    floor: int
    depth_share: tuple[tuple[str, Decimal], ...]
    depth_max: tuple[tuple[str, int], ...]
    stock: tuple[int, ...] = ()
    stock_tolerance: int = 0
    base: int = 0
    estimates: Bound = "likely"
    depth_step: int = 0
    corner_relief: CornerRelief = "none"

    @property
    def under(self) -> int:
        """Foam under the deepest pocket: the floor, and with a base what both sheets may be thinner by."""
        return self.floor + (2 * self.stock_tolerance if self.base else 0)

    def thickness_for(self, depth: int, through: int) -> int:
        """Thickness of the foam for pockets down to ``depth``, the shallowest of which may be ``through`` deep at most.

        One sheet: the thinnest stock that leaves the floor, its tolerance allowed for; as thick as needed if none does.
        With a base: the base and the thinnest top sheet with which the deepest pocket leaves the floor in the base. All
        pockets are cut through the top sheet, so it is no thicker than ``through``; where stock that thin leaves too
        little, it is the thickest that may be cut through, and the deepest pockets become shallower.
        """
        if self.base:
            tops = [thick for thick in self.stock if thick <= through]
            enough = (thick for thick in tops if thick + self.base - self.under >= depth)
            return self.base + min(enough, default=max(tops, default=through))
        needed = self.floor + depth
        return min((thick for thick in self.stock if thick - self.stock_tolerance >= needed), default=needed)

    def share_of(self, kind: str) -> Decimal:
        """Share of the thickness of a piece of ``kind`` that goes into the foam."""
        shares = dict(self.depth_share)
        return shares.get(kind, shares["default"])

    def deepest(self, kind: str) -> int:
        """Deepest pocket for a piece of ``kind``."""
        depths = dict(self.depth_max)
        return depths.get(kind, depths["default"])

    def web_for(self, depth: int) -> int:
        """Foam needed beside a pocket of ``depth``: max(web, share x depth), rounded up."""
        return max(self.web, ceil(self.web_share * depth))


@dataclass(frozen=True, slots=True)
class Cutter:
    """A router bit and how deep it reaches."""

    diameter: int
    reach: int


@dataclass(frozen=True, slots=True)
class NotchRules:
    """Finger notches, how far a piece must stand out of the foam to do without, and which kinds share one."""

    width: int
    shared: tuple[str, ...]
    grip: int = 0


@dataclass(frozen=True, slots=True)
class SideRules:
    """Which system lies on the left where there are both, and which drive furthest out."""

    left: Literal["inch", "metric"] = "inch"
    outermost: Literal["largest", "smallest"] = "largest"

    @property
    def systems(self) -> tuple[System, System, System]:
        """Systems in reading order: tools of neither in front, then the left half, then the right one."""
        return ("", "inch", "metric") if self.left == "inch" else ("", "metric", "inch")


@dataclass(frozen=True, slots=True)
class LayoutRules:
    """Liberties an ordered layout may take, and which side is which.

    Tools of the kinds in ``nests`` may lie freely by their outlines: those of each kind together or, where they have a
    drive, those of each drive; no tool further from the next of them than a finger notch is wide, and none of them
    behind a larger one of its kind.
    """

    alternate_heads: bool
    stagger: bool
    bands: bool
    nests: tuple[str, ...]
    standing_sockets: bool
    cased_in_foam: bool
    sides: SideRules = SideRules()


@dataclass(frozen=True, slots=True)
class OrderRules:
    """When floors count as level, and which tiers may change places."""

    level: int
    swap: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class OfferRules:
    """What a new foam size costs, how many are allowed, and what work on one organizer costs."""

    setup_cost: float
    max_new_sizes: int
    budget: float
    shim_cost: float
    trim_cost: float
    recut_cost: float
    empty_share: float


@dataclass(frozen=True, slots=True)
class CutRules:
    """Sheets and router, and the step from one clearance of a fit strip to the next."""

    spacing: int
    edge: int
    kerf: int
    bed_length: int
    bed_width: int
    feed_mm_min: float
    pass_depth: int
    turn: bool = True
    strip_step: int = 0


@dataclass(frozen=True, slots=True)
class TogetherRules:
    """Whether groups may be divided and families mixed, and what that costs: a cut between two series of a group, one
    between two sizes of a series, and each family beyond the first in a drawer."""

    divide: Literal["needed", "no"]
    mix: Literal["needed", "free", "no"]
    part: int
    cut: int
    mixed: int

    @property
    def per_family(self) -> int:
        """Cost of each family beyond the first in a drawer; 0 where mixing is free."""
        return 0 if self.mix == "free" else self.mixed


@dataclass(frozen=True, slots=True)
class GoalRules:
    """Fill, the goals in their order, and the weight of the wish that parts of a split group lie beside each other."""

    fill: Fill
    order: tuple[GoalName, ...]
    off: tuple[GoalName, ...]
    parts_weight: int


@dataclass(frozen=True, slots=True)
class TipRules:
    """House thresholds of the tip checks: push in newtons, slope in degrees."""

    push_n: float
    slope_deg: float
    cg_forward: int


@dataclass(frozen=True, slots=True)
class LiftRules:
    """What the lifting equation assumes of a single heavy piece, and from which mass a piece is one."""

    mass: int
    reach_share: float
    per_minute: float
    hours: float
    grip: Grip
    twist_deg: float
    bench: int


@dataclass(frozen=True, slots=True)
class HeightRules:
    """Bands of hand height above the ground and how good each is, as a share of the best."""

    lower_leg: int
    knuckle: int
    elbow: int
    shoulder: int
    best: Decimal
    near: Decimal
    far: Decimal

    def score(self, height: int) -> Decimal:
        """How good a hand height is; an edge belongs to the better band beside it."""
        if self.knuckle <= height <= self.elbow:
            return self.best
        return self.near if self.lower_leg <= height <= self.shoulder else self.far

    def band(self, height: int) -> HandReach:
        """Where a hand height is; an edge belongs to the better band beside it."""
        if height < self.knuckle:
            return "below the lower leg" if height < self.lower_leg else "between lower leg and knuckle"
        if height <= self.elbow:
            return "between knuckle and elbow"
        return "between elbow and shoulder" if height <= self.shoulder else "above the shoulder"


@dataclass(frozen=True, slots=True)
class MeasureRules:
    """How far a tape's reading and a drawer itself may be off.

    A nominal size is doubted where ``doubt_readings`` or more are off by a median of more than ``doubt``.
    """

    tape: int
    off: int
    doubt: int
    doubt_readings: int


@dataclass(frozen=True, slots=True)
class LengthRules:
    """The unit in which lengths are told."""

    unit: Literal["as given", "mm", "in"]

    def unit_for(self, drawers: Iterable[Drawer]) -> LengthUnit:
        """The unit for what is said about a cabinet with these drawers."""
        own = unit_of_drawers(drawers)
        return own if self.unit == "as given" or self.unit == own.name else LengthUnit(self.unit, given=False)


@dataclass(frozen=True, slots=True)
class CartonRules:
    """Cartons that organizers are shipped in: room round the stack, board, and what one carton may be."""

    pad: int
    wall: int
    board_kg_m2: float
    stack: int
    most: int


@dataclass(frozen=True, slots=True)
class WorkBudgets:
    """Deterministic work budgets: the same on any machine, about seconds on a slow core."""

    seed: int
    drawers: float
    order: float
    neighbors: float
    recut: float
    reach: float
    free_layout: float
    together: float
    sheets: float = 2
    unique: float = 2


@dataclass(frozen=True, slots=True)
class House:
    """All house rules."""

    clearance: Clearance
    pocket: PocketRules
    cutters: tuple[Cutter, ...]
    notch: NotchRules
    layout: LayoutRules
    caution_share: float
    order: OrderRules
    offer: OfferRules
    cut: CutRules
    together: TogetherRules
    goals: GoalRules
    tip: TipRules
    lift: LiftRules
    height: HeightRules
    measure: MeasureRules
    lengths: LengthRules
    carton: CartonRules
    work: WorkBudgets

    def __hash__(self) -> int:
        """Of a few rules: houses in one run are few, and answers are looked up by them all the time."""
        return hash((self.clearance.side, self.pocket.margin, self.pocket.web))
