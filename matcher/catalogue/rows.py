"""One model per table: its columns, which are needed, and the kind of cell each takes.

A field's name is the column's name without the unit. A field without default is a needed column with no blank cell.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, ClassVar, Literal, TypeAlias

from pydantic import BaseModel, BeforeValidator, ConfigDict

from matcher.catalogue.cells import (
    DENSITIES,
    DISTANCE,
    LENGTH,
    MASS,
    bank,
    drive,
    kind,
    number,
    partly_known,
    rounded,
    size,
    text,
    whole,
    word,
    words,
    yes_no,
)
from matcher.records import By, PinRule, Slot, System, Toward, TypedSize, Wish

UP, DOWN = Toward.UP, Toward.DOWN

KIND = kind()
SYSTEM = word(("metric", "inch"), "metric, inch or blank", sae="inch")
SLOT = word(("foam", "no foam", "blocked"))
WISH = word(("near", "beside", "below", "left_of"))
RULE = word(("in", "not in", "apart", "together", "keep free"))
BY = word(("drive", "system"))
OFFERED = word(("yes", "must", "no"))
BILLION = 1_000_000_000

Name: TypeAlias = Annotated[str, BeforeValidator(text("a name"))]
Text: TypeAlias = Annotated[str, BeforeValidator(text())]
KindCell: TypeAlias = Annotated[str, BeforeValidator(KIND)]
Kinds: TypeAlias = Annotated[tuple[str, ...], BeforeValidator(words(KIND))]
Divisors: TypeAlias = Annotated[tuple[By, ...], BeforeValidator(words(BY))]
Systems: TypeAlias = Annotated[System, BeforeValidator(SYSTEM)]
SizeCell: TypeAlias = Annotated[str, BeforeValidator(size())]
SquareDrive: TypeAlias = Annotated[str, BeforeValidator(drive())]
Banks: TypeAlias = Annotated[tuple[int, int], BeforeValidator(bank())]
PlaceCell: TypeAlias = Annotated[int, BeforeValidator(whole(1, 999))]
CountCell: TypeAlias = Annotated[int, BeforeValidator(whole(1, 10_000))]
HeldCell: TypeAlias = Annotated[int, BeforeValidator(whole(0, 10_000))]
Tier: TypeAlias = Annotated[int, BeforeValidator(whole(0, 999))]
StockCell: TypeAlias = Annotated[int, BeforeValidator(whole(0, 1_000_000))]
Weight: TypeAlias = Annotated[int, BeforeValidator(whole(0, 1_000))]
Flag: TypeAlias = Annotated[bool, BeforeValidator(yes_no())]
Money: TypeAlias = Annotated[float, BeforeValidator(number("an amount from 0 to 1,000,000,000", 0, BILLION))]
Gain: TypeAlias = Annotated[float, BeforeValidator(number("an amount up to 1,000,000,000", -BILLION, BILLION))]
Units: TypeAlias = Annotated[float, BeforeValidator(number("a number from 0 to 1,000,000,000", 0, BILLION))]
UseCell: TypeAlias = Annotated[float, BeforeValidator(number("a number of times a week from 0 to 100,000", 0, 100_000))]
Density: TypeAlias = Annotated[float, BeforeValidator(number("a density from 0 to 10,000 kg/m3", 0, 10_000, DENSITIES))]

Thing: TypeAlias = Annotated[int, BeforeValidator(rounded(LENGTH, UP))]
OpeningCell: TypeAlias = Annotated[int, BeforeValidator(rounded(LENGTH, DOWN))]
InsideCell: TypeAlias = Annotated[TypedSize, BeforeValidator(partly_known(rounded(LENGTH, DOWN)))]
Distance: TypeAlias = Annotated[int, BeforeValidator(rounded(DISTANCE, UP))]
Offset: TypeAlias = Annotated[int, BeforeValidator(rounded(DISTANCE, DOWN))]
ExactSize: TypeAlias = Annotated[Fraction, BeforeValidator(LENGTH)]
ExactPlace: TypeAlias = Annotated[Fraction, BeforeValidator(DISTANCE)]
Mass: TypeAlias = Annotated[int, BeforeValidator(rounded(MASS, UP))]
Rating: TypeAlias = Annotated[int, BeforeValidator(rounded(MASS, DOWN))]


MEASURES = {"length": "mm", "width": "mm", "height": "mm", "mass": "kg"}
"""What is measured of a tool, and the unit in which a list of sizes tells it."""
SIZES_TOLD = frozenset(
    f"{bound}_{name}_{unit}" for bound in ("least", "likely", "greatest") for name, unit in MEASURES.items()
) | {"count", "basis", "source", "in_doubt_cm2"}
"""Columns that a list of sizes has for a person beside those that are filled in."""


LIST_TOLD = frozenset({"sure", "look_at", "list_row", "list_text"})
"""Columns that tools drafted from a list have for a person."""


class Row(BaseModel):
    """A row of a table; ``at`` is the line a person sees in a spreadsheet (the header is row 1).

    ``told`` names columns that stand beside the others for a person and are not read.
    """

    model_config = ConfigDict(frozen=True, arbitrary_types_allowed=True)
    told: ClassVar[frozenset[str]] = frozenset()
    at: int


class ToolRow(Row):
    """Equal tools of a set."""

    told: ClassVar[frozenset[str]] = LIST_TOLD

    set: Name
    tool: Name
    kind: KindCell
    count: CountCell
    system: Systems = ""
    size: SizeCell = ""
    drive: SquareDrive = ""
    length: Thing | None = None
    width: Thing | None = None
    height: Thing | None = None
    mass: Mass | None = None
    group: Text = ""
    use: UseCell | None = None
    two_hands: Flag = False
    outline: Text = ""


class SizeRow(Row):
    """What was measured of the tools of a row of the table tools; a blank ``set`` means every set."""

    told: ClassVar[frozenset[str]] = SIZES_TOLD

    tool: Name
    set: Text = ""
    kind: Annotated[str, BeforeValidator(KIND)] = ""
    system: Systems = ""
    size: SizeCell = ""
    drive: SquareDrive = ""
    length: Thing | None = None
    width: Thing | None = None
    height: Thing | None = None
    mass: Mass | None = None


class OrganizerRow(Row):
    """A ready-made organizer."""

    set: Name
    group: Name
    width: Thing
    depth: Thing
    height: Thing
    mass: Mass | None = None
    field_width: Thing | None = None
    field_depth: Thing | None = None
    field_left: Offset | None = None
    field_front: Offset | None = None
    family: Text = ""
    tier: Tier | None = None
    system: Systems = ""
    part: Text = ""
    revision: Text = ""
    on_hand: StockCell | None = None
    unit_cost: Money | None = None
    foam: Text = ""
    cabinet: Text = ""
    drawer: Text = ""
    pieces: HeldCell | None = None
    part_of: Text = ""
    first_piece: CountCell | None = None


class DrawerRow(Row):
    """A drawer by what it really takes."""

    cabinet: Name
    drawer: Name
    bank: Banks
    row: PlaceCell
    inside_width: InsideCell
    inside_depth: InsideCell
    clear_height: InsideCell
    load_rating: Rating | None = None
    rating_basis: Text = ""
    above_ground: Distance | None = None
    slot: Annotated[Slot, BeforeValidator(SLOT)] = "foam"
    mass: Mass | None = None
    travel: Thing | None = None
    corner_radius: Distance = 0
    liner: Distance = 0


class ObstructionRow(Row):
    """A block in a drawer, unrounded until it is set against the drawer's walls."""

    cabinet: Name
    drawer: Name
    left: ExactPlace
    front: ExactPlace
    width: ExactSize
    depth: ExactSize
    height: Thing


class CabinetRow(Row):
    """A cabinet as a whole."""

    cabinet: Name
    label: Text = ""
    model_line: Text = ""
    stands_on: Text = ""
    revision: Text = ""
    width: Thing | None = None
    depth: Thing | None = None
    height: Thing | None = None
    mass: Mass | None = None
    load_rating: Rating | None = None
    price: Money | None = None
    cg_depth: Distance | None = None
    cg_height: Distance | None = None
    contact_front: Distance | None = None
    contact_span: OpeningCell | None = None
    caster_load: Rating | None = None
    caster_trail: Distance | None = None


class PinRow(Row):
    """A hard wish."""

    rule: Annotated[PinRule, BeforeValidator(RULE)]
    set: Text = ""
    cabinet: Text = ""
    group: Text = ""
    other: Text = ""
    drawer: Text = ""
    bank: PlaceCell | None = None
    row: PlaceCell | None = None


class GroupRow(Row):
    """What forms a group, and its place in the order."""

    group: Name
    family: Text = ""
    tier: Tier | None = None
    kinds: Kinds = ()
    system: Systems = ""
    share: Flag | None = None
    split: Flag | None = None
    by: Divisors = ()


class RelationRow(Row):
    """A wish about two groups."""

    group: Name
    other: Name
    wish: Annotated[Wish, BeforeValidator(WISH)]
    weight: Weight = 1


class MeasuredRow(Row):
    """A buyer's readings of one drawer."""

    cabinet: Name
    drawer: Name
    inside_width: OpeningCell | None = None
    inside_depth: OpeningCell | None = None
    clear_height: OpeningCell | None = None
    by: Text = ""
    date: Text = ""
    order: Text = ""
    serial: Text = ""


class FoamRow(Row):
    """Sheet stock."""

    foam: Name
    length: OpeningCell
    width: OpeningCell
    thickness: OpeningCell
    tolerance: Distance = 0
    color: Text = ""
    density: Density | None = None
    price: Money | None = None


class DemandRow(Row):
    """What a bundle is expected to sell."""

    set: Name
    cabinet: Name
    units: Units
    margin: Gain
    year: Text = ""
    offered: Annotated[Literal["yes", "must", "no"], BeforeValidator(OFFERED)] = "yes"
    installed: Units | None = None


MODELS: Mapping[str, type[Row]] = {
    "tools": ToolRow,
    "sizes": SizeRow,
    "organizers": OrganizerRow,
    "drawers": DrawerRow,
    "obstructions": ObstructionRow,
    "cabinets": CabinetRow,
    "pins": PinRow,
    "groups": GroupRow,
    "relations": RelationRow,
    "measured": MeasuredRow,
    "foam": FoamRow,
    "demand": DemandRow,
}
"""The model of every table."""
