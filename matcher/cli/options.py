"""Arguments and options that several commands share."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from matcher.cli.completion import cabinet_names, set_names
from matcher.cli.numbers import plain_number, plain_whole

if TYPE_CHECKING:
    from matcher.house import House
    from matcher.records import Catalogue, Fill, Wishes

CatalogueArg = Annotated[Path, typer.Argument(metavar="CATALOGUE", help="Folder of CSV files, or one .xlsx workbook.")]
SET_HELP = "Name of a set; A+B plans several in one cabinet."
SetArg = Annotated[str, typer.Argument(metavar="SET", help=SET_HELP, autocompletion=set_names)]
CabinetArg = Annotated[str, typer.Argument(metavar="CABINET", help="Name of a cabinet.", autocompletion=cabinet_names)]
CabinetsArg = Annotated[
    list[str] | None,
    typer.Argument(metavar="CABINET", help="Cabinets (none: all).", autocompletion=cabinet_names),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print one JSON document and nothing else.")]
OUT_HELP = "Also write to FILE: .json, .csv or .xlsx; compare and offer .html too; repeatable."
OutOption = Annotated[list[Path] | None, typer.Option("--out", metavar="FILE", help=OUT_HELP)]
FillOption = Annotated[
    str | None,
    typer.Option("--fill", metavar="spread|pack", help="spread: fewest unused drawers; pack: most free drawers."),
]
PIN_HELP = "'GROUP in drawer B3', 'GROUP not in row 1', 'GROUP apart from GROUP' or 'keep bank 2 free'; repeatable."
PinOption = Annotated[list[str] | None, typer.Option("--pin", metavar="WISH", help=PIN_HELP)]
KEEP_FREE_HELP = "So many drawers stay free: '2', '2 of 100 mm' or '2 of 3 15/16 in' clear height; repeatable."
KeepFreeOption = Annotated[list[str] | None, typer.Option("--keep-free", metavar="NUMBER", help=KEEP_FREE_HELP)]
TOGETHER_HELP = "Groups that make one organizer in one drawer: 'GROUP with GROUP'; repeatable."
TogetherOption = Annotated[list[str] | None, typer.Option("--together", metavar="GROUPS", help=TOGETHER_HELP)]
BY_DRIVE_HELP = "A group that falls into one for each drive, such as '1/2 chrome sockets'; repeatable."
ByDriveOption = Annotated[list[str] | None, typer.Option("--by-drive", metavar="GROUP", help=BY_DRIVE_HELP)]
BY_SYSTEM_HELP = "A group that falls into an inch and a metric one; repeatable."
BySystemOption = Annotated[list[str] | None, typer.Option("--by-system", metavar="GROUP", help=BY_SYSTEM_HELP)]
WITHOUT_HELP = "A group or piece that stays outside; repeatable."
WithoutOption = Annotated[list[str] | None, typer.Option("--without", metavar="NAME", help=WITHOUT_HELP)]
TIER_HELP = "Groups and families that come first from the top, in this order, with commas."
TierOption = Annotated[str, typer.Option("--tier", metavar="ORDER", help=TIER_HELP)]
GOALS_HELP = "Goals in the order wished, with commas: order, neighbors, recut, reach; drawers is always first."
GoalsOption = Annotated[str, typer.Option("--goals", metavar="ORDER", help=GOALS_HELP)]
OffOption = Annotated[list[str] | None, typer.Option("--off", metavar="GOAL", help="Leave a goal out; repeatable.")]
KEEP_HELP = "A plan written earlier (JSON): as few groups as possible move."
KeepOption = Annotated[Path | None, typer.Option("--keep", metavar="PLAN.json", help=KEEP_HELP)]
ADD_TO_HELP = "An earlier plan of the cabinet (JSON) that stays as it is: only drawers that it leaves free are used."
AddToOption = Annotated[Path | None, typer.Option("--add-to", metavar="PLAN.json", help=ADD_TO_HELP)]
MEASURED_HELP = "A buyer's readings: a CSV file, or a catalogue with the table measured."
MeasuredOption = Annotated[Path | None, typer.Option("--measured", metavar="FILE", help=MEASURED_HELP)]
READING_HELP = (
    "What was counted or measured: '13 drawers', '2 banks', 'B3 width 515' (mm), 'B3 depth 16 3/8'; repeatable."
)
ReadingOption = Annotated[list[str] | None, typer.Option("--reading", metavar="READING", help=READING_HELP)]
UnitOption = Annotated[
    str, typer.Option("--unit", metavar="NUMBER", help="Order or serial number of the cabinet that was measured.")
]
TOLERANCE_HELP = "Which drawers decide if up to so many mm off?"
ToleranceOption = Annotated[
    Decimal | None,
    typer.Option("--tolerance", metavar="MM", parser=plain_number(0, 1000), help=TOLERANCE_HELP),
]
HouseOption = Annotated[Path | None, typer.Option("--house", metavar="FILE", help="Another house rule file (TOML).")]
NO_STORE_HELP = "Neither use nor keep what earlier runs worked out; see matcher store."
NoStoreOption = Annotated[bool, typer.Option("--no-store", help=NO_STORE_HELP)]
WORKERS_HELP = "Processes to spread the work over (none: one a core, if worth it)."
WorkersOption = Annotated[
    int | None, typer.Option("--workers", metavar="NUMBER", parser=plain_whole(1, 1000), help=WORKERS_HELP)
]
SCHEDULER_HELP = (
    "Use the workers of this running Dask scheduler (extra 'cluster'). Only one you trust: it asks nobody for a "
    "password, so whoever can reach it can run code on it, on its workers and on machines that use it."
)
SchedulerOption = Annotated[str, typer.Option("--scheduler", metavar="ADDRESS", help=SCHEDULER_HELP)]
WHY_HELP = "Also what adds to each goal, reasons and cautions in full, and what holds for every plan."
WhyOption = Annotated[bool, typer.Option("--why", help=WHY_HELP)]
SheetOption = Annotated[bool, typer.Option("--sheet", help="The sheet of what a buyer must measure.")]


def store_folder() -> Path | None:
    """Where commands keep what they worked out: in the user's cache folder; ``None`` for a user without a home."""
    from platformdirs import user_cache_path

    try:
        return user_cache_path("drawer-matcher", appauthor=False) / "curves"
    except RuntimeError:
        return None


@dataclass(frozen=True, slots=True)
class SourceOptions:
    """Where the catalogue and the house rules are."""

    catalogue: CatalogueArg
    house: HouseOption = None
    no_store: NoStoreOption = False

    def load(self) -> tuple[Catalogue, House]:
        """The catalogue and the house rules: those named, else the folder's, else the defaults.

        From then on what is worked out is kept in the user's store, unless that is not wished.
        """
        from matcher.catalogue import check_kinds, read_catalogue
        from matcher.house import default_house, read_house
        from matcher.records import keep_in

        keep_in(None if self.no_store else store_folder())

        own = self.catalogue / "house.toml"
        chosen = self.house or (own if own.exists() or own.is_symlink() else None)
        rules = read_house(chosen) if chosen else default_house()
        check_kinds(rules, chosen.name if chosen else "")
        return read_catalogue(self.catalogue), rules


@dataclass(frozen=True, slots=True)
class WishOptions:
    """What may be asked of any plan beyond the catalogue and the house rules."""

    pin: PinOption = None
    keep_free: KeepFreeOption = None
    together: TogetherOption = None
    by_drive: ByDriveOption = None
    by_system: BySystemOption = None
    without: WithoutOption = None
    tier: TierOption = ""
    goals: GoalsOption = ""
    off: OffOption = None
    fill: FillOption = None

    def wishes(self, keep: Path | None = None, alternatives: int = 0, add_to: Path | None = None) -> Wishes:
        """These wishes, with a plan to keep, a number of alternatives to look for and an earlier plan to add to.

        Raises
        ------
        UsageError
            The words of an option are none that it takes.
        """
        from matcher.catalogue import read_earlier, read_kept
        from matcher.planning import parse_goals, parse_keep_free, parse_names, parse_off, parse_pin, parse_together
        from matcher.records import Wishes

        return Wishes(
            fill=filling(self.fill),
            pins=(
                *map(parse_pin, self.pin or ()),
                *map(parse_keep_free, self.keep_free or ()),
                *chain.from_iterable(map(parse_together, self.together or ())),
            ),
            tiers=parse_names(self.tier),
            goals=parse_goals(self.goals),
            off=parse_off(self.off or ()),
            keep=read_kept(keep) if keep else None,
            alternatives=alternatives,
            by_drive=tuple(self.by_drive or ()),
            by_system=tuple(self.by_system or ()),
            without=tuple(self.without or ()),
            add_to=read_earlier(add_to) if add_to else (),
        )


@dataclass(frozen=True, slots=True)
class TapeOptions:
    """Questions for somebody with a tape; ``tolerance`` in millimeters."""

    measured: MeasuredOption = None
    unit: UnitOption = ""
    tolerance: ToleranceOption = None
    sheet: SheetOption = False

    def __post_init__(self) -> None:
        from matcher.records import UsageError

        if self.unit and self.measured is None:
            raise UsageError("--unit: says which cabinet of --measured FILE is meant; name that file, too")

    def __bool__(self) -> bool:
        return self.measured is not None or self.tolerance is not None or self.sheet


@dataclass(frozen=True, slots=True)
class CrewOptions:
    """Who does the work."""

    workers: WorkersOption = None
    scheduler: SchedulerOption = ""


def filling(word: str | None) -> Fill | None:
    """The fill that --fill names.

    Raises
    ------
    UsageError
        It names none.
    """
    from matcher.records import UsageError

    if word in (None, "spread", "pack"):
        return word  # type: ignore[return-value]
    raise UsageError(f"--fill {word!r}: expected spread or pack")
