"""What a planner gives: the catalogue, row by row, and what a run is asked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from matcher.records.words import By, Fill, GoalName, PinRule, Slot, System, Wish


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

    @property
    def mark(self) -> str:
        """What is written beside its pocket: its size, else its drive, else what it is called."""
        return self.size or self.drive or self.tool


@dataclass(frozen=True, slots=True, order=True)
class Organizer:
    """A ready-made organizer: outside size, clear height it needs, and the rectangle round its pockets.

    A row with ``pieces`` was made for just so many tools: of a group of that name, of a part of one (``part_of``) that
    begins with its ``first_piece`` in reading order, or of several joined. With a ``cabinet`` it counts in that alone.
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
    cabinet: str = ""
    drawer: str = ""
    pieces: int | None = None
    part_of: str = ""
    first_piece: int | None = None


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
    """A drawer by what it really takes. ``bank`` 1 is leftmost, ``row`` 1 is top; ``last_bank`` differs if it spans.

    ``guessed`` and ``unknown`` name sizes that are a guess or not known. One with an unknown size is as large there as
    any and blocked, so that whatever plan there is holds; ``slot_told`` is its slot once the size is known.
    """

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
    guessed: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    slot_told: Slot = "foam"

    def __hash__(self) -> int:
        """Of a few fields that tell drawers apart: answers are looked up by them all the time."""
        return hash((self.name, self.inside_width, self.inside_depth, self.clear_height))


def inside_sizes(drawer: Drawer) -> dict[str, int]:
    """The three sizes that a tape takes of a drawer, by their names in words."""
    return {
        "inside width": drawer.inside_width,
        "inside depth": drawer.inside_depth,
        "clear height": drawer.clear_height,
    }


@dataclass(frozen=True, slots=True)
class Cabinet:
    """A cabinet variant. A chest that stands on a base holds the drawers of both and is planned as one unit.

    Two cabinets that stand side by side are planned as one, too; ``beside`` are these, with drawers of the same names.
    """

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
    beside: tuple[Cabinet, ...] = ()


@dataclass(frozen=True, slots=True, order=True)
class GroupRule:
    """Which kinds (and system, if given) form a group, its family and tier; ``None`` where a row leaves it open.

    ``by`` makes a group of its own of each drive or system in it. ``house`` rows come from the house table; a
    catalogue's own rows and its organizers win over them.
    """

    group: str
    family: str = ""
    tier: int | None = None
    kinds: tuple[str, ...] = ()
    system: System = ""
    share: bool | None = None
    split: bool | None = None
    by: tuple[By, ...] = ()
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

    ``together`` asks for one organizer for both groups. ``keep free`` with a ``count`` asks for so many free drawers
    there, whichever, each at least ``height`` clear.
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
class KeptOrganizer:
    """An organizer as a plan has it (or cases as they stand): its outside and field, and where it lies in its drawer.

    ``made`` bears the name of the group, or of the part of a group, and ``part_of`` that of the group it is a part of.
    ``left`` and ``front`` are from the inside walls, ``pieces`` is how many tools it holds. It weighs between
    ``mass_low`` and ``mass_high``, 0 where that is not known.
    """

    drawer: str
    made: Organizer
    left: int = 0
    front: int = 0
    pieces: int = 0
    part_of: str = ""
    mass_low: int = 0
    mass_high: int = 0


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All input, sorted; ``digest`` changes with any byte of it, row order included.

    ``organizers`` are those of whole groups, one each. ``parts`` are those made for just so many tools: rows with
    ``pieces``, and those of a reference, which no file holds.
    """

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
    parts: tuple[KeptOrganizer, ...] = ()


@dataclass(frozen=True, slots=True)
class Snapshot:
    """As much of a plan as another is compared with: (group, drawer), free drawers, (goal, value), its organizers.

    ``organizers`` is empty where only the drawers are known. ``settled`` says whether it was proved that no plan
    divides and mixes less.
    """

    set: str
    cabinet: str
    drawers: tuple[tuple[str, str], ...] = ()
    free: tuple[str, ...] = ()
    goals: tuple[tuple[GoalName, int], ...] = ()
    fill: Fill = "spread"
    organizers: tuple[KeptOrganizer, ...] = ()
    settled: bool = True


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a planner asks of one run beyond the catalogue and the house rules, which stand where nothing is asked.

    ``pins`` add to the catalogue's. ``tiers`` are groups and families in the order they come first, from the top.
    ``goals`` come before those it leaves out, and are on; those in ``off`` are off. ``keep`` is a plan to stay near to,
    ``alternatives`` how many other plans to look for. Groups in ``by_drive`` fall into one for each drive, those in
    ``by_system`` into inch and metric ones. Groups and pieces in ``without`` stay outside. Plans in ``add_to`` lie in
    the cabinet already and stay as they are.
    """

    fill: Fill | None = None
    pins: tuple[Pin, ...] = ()
    tiers: tuple[str, ...] = ()
    goals: tuple[GoalName, ...] = ()
    off: tuple[GoalName, ...] = ()
    keep: Snapshot | None = None
    alternatives: int = 0
    by_drive: tuple[str, ...] = ()
    by_system: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    add_to: tuple[Snapshot, ...] = ()
