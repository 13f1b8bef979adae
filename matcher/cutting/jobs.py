"""Everything to be cut for one plan, from an outcome to blanks, sheets, drawings, setup sheets, minutes and cost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from matcher.cutting.blanks import Blank, Refit, blanks, refits, thickness_of
from matcher.cutting.drawings import Drawing, drawing
from matcher.cutting.guesses import Guess, GuessedSizesError, guesses
from matcher.cutting.layers import Bought, bought
from matcher.cutting.minutes import Minutes, organizer_minutes
from matcher.cutting.on_hand import InStock, in_stock
from matcher.cutting.setup import HAND_CAUTIONS, SetupSheet, setup_sheet
from matcher.cutting.sheets import Stock
from matcher.house import House
from matcher.planning import Fits, Outcome
from matcher.records import Cabinet, Foam, Plan, UsageError


@dataclass(frozen=True, slots=True)
class Job:
    """One organizer to cut. ``cost`` is its share by area of the sheets bought for it, ``None`` if not known.

    ``foam`` is what is seen from above, ``base`` what is bonded under it; ``None`` where there is none that fits.
    """

    blank: Blank
    foam: Foam | None
    base: Foam | None
    drawing: Drawing
    setup: SetupSheet
    minutes: Minutes
    cost: float | None


@dataclass(frozen=True, slots=True)
class Cut:
    """What to cut for an outcome; without a plan there is nothing.

    ``guesses`` are the pieces to cut for whose size is not measured: with any, nothing here is for production.
    ``batch`` is how many of everything are made at once; minutes and cost of a job are for one. ``stocks`` are the
    sheets of what is seen from above, ``bases`` those of the bases under it. ``in_stock`` are the ready-made organizers
    that the batch takes.
    """

    outcome: Outcome
    batch: int = 1
    jobs: tuple[Job, ...] = ()
    refits: tuple[Refit, ...] = ()
    stocks: tuple[Stock, ...] = ()
    guesses: tuple[Guess, ...] = ()
    bases: tuple[Stock, ...] = ()
    in_stock: tuple[InStock, ...] = ()

    @property
    def production(self) -> bool:
        """Whether every size that is cut for was measured."""
        return not self.guesses

    @property
    def work_cautions(self) -> tuple[str, ...]:
        """What whoever cuts has to mind: at the machine and by hand, or where nothing is cut anew by hand alone."""
        if self.jobs:
            return self.jobs[0].setup.cautions
        return HAND_CAUTIONS if self.refits else ()

    @property
    def sheets(self) -> int:
        """Sheets of all foams together."""
        return sum(stock.free.value for stock in (*self.stocks, *self.bases))

    @property
    def minutes(self) -> float:
        """Machine minutes for one of every organizer."""
        return sum(job.minutes.total for job in self.jobs)

    @property
    def cost(self) -> float | None:
        """Foam for one bundle, ``None`` unless every foam has a price."""
        return _sum([job.cost for job in self.jobs])


def cut(outcome: Outcome, *, allow_estimates: bool = False, batch: int = 1) -> Cut:
    """Blanks, sheets, drawings and setup sheets for ``batch`` of an outcome's plan.

    Parameters
    ----------
    allow_estimates : also cut for pieces whose size is not measured; then nothing is for production

    Raises
    ------
    GuessedSizesError
        Sizes of pieces to cut for are not measured, and estimates are not allowed.
    UsageError
        The house rules give no feed or depth of a pass, or the batch is empty.
    """
    question, house = outcome.question, outcome.question.house
    if min(house.cut.feed_mm_min, house.cut.pass_depth, batch) <= 0:
        raise UsageError("cutting asks for a feed, a depth of a pass and a batch above 0")
    if not isinstance(outcome, Fits):
        return Cut(outcome, batch)
    made = outcome.plan
    listed = blanks(made, house)
    cut_for = {blank.group for blank in listed}
    guessed = guesses(group for group in made.groups if group.name in cut_for)
    if guessed and not allow_estimates:
        raise GuessedSizesError(guessed)
    sheets = bought(listed, question.catalogue.foam, house, batch)
    jobs = tuple(_jobs(made, listed, sheets, question.cabinet, house, batch, not guessed))
    return Cut(outcome, batch, jobs, refits(made), sheets.tops, guessed, sheets.bases, in_stock(made, batch))


def _jobs(
    made: Plan,
    listed: Sequence[Blank],
    sheets: Bought,
    cabinet: Cabinet,
    house: House,
    batch: int,
    production: bool,
) -> Iterator[Job]:
    groups = {group.name: group for group in made.groups}
    drawers = {drawer.name: drawer for drawer in cabinet.drawers}
    placements = {placement.group: placement for placement in made.placements}
    for n, blank in enumerate(listed):
        placement = placements[blank.group]
        layout = placement.layout
        assert layout is not None
        top, under = (next((one for one in some if n in one.blanks), None) for some in (sheets.tops, sheets.bases))
        foam, base = top.foam if top else None, under.foam if under else None
        thickness = thickness_of(blank, foam, base)
        shares = [_share(blank, stock, listed, batch) for stock in ((top, under) if blank.base else (top,))]
        drawn = drawing(placement, layout, groups[blank.group], drawers[blank.drawer], thickness, house, production)
        yield Job(
            blank=blank,
            foam=foam,
            base=base,
            drawing=drawn,
            setup=setup_sheet(blank, foam, base, layout, house.cutters, batch, production),
            minutes=organizer_minutes(layout, drawn.through, thickness, house.cut, house.cutters),
            cost=_sum(shares),
        )


def _sum(costs: Sequence[float | None]) -> float | None:
    """All together, ``None`` if one is not known."""
    return None if None in costs else sum(cost for cost in costs if cost is not None)


def _share(blank: Blank, stock: Stock | None, listed: Sequence[Blank], batch: int) -> float | None:
    """A blank's share of its sheets' cost, by area."""
    if stock is None or stock.cost is None:
        return None
    return stock.cost / batch * blank.area / sum(listed[n].area for n in stock.blanks)
