"""Small records for tests: everything in millimeters, everything else at its default."""

from collections.abc import Iterable
from dataclasses import replace

from matcher.house.reading import default_house
from matcher.house.rules import House
from matcher.planning.outcome import DoesNotFit, Fits
from matcher.planning.question import Question, question_of
from matcher.records.answered import Placement, Plan, Reason, Run
from matcher.records.given import Cabinet, Catalogue, Drawer, Organizer, Piece
from matcher.records.laid_out import Group, SizedPiece
from matcher.records.units import kg, mm

HOUSE: House = default_house()
RUN = Run("0", "none", 1, "", ())


def drawer(name="1", bank=1, row=1, width=560, depth=400, height=100, **more) -> Drawer:
    return Drawer(
        cabinet=more.pop("cabinet", "cabinet"),
        name=name,
        bank=bank,
        last_bank=more.pop("last_bank", bank),
        row=row,
        inside_width=mm(width),
        inside_depth=mm(depth),
        clear_height=mm(height),
        **more,
    )


def cabinet(*drawers: Drawer, name="cabinet") -> Cabinet:
    return Cabinet(name, tuple(sorted(drawers, key=lambda d: (d.bank, d.row, d.name))))


def organizer(group="group", width=500, depth=380, height=50, set_name="set", **more) -> Organizer:
    return Organizer(set_name, group, mm(width), mm(depth), mm(height), **more)


def piece(tool="block", length=100, width=40, height=30, count=1, kind="other", mass=1, **more) -> Piece:
    return Piece(
        set=more.pop("set", "set"),
        tool=tool,
        kind=kind,
        count=count,
        length=mm(length),
        width=mm(width),
        height=mm(height),
        mass=kg(mass),
        **more,
    )


def sized_piece(given: Piece, rank=0) -> SizedPiece:
    assert None not in (given.length, given.width, given.height, given.mass)
    return SizedPiece(
        given, given.length, given.width, given.height, None, given.mass, given.mass, rank, "measured", "test"
    )


def group(name="group", *pieces: Piece, ready: Organizer | None = None, **more) -> Group:
    sized = tuple(sized_piece(one) for one in pieces)
    mass = sum(one.mass_high * one.piece.count for one in sized)
    plain = Group(
        name=name,
        family=name,
        tier=1,
        system="",
        share=True,
        split=ready is None,
        cased=bool(pieces) and all(one.kind == "cased" for one in pieces),
        pieces=sized,
        organizer=ready,
        mass_low=mass,
        mass_high=mass,
        use=None,
    )
    return replace(plain, **more)


def catalogue(pieces=(), organizers=(), cabinets=(), **more) -> Catalogue:
    return Catalogue(
        pieces=tuple(pieces),
        organizers=tuple(sorted(organizers)),
        cabinets=tuple(cabinets),
        group_rules=more.pop("group_rules", ()),
        relations=more.pop("relations", ()),
        **more,
    )


def question(
    where: Cabinet,
    groups: Iterable[Group] = (),
    *,
    known: Catalogue | None = None,
    house: House = HOUSE,
    set_name: str = "set",
) -> Question:
    """The question about groups made by hand; a catalogue is of the cabinet alone unless told otherwise."""
    return question_of(catalogue(cabinets=[where]) if known is None else known, house, (set_name,), where, groups)


def fits(asked: Question, placements: Iterable[Placement], free: Iterable[str] = ()) -> Fits:
    """An answer with a plan made by hand, which nothing has checked."""
    made = Plan(asked.set, asked.cabinet.name, asked.fill, asked.groups, tuple(placements), tuple(free))
    return Fits(asked, RUN, made, (), 0, 0, (True, True), (), (), ())


def refused(asked: Question, *reasons: Reason) -> DoesNotFit:
    """An answer without a plan."""
    return DoesNotFit(asked, RUN, reasons)
