"""The frozen records every stage takes and returns.

Lengths are integers of 1/320 mm, masses integers of 10 micrograms (see ``units``). Standard library only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

System: TypeAlias = Literal["metric", "inch", ""]
Basis: TypeAlias = Literal["measured", "from standard", "estimated"]
Slot: TypeAlias = Literal["foam", "no foam", "blocked"]
Fill: TypeAlias = Literal["spread", "pack"]
Verdict: TypeAlias = Literal["fits", "does not fit", "undecided"]
Scope: TypeAlias = Literal["any layout", "house layout", ""]
How: TypeAlias = Literal["as is", "shim", "trim", "re-cut", "new", "unordered", "cased"]
Wish: TypeAlias = Literal["near", "beside", "below", "left_of"]
PinRule: TypeAlias = Literal["in", "not in", "apart", "keep free"]
GoalName: TypeAlias = Literal["drawers", "moves", "order", "neighbors", "recut", "reach"]
Grip: TypeAlias = Literal["good", "fair", "poor"]
Level: TypeAlias = Literal["info", "caution", "error"]
Last: TypeAlias = Literal["", "none left", "none found"]
"""After the alternatives: nothing more was looked for, there is no other plan, none was found."""

HOWS: tuple[How, ...] = ("as is", "shim", "trim", "re-cut", "new", "unordered")
"""From the least work to the most; the worse of two axes decides. Cased equipment is outside the scale."""


# ---------------------------------------------------------------------------------------------- what a planner gives


@dataclass(frozen=True, slots=True)
class Piece:
    """A row of the tools table: ``count`` equal tools of a set, with only the dimensions that were given."""

    set: str
    tool: str
    kind: str
    count: int
    system: System = ""
    size: str = ""
    drive: str = ""
    length: int | None = None
    width: int | None = None
    height: int | None = None
    mass: int | None = None
    group: str = ""
    use: float | None = None
    two_hands: bool = False
    outline: str = ""


@dataclass(frozen=True, slots=True, order=True)
class Organizer:
    """A ready-made organizer: outside size, clear height it needs, and the rectangle round its pockets.

    ``rounded`` is the largest corner radius of a drawer for which its margin is rounded; 0: its corners are sharp.
    """

    set: str
    group: str
    width: int
    depth: int
    height: int
    mass: int | None = None
    field_width: int | None = None
    field_depth: int | None = None
    field_left: int | None = None
    field_front: int | None = None
    family: str = ""
    tier: int | None = None
    system: System = ""
    part: str = ""
    revision: str = ""
    on_hand: int | None = None
    unit_cost: float | None = None
    foam: str = ""
    rounded: int = 0


@dataclass(frozen=True, slots=True, order=True)
class Obstruction:
    """A block standing on a drawer's floor; ``left`` and ``front`` are its distances from the inside walls."""

    left: int
    front: int
    width: int
    depth: int
    height: int


@dataclass(frozen=True, slots=True)
class Drawer:
    """A drawer by what it really takes. ``bank`` 1 is leftmost, ``row`` 1 is top; ``last_bank`` differs if it spans."""

    cabinet: str
    name: str
    bank: int
    last_bank: int
    row: int
    inside_width: int
    inside_depth: int
    clear_height: int
    slot: Slot = "foam"
    load_rating: int | None = None
    rating_basis: str = ""
    above_ground: int | None = None
    mass: int | None = None
    travel: int | None = None
    corner_radius: int = 0
    liner: int = 0
    obstructions: tuple[Obstruction, ...] = ()


@dataclass(frozen=True, slots=True)
class Cabinet:
    """A cabinet variant. A chest that stands on a base holds the drawers of both and is planned as one unit."""

    name: str
    drawers: tuple[Drawer, ...]
    label: str = ""
    model_line: str = ""
    stands_on: str = ""
    revision: str = ""
    width: int | None = None
    depth: int | None = None
    height: int | None = None
    mass: int | None = None
    load_rating: int | None = None
    price: float | None = None
    cg_depth: int | None = None
    cg_height: int | None = None
    contact_front: int | None = None
    contact_span: int | None = None
    caster_load: int | None = None
    caster_trail: int | None = None


@dataclass(frozen=True, slots=True, order=True)
class GroupRule:
    """Which kinds (and system, if given) form a group, its family and tier; ``None`` where a row leaves it open.

    ``house`` rows come from the house table; a catalogue's own rows and its organizers win over them.
    """

    group: str
    family: str = ""
    tier: int | None = None
    kinds: tuple[str, ...] = ()
    system: System = ""
    share: bool | None = None
    split: bool | None = None
    house: bool = False


@dataclass(frozen=True, slots=True, order=True)
class Relation:
    """A wish about two groups: ``group`` is near, beside, below or left of ``other``."""

    group: str
    other: str
    wish: Wish
    weight: int = 1


@dataclass(frozen=True, slots=True, order=True)
class Pin:
    """A hard wish. Blank ``set`` or ``cabinet`` means all; drawer, bank and row narrow down the place together.

    ``keep free`` with a ``count`` asks for so many free drawers there, whichever, each at least ``height`` clear.
    """

    rule: PinRule
    set: str = ""
    cabinet: str = ""
    group: str = ""
    other: str = ""
    drawer: str = ""
    bank: int | None = None
    row: int | None = None
    count: int | None = None
    height: int | None = None


@dataclass(frozen=True, slots=True, order=True)
class Measurement:
    """What a buyer's tape says of one drawer; ``None`` where it was not measured."""

    cabinet: str
    drawer: str
    inside_width: int | None = None
    inside_depth: int | None = None
    clear_height: int | None = None
    by: str = ""
    date: str = ""
    order: str = ""
    serial: str = ""


@dataclass(frozen=True, slots=True, order=True)
class Foam:
    """Sheet stock. ``density`` in kilograms per cubic meter, ``price`` per sheet."""

    name: str
    length: int
    width: int
    thickness: int
    tolerance: int = 0
    color: str = ""
    density: float | None = None
    price: float | None = None


@dataclass(frozen=True, slots=True, order=True)
class Demand:
    """Units a year expected of a bundle and what one brings."""

    set: str
    cabinet: str
    units: float
    margin: float
    year: str = ""
    offered: Literal["yes", "must", "no"] = "yes"
    installed: float | None = None


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All input, sorted; ``digest`` changes with any byte of it, row order included."""

    pieces: tuple[Piece, ...]
    organizers: tuple[Organizer, ...]
    cabinets: tuple[Cabinet, ...]
    group_rules: tuple[GroupRule, ...]
    relations: tuple[Relation, ...]
    pins: tuple[Pin, ...] = ()
    measured: tuple[Measurement, ...] = ()
    foam: tuple[Foam, ...] = ()
    demand: tuple[Demand, ...] = ()
    digest: str = ""
    folder: str = ""


# ------------------------------------------------------------------------------------------------- what a run is asked


@dataclass(frozen=True, slots=True)
class Snapshot:
    """As much of a plan as another is compared with: (group, drawer), free drawers, (goal, value)."""

    set: str
    cabinet: str
    drawers: tuple[tuple[str, str], ...] = ()
    free: tuple[str, ...] = ()
    goals: tuple[tuple[GoalName, int], ...] = ()
    fill: Fill = "spread"


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a planner asks of one run beyond the catalogue and the house rules, which stand where nothing is asked.

    ``pins`` add to the catalogue's. ``tiers`` are groups and families in the order they come first, from the top.
    ``goals`` come before those it leaves out, and are on; those in ``off`` are off. ``keep`` is a plan to stay near to,
    ``alternatives`` how many other plans to look for.
    """

    fill: Fill | None = None
    pins: tuple[Pin, ...] = ()
    tiers: tuple[str, ...] = ()
    goals: tuple[GoalName, ...] = ()
    off: tuple[GoalName, ...] = ()
    keep: Snapshot | None = None
    alternatives: int = 0


# ------------------------------------------------------------------------------------------------------ tools, groups


@dataclass(frozen=True, slots=True)
class SizedPiece:
    """A piece with every dimension known.

    Lying on its back: ``length`` along its axis, ``width`` across, ``height`` up from the floor. ``diameter`` is the
    footprint of a piece that may stand on end (then ``length`` is what rises above the floor), else ``None``.
    ``rank`` orders sizes within a series. ``features`` are named lengths from which the outline is drawn.
    """

    piece: Piece
    length: int
    width: int
    height: int
    diameter: int | None
    mass_low: int
    mass_high: int
    rank: int
    basis: Basis
    source: str
    features: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Group:
    """Pieces that share one organizer (or the ready-made organizer itself, or both)."""

    name: str
    family: str
    tier: int
    system: System
    share: bool
    split: bool
    cased: bool
    pieces: tuple[SizedPiece, ...]
    organizer: Organizer | None
    mass_low: int
    mass_high: int
    use: float | None
    part_of: str = ""

    def __hash__(self) -> int:
        """Of a few fields that tell groups apart: pieces are many, and groups are looked up all the time."""
        return hash((self.name, self.part_of, len(self.pieces), self.mass_low, self.mass_high))


# ---------------------------------------------------------------------------------------------------------- organizers


@dataclass(frozen=True, slots=True)
class Pocket:
    """A pocket seen from above in the coordinates of its pocket field (origin front left, x right, y back).

    ``ring`` is the closed outline without the repeated first corner. ``piece`` indexes the group's pieces.
    ``depth`` is cut into the foam; ``rise`` is how high the piece stands above the drawer floor.
    """

    piece: int
    ring: tuple[tuple[int, int], ...]
    depth: int
    rise: int
    standing: bool = False


@dataclass(frozen=True, slots=True)
class Notch:
    """Room for a finger beside pieces, as deep as the deepest of the ``pockets`` (indices) that it opens into."""

    ring: tuple[tuple[int, int], ...]
    depth: int
    pockets: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """Where the size of a pocket's piece is written: middle of the text, its height, whether it reads from bottom to
    top, and whether it stands on foam (else in the pocket)."""

    x: int
    y: int
    height: int
    upright: bool
    on_foam: bool


@dataclass(frozen=True, slots=True)
class Layout:
    """Pockets of one organizer. ``width`` x ``depth`` is the pocket field; the margin goes round it.

    ``thickness`` is that of the stock foam, 0 where nothing is known of it. ``labels`` has one entry a pocket or none.
    """

    width: int
    depth: int
    height: int
    pockets: tuple[Pocket, ...]
    ordered: bool = True
    notches: tuple[Notch, ...] = ()
    thickness: int = 0
    labels: tuple[Label, ...] = ()


@dataclass(frozen=True, slots=True, order=True)
class Footprint:
    """A point of a shape curve: pocket field width and depth, and the clear height needed before top clearance."""

    width: int
    depth: int
    height: int


# ------------------------------------------------------------------------------------------------------ plan, outcome


@dataclass(frozen=True, slots=True)
class Placement:
    """One organizer in one drawer: ``left`` and ``front`` from the inside walls, outside ``width`` x ``depth``.

    ``height`` is the clear height needed before top clearance. ``gap_width`` and ``gap_depth`` are what is left of the
    drawer beyond the side clearances; of foam cut for it, what the roomiest layout would leave. The layout's field
    begins ``field_left`` and ``field_front`` from the organizer's own front left corner.
    """

    group: str
    drawer: str
    how: How
    how_width: How
    how_depth: How
    left: int
    front: int
    width: int
    depth: int
    height: int
    gap_width: int
    gap_depth: int
    layout: Layout | None = None
    field_left: int = 0
    field_front: int = 0


@dataclass(frozen=True, slots=True)
class Plan:
    """Which organizer goes in which drawer of one cabinet. ``groups`` are those planned, split parts included."""

    set: str
    cabinet: str
    fill: Fill
    groups: tuple[Group, ...]
    placements: tuple[Placement, ...]
    free_drawers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Margin:
    """A used drawer: the least inside sizes its contents need as planned, and what it has beyond them."""

    drawer: str
    groups: tuple[str, ...]
    least_width: int
    least_depth: int
    least_height: int
    spare_width: int
    spare_depth: int
    spare_height: int
    load: int
    load_left: int | None

    @property
    def tightest(self) -> int:
        """The smallest of the three spares."""
        return min(self.spare_width, self.spare_depth, self.spare_height)


@dataclass(frozen=True, slots=True)
class FreeDrawer:
    """A drawer left for the buyer, by its clear sizes."""

    drawer: str
    width: int
    depth: int
    height: int
    slot: Slot
    load_left: int | None


@dataclass(frozen=True, slots=True)
class Goal:
    """A goal's value, the bound the search proved, and whether they meet given the goals before it.

    ``told`` and ``bound_told`` are value and bound in words.
    """

    name: GoalName
    value: int
    bound: int
    proved: bool
    contributions: tuple[str, ...] = ()
    told: str = ""
    bound_told: str = ""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why there is no plan, or what stays undecided."""

    code: str
    text: str
    scope: Scope = ""
    groups: tuple[str, ...] = ()
    drawers: tuple[str, ...] = ()
    short: int | None = None


@dataclass(frozen=True, slots=True)
class Caution:
    """Something a person should know before trusting or loading a plan."""

    code: str
    level: Level
    text: str


@dataclass(frozen=True, slots=True)
class PieceCounts:
    """On what the verdict rests: pieces by the basis of their dimensions."""

    measured: int = 0
    standard: int = 0
    estimated: int = 0

    @property
    def total(self) -> int:
        """All pieces."""
        return self.measured + self.standard + self.estimated


@dataclass(frozen=True, slots=True)
class Run:
    """What is needed to get the same answer again."""

    version: str
    solver: str
    seed: int
    digest: str
    budgets: tuple[tuple[str, float], ...]
    wishes: Wishes = Wishes()
    stopped: bool = False
    """A person stopped the search: another run may find more."""


@dataclass(frozen=True, slots=True)
class Changes:
    """What changes from one plan to another: (group, drawer before, now), free drawers, (goal, value before, now)."""

    moved: tuple[tuple[str, str, str], ...]
    lost: tuple[str, ...]
    new: tuple[str, ...]
    free: tuple[int, int]
    goals: tuple[tuple[GoalName, int, int], ...]


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another plan, what changes from the best one to it, and the goals that are worse."""

    plan: Plan
    goals: tuple[Goal, ...]
    changes: Changes
    gives_up: tuple[GoalName, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """The answer for one set in one cabinet."""

    set: str
    cabinet: str
    verdict: Verdict
    fill: Fill
    plan: Plan | None
    most_free: int | None
    fewest_free: int | None
    goals: tuple[Goal, ...]
    reasons: tuple[Reason, ...]
    cautions: tuple[Caution, ...]
    basis: PieceCounts
    run: Run
    change: str = ""
    """The nearest change that turns a refusal, tried."""
    margins: tuple[Margin, ...] = ()
    """Tightest first: the drawers to measure before ordering."""
    free: tuple[FreeDrawer, ...] = ()
    free_proved: tuple[bool, bool] = (True, True)
    """Whether ``most_free`` and ``fewest_free`` are proved."""
    kept: Changes | None = None
    """What changes from the plan to keep, if there is one."""
    alternatives: tuple[Alternative, ...] = ()
    last: Last = ""
