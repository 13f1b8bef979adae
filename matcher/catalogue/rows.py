"""One model per table: its columns, which are needed, and the kind of cell each takes.

A field's name is the column's name without the unit. A field without default is a needed column with no blank cell.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal, TypeAlias

from pydantic import BaseModel, BeforeValidator, ConfigDict

from matcher.catalogue.cells import (
    DENSITIES,
    Bank,
    Drive,
    Exact,
    Number,
    SizeText,
    Text,
    Whole,
    Word,
    Words,
    YesNo,
    distance,
    length,
    mass,
)
from matcher.catalogue.trade import KIND_WORDS
from matcher.records import PinRule, Slot, System, Wish
from matcher.units import Toward

UP, DOWN = Toward.UP, Toward.DOWN

KIND = Word(KIND_WORDS, "a known kind of tool")
SYSTEM = Word(("metric", "inch"), "metric, inch or blank", {"sae": "inch"})
SLOT = Word(("foam", "no foam", "blocked"))
WISH = Word(("near", "beside", "below", "left_of"), aliases={"left of": "left_of"})
RULE = Word(("in", "not in", "apart", "keep free"))
OFFERED = Word(("yes", "must", "no"))
MONEY = Number("an amount from 0 to 1,000,000,000")

Name: TypeAlias = Annotated[str, BeforeValidator(Text("a name"))]
Words_: TypeAlias = Annotated[str, BeforeValidator(Text())]
Kind: TypeAlias = Annotated[str, BeforeValidator(KIND)]
Kinds: TypeAlias = Annotated[tuple[str, ...], BeforeValidator(Words(KIND))]
Systems: TypeAlias = Annotated[System, BeforeValidator(SYSTEM)]
Size: TypeAlias = Annotated[str, BeforeValidator(SizeText())]
SquareDrive: TypeAlias = Annotated[str, BeforeValidator(Drive())]
Banks: TypeAlias = Annotated[tuple[int, int], BeforeValidator(Bank())]
Place: TypeAlias = Annotated[int, BeforeValidator(Whole(1, 999))]
Count: TypeAlias = Annotated[int, BeforeValidator(Whole(1, 10_000))]
Tier: TypeAlias = Annotated[int, BeforeValidator(Whole(0, 999))]
Stock: TypeAlias = Annotated[int, BeforeValidator(Whole(0, 1_000_000))]
Weight: TypeAlias = Annotated[int, BeforeValidator(Whole(0, 1_000))]
Flag: TypeAlias = Annotated[bool, BeforeValidator(YesNo())]
Money: TypeAlias = Annotated[float, BeforeValidator(MONEY)]
Gain: TypeAlias = Annotated[float, BeforeValidator(Number("an amount up to 1,000,000,000", least=-1_000_000_000))]
Units: TypeAlias = Annotated[float, BeforeValidator(Number("a number from 0 to 1,000,000,000"))]
Use: TypeAlias = Annotated[float, BeforeValidator(Number("a number from 0 to 100,000", most=100_000))]
Density: TypeAlias = Annotated[float, BeforeValidator(Number("a density from 0 to 10,000 kg/m3", 0, 10_000, DENSITIES))]

Thing: TypeAlias = Annotated[int, BeforeValidator(length(UP))]
Opening: TypeAlias = Annotated[int, BeforeValidator(length(DOWN))]
Distance: TypeAlias = Annotated[int, BeforeValidator(distance(UP))]
Offset: TypeAlias = Annotated[int, BeforeValidator(distance(DOWN))]
ExactSize: TypeAlias = Annotated[Fraction, BeforeValidator(Exact(length(UP)))]
ExactPlace: TypeAlias = Annotated[Fraction, BeforeValidator(Exact(distance(DOWN)))]
Mass: TypeAlias = Annotated[int, BeforeValidator(mass(UP))]
Rating: TypeAlias = Annotated[int, BeforeValidator(mass(DOWN))]


class Row(BaseModel):
    """A row of a table; ``at`` is the line a person sees in a spreadsheet (the header is row 1)."""

    model_config = ConfigDict(frozen=True, arbitrary_types_allowed=True)
    at: int


class ToolRow(Row):
    """Equal tools of a set."""

    set: Name
    tool: Name
    kind: Kind
    count: Count
    system: Systems = ""
    size: Size = ""
    drive: SquareDrive = ""
    length: Thing | None = None
    width: Thing | None = None
    height: Thing | None = None
    mass: Mass | None = None
    group: Words_ = ""
    use: Use | None = None
    two_hands: Flag = False
    outline: Words_ = ""


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
    family: Words_ = ""
    tier: Tier | None = None
    system: Systems = ""
    part: Words_ = ""
    revision: Words_ = ""
    on_hand: Stock | None = None
    unit_cost: Money | None = None
    foam: Words_ = ""


class DrawerRow(Row):
    """A drawer by what it really takes."""

    cabinet: Name
    drawer: Name
    bank: Banks
    row: Place
    inside_width: Opening
    inside_depth: Opening
    clear_height: Opening
    load_rating: Rating | None = None
    rating_basis: Words_ = ""
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
    label: Words_ = ""
    model_line: Words_ = ""
    stands_on: Words_ = ""
    revision: Words_ = ""
    width: Thing | None = None
    depth: Thing | None = None
    height: Thing | None = None
    mass: Mass | None = None
    load_rating: Rating | None = None
    price: Money | None = None
    cg_depth: Distance | None = None
    cg_height: Distance | None = None
    contact_front: Distance | None = None
    contact_span: Opening | None = None
    caster_load: Rating | None = None
    caster_trail: Distance | None = None


class PinRow(Row):
    """A hard wish."""

    rule: Annotated[PinRule, BeforeValidator(RULE)]
    set: Words_ = ""
    cabinet: Words_ = ""
    group: Words_ = ""
    other: Words_ = ""
    drawer: Words_ = ""
    bank: Place | None = None
    row: Place | None = None


class GroupRow(Row):
    """What forms a group, and its place in the order."""

    group: Name
    family: Words_ = ""
    tier: Tier | None = None
    kinds: Kinds = ()
    system: Systems = ""
    share: Flag | None = None
    split: Flag | None = None


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
    inside_width: Opening | None = None
    inside_depth: Opening | None = None
    clear_height: Opening | None = None
    by: Words_ = ""
    date: Words_ = ""
    order: Words_ = ""
    serial: Words_ = ""


class FoamRow(Row):
    """Sheet stock."""

    foam: Name
    length: Opening
    width: Opening
    thickness: Opening
    tolerance: Distance = 0
    color: Words_ = ""
    density: Density | None = None
    price: Money | None = None


class DemandRow(Row):
    """What a bundle is expected to sell."""

    set: Name
    cabinet: Name
    units: Units
    margin: Gain
    year: Words_ = ""
    offered: Annotated[Literal["yes", "must", "no"], BeforeValidator(OFFERED)] = "yes"
    installed: Units | None = None
