"""House rules: defaults from ``defaults/house.toml``, overridden key by key from a planner's ``house.toml``.

Every key is optional; an unknown key is refused with the nearest right one. Lengths become exact integers, clearances
and webs rounded up, allowances rounded down: always against the fit.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from typing import Any

from matcher.errors import CatalogueError, CellError
from matcher.records import Fill, GoalName, Grip
from matcher.units import Toward, kg, mm

Tables = Mapping[str, Any]

GOAL_NAMES: tuple[GoalName, ...] = ("drawers", "order", "neighbors", "recut", "reach")
FREE_KEYS = ("depth_share", "depth_max_mm")
"""Tables whose keys are kinds of tools, plus ``default``."""
HEIGHT_EDGES = ("lower_leg_mm", "knuckle_mm", "elbow_mm", "shoulder_mm")
"""Keys of ``[height]`` that must not descend."""
CHOICES = {"goals.fill": ("spread", "pack"), "lift.grip": ("good", "fair", "poor")}
LARGEST = {"lift.hours": 8}
NEWTONS_PER_LBF = 4.4482216152605


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
        return max(self.web, -int(-(self.web_share * depth) // 1))


@dataclass(frozen=True, slots=True)
class Cutter:
    """A router bit and how deep it reaches."""

    diameter: int
    reach: int


@dataclass(frozen=True, slots=True)
class Notch:
    """Finger notches, and which kinds share one."""

    width: int
    shared: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LayoutRules:
    """Liberties an ordered layout may take."""

    alternate_heads: bool
    stagger: bool
    standing_sockets: bool
    cased_in_foam: bool


@dataclass(frozen=True, slots=True)
class OrderRules:
    """When floors count as level, and which tiers may change places."""

    level: int
    swap: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class OfferRules:
    """What a new foam size costs, and how many are allowed."""

    setup_cost: float
    max_new_sizes: int
    budget: float


@dataclass(frozen=True, slots=True)
class CutRules:
    """Sheets and router."""

    spacing: int
    edge: int
    kerf: int
    bed_length: int
    bed_width: int
    feed_mm_min: float
    pass_depth: int


@dataclass(frozen=True, slots=True)
class GoalRules:
    """Fill, and the goals in their order."""

    fill: Fill
    order: tuple[GoalName, ...]
    off: tuple[GoalName, ...]


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


@dataclass(frozen=True, slots=True)
class Work:
    """Deterministic work budgets: the same on any machine, about seconds on a slow core."""

    seed: int
    drawers: float
    order: float
    neighbors: float
    recut: float
    reach: float
    free_layout: float


@dataclass(frozen=True, slots=True)
class House:
    """All house rules."""

    clearance: Clearance
    pocket: PocketRules
    cutters: tuple[Cutter, ...]
    notch: Notch
    layout: LayoutRules
    caution_share: float
    order: OrderRules
    offer: OfferRules
    cut: CutRules
    goals: GoalRules
    tip: TipRules
    lift: LiftRules
    height: HeightRules
    work: Work


def default_house() -> House:
    """The house rules as shipped."""
    return _house(_default_tables())


def read_house(path: Path) -> House:
    """House rules from a planner's file on top of the defaults.

    Raises
    ------
    CatalogueError
        The file is no TOML, or names an unknown key, or gives a value of the wrong kind.
    """
    defaults = _default_tables()
    try:
        given = tomllib.loads(path.read_text(encoding="utf-8-sig"), parse_float=Decimal)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as broken:
        raise CatalogueError([CellError(path.name, 0, "", str(broken), "a TOML file")]) from broken
    faults = [CellError(path.name, 0, key, value, wanted) for key, value, wanted in _faults(given, defaults)]
    if faults:
        raise CatalogueError(faults)
    merged = _merged(defaults, given)
    faults = [CellError(path.name, 0, key, value, wanted) for key, value, wanted in _edge_faults(merged["height"])]
    if faults:
        raise CatalogueError(faults)
    return _house(merged)


def _edge_faults(height: Tables) -> Iterator[tuple[str, str, str]]:
    for lower, upper in pairwise(HEIGHT_EDGES):
        if height[lower] > height[upper]:
            yield f"height.{upper}", str(height[upper]), f"at least height.{lower} ({height[lower]})"


def _default_tables() -> dict[str, Any]:
    text = (files("matcher") / "defaults" / "house.toml").read_text(encoding="utf-8")
    return tomllib.loads(text, parse_float=Decimal)


def _merged(defaults: Tables, given: Tables) -> dict[str, Any]:
    both = dict(defaults)
    for key, value in given.items():
        both[key] = _merged(defaults[key], value) if isinstance(value, dict) and key in defaults else value
    return both


def _faults(given: Tables, defaults: Tables, path: str = "") -> Iterator[tuple[str, str, str]]:
    """Yield (key, value, what was expected) of every key that is unknown or of the wrong kind."""
    for key, value in given.items():
        name = f"{path}{key}"
        if path.endswith(FREE_KEYS_DOTTED):
            like: Any = defaults["default"]
        elif key in defaults:
            like = defaults[key]
        else:
            near = get_close_matches(key, defaults, n=1, cutoff=0.0)
            yield name, str(value), f"a known key (nearest: {near[0]})"
            continue
        if isinstance(like, dict) and isinstance(value, dict):
            yield from _faults(value, like, f"{name}.")
        elif key == "cutter" and isinstance(value, list) and all(isinstance(row, dict) for row in value):
            for row in value:
                yield from _faults(row, like[0], f"{name}.")
                yield from ((f"{name}.{lost}", "", "to be given") for lost in like[0] if lost not in row)
        else:
            wanted = _wrong(name, value, like)
            if wanted:
                yield name, str(value), wanted


FREE_KEYS_DOTTED = tuple(f"{key}." for key in FREE_KEYS)


def _wrong(name: str, value: Any, like: Any) -> str:
    """What was expected instead of ``value``, or nothing if it is of the right kind and range."""
    if isinstance(like, bool):
        return "" if isinstance(value, bool) else "true or false"
    if isinstance(like, int | Decimal):
        return _wrong_number(name, value)
    if name in CHOICES:
        return "" if value in CHOICES[name] else " or ".join(CHOICES[name])
    if name in ("goals.order", "goals.off"):
        known = isinstance(value, list) and all(goal in GOAL_NAMES for goal in value)
        if not known or len(set(value)) != len(value):
            return f"a list of goal names: {', '.join(GOAL_NAMES)}"
        if name == "goals.order" and value[:1] != ["drawers"]:
            return "a list that begins with drawers; only the goals after it may change places"
        return ""
    if name == "order.swap":
        pairs = isinstance(value, list) and all(
            isinstance(pair, list) and len(pair) == 2 and all(type(tier) is int for tier in pair) for pair in value
        )
        return "" if pairs else "a list of pairs of tiers, e.g. [[4, 5]]"
    if isinstance(like, list):
        texts = isinstance(value, list) and all(isinstance(item, str) for item in value)
        return "" if texts else "a list of texts"
    return f"a table or value like {like}"


def _wrong_number(name: str, value: Any) -> str:
    if isinstance(value, bool) or not isinstance(value, int | Decimal) or not Decimal(value).is_finite():
        return "a number"
    if value < 0:
        return "a number of at least 0"
    if name.endswith("_mm") and value > 10_000:
        return "at most 10000 mm"
    if ("share" in name) and value > 1:
        return "a share from 0 to 1"
    if value > LARGEST.get(name, value):
        return f"at most {LARGEST[name]}"
    whole = name in ("work.seed", "offer.max_new_sizes")
    return "a whole number" if whole and not isinstance(value, int) else ""


def _house(tables: Tables) -> House:
    clearance, pocket, cut, work = tables["clearance"], tables["pocket"], tables["cut"], tables["work"]
    lift, height = tables["lift"], tables["height"]
    return House(
        clearance=Clearance(
            side=mm(clearance["side_mm"]),
            top=mm(clearance["top_mm"]),
            gap=mm(clearance["gap_mm"], Toward.DOWN),
            strip_min=mm(clearance["strip_min_mm"], Toward.DOWN),
            wide_gap_share=float(clearance["wide_gap_share"]),
        ),
        pocket=PocketRules(
            fit=mm(pocket["fit_mm"]),
            web=mm(pocket["web_mm"]),
            web_share=Decimal(pocket["web_share"]),
            margin=mm(pocket["margin_mm"]),
            floor=mm(pocket["floor_mm"]),
            depth_share=tuple((kind, Decimal(share)) for kind, share in pocket["depth_share"].items()),
            depth_max=tuple((kind, mm(depth)) for kind, depth in pocket["depth_max_mm"].items()),
        ),
        cutters=tuple(Cutter(mm(row["diameter_mm"]), mm(row["reach_mm"], Toward.DOWN)) for row in tables["cutter"]),
        notch=Notch(mm(tables["notch"]["width_mm"]), tuple(tables["notch"]["shared"])),
        layout=LayoutRules(**tables["layout"]),
        caution_share=float(tables["load"]["caution_share"]),
        order=OrderRules(
            level=mm(tables["order"]["level_mm"], Toward.DOWN),
            swap=tuple((first, second) for first, second in tables["order"]["swap"]),
        ),
        offer=OfferRules(
            setup_cost=float(tables["offer"]["setup_cost"]),
            max_new_sizes=tables["offer"]["max_new_sizes"],
            budget=float(tables["offer"]["budget"]),
        ),
        cut=CutRules(
            spacing=mm(cut["spacing_mm"]),
            edge=mm(cut["edge_mm"]),
            kerf=mm(cut["kerf_mm"]),
            bed_length=mm(cut["bed_length_mm"], Toward.DOWN),
            bed_width=mm(cut["bed_width_mm"], Toward.DOWN),
            feed_mm_min=float(cut["feed_mm_min"]),
            pass_depth=mm(cut["pass_depth_mm"], Toward.DOWN),
        ),
        goals=GoalRules(
            fill=tables["goals"]["fill"],
            order=tuple(tables["goals"]["order"]),
            off=tuple(tables["goals"]["off"]),
        ),
        tip=TipRules(
            push_n=float(tables["tip"]["push_lbf"]) * NEWTONS_PER_LBF,
            slope_deg=float(tables["tip"]["slope_deg"]),
            cg_forward=mm(tables["tip"]["cg_forward_mm"]),
        ),
        lift=LiftRules(
            mass=kg(lift["mass_kg"], Toward.DOWN),
            reach_share=float(lift["reach_share"]),
            per_minute=float(lift["per_minute"]),
            hours=float(lift["hours"]),
            grip=lift["grip"],
            twist_deg=float(lift["twist_deg"]),
            bench=mm(lift["bench_mm"]),
        ),
        height=HeightRules(
            lower_leg=mm(height["lower_leg_mm"]),
            knuckle=mm(height["knuckle_mm"]),
            elbow=mm(height["elbow_mm"]),
            shoulder=mm(height["shoulder_mm"]),
            best=Decimal(height["best_share"]),
            near=Decimal(height["near_share"]),
            far=Decimal(height["far_share"]),
        ),
        work=Work(
            seed=work["seed"], **{name: float(work[name]) for name in Work.__dataclass_fields__ if name != "seed"}
        ),
    )
