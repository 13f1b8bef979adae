"""An offer as tables for a terminal. Shows, never computes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich import box
from rich.console import Group as Stack
from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from matcher.offer.choosing import Use
from matcher.offer.deciding import Offer
from matcher.offer.figures import Widest
from matcher.offer.needs import Need
from matcher.offer.sizes import Size
from matcher.records import How
from matcher.report.offer_document import STATEMENTS
from matcher.units import to_mm

STYLES = {"keep": "bold green", "add": "green", "drop": "bold red", "leave out": "yellow"}


def offer_view(offer: Offer) -> RenderableType:
    """Headline, bundles, new sizes, existing sizes, the trade-off, the widest-serving sizes, what it rests on."""
    parts: list[RenderableType] = [_headline(offer), *_promise_lines(offer), _bundle_table(offer)]
    parts += [_size_table(offer)] if offer.made else []
    parts += [_existing_table(offer)] if offer.stocked else []
    parts += [_curve_table(offer), *_step_lines(offer), _widest_table(offer.widest)]
    return Stack(*parts, *map(Text, STATEMENTS))


def _headline(offer: Offer) -> Text:
    sums, choice = offer.totals, offer.choice
    word = "proved" if choice.proved else f"not proved, bound {_money(choice.bound)}"
    shared = "" if offer.commonality is None else f"; commonality {float(offer.commonality):.2f} bundles per size"
    line = Text.assemble(("offer", "bold"), f": {len(choice.bundles)} bundles, {len(choice.sizes)} new sizes{shared}")
    line.append(
        f"\ngain {_money(choice.gain)} ({word}): brings {_money(sums.brings)} a year, set-up {_money(sums.setup)}"
    )
    return line


def _promise_lines(offer: Offer) -> list[Text]:
    """What was promised and cannot be held, and how many sizes it would take."""
    lines = [Text(f"! not kept: {text}", "bold red") for text in offer.missed]
    if offer.for_all is not None:
        lines.append(Text(_for_all(offer)))
    return lines


def _for_all(offer: Offer) -> str:
    least = offer.for_all
    assert least is not None
    if least.choice is None:
        return "no number of new sizes keeps all of them" if least.proved else "whether all can be kept is undecided"
    word = "proved" if least.proved else f"not proved, at least {least.bound}"
    return f"all of them together need {len(least.choice.sizes)} new sizes ({word})"


def _table(title: str, left: Iterable[str], right: Iterable[str], last: str) -> Table:
    table = Table(title=title, box=box.SIMPLE_HEAD, title_justify="left", padding=(0, 1, 0, 0))
    for heading in left:
        table.add_column(heading, overflow="fold", no_wrap=heading.startswith("mm"))
    for heading in right:
        table.add_column(heading, justify="right", no_wrap=True)
    table.add_column(last, overflow="fold")
    return table


def _bundle_table(offer: Offer) -> Table:
    table = _table("bundles", ("bundle", "action"), ("units", "margin", "brings"), "why")
    for decision in sorted(offer.decisions, key=lambda one: list(STYLES).index(one.action)):
        demand = decision.bundle.demand
        table.add_row(
            decision.bundle.name,
            Text(decision.action, STYLES[decision.action]),
            f"{demand.units:g}",
            f"{demand.margin:,.2f}",
            _money(decision.bundle.brings),
            decision.told,
        )
    return table


def _size_table(offer: Offer) -> Table:
    table = _table("new sizes to cut", ("", "group", "mm (w x d x h)"), ("units", "pays at"), "serves")
    for made in offer.made:
        table.add_row(
            made.name,
            offer.cases.needs[made.uses[0].need].group.name,
            _outside(made.size),
            f"{made.units:g}",
            "" if made.break_even is None else f"{float(made.break_even):.1f}",
            _served(made.uses, offer.cases.needs),
        )
    return table


def _existing_table(offer: Offer) -> Table:
    table = _table("existing sizes used", ("part", "group"), ("units", "on hand", "to cut"), "serves")
    for stocked in offer.stocked:
        organizer = stocked.size.organizer
        row = (f"{stocked.units:g}", f"{organizer.on_hand or 0}", f"{stocked.to_cut:g}")
        table.add_row(organizer.part, organizer.group, *row, _served(stocked.uses, offer.cases.needs))
    return table


def _curve_table(offer: Offer) -> Table:
    """The points at which more is gained than before, and the last."""
    table = _table(
        "trade-off: the most gained with so many new sizes", (), ("from", "bundles", "units", "set-up", "gain"), ""
    )
    before = [None, *(weighed.point.choice.gain for weighed in offer.points)]
    for gain, weighed in zip(before, offer.points, strict=False):
        choice, sums = weighed.point.choice, weighed.totals
        notes = [] if choice.proved else [f"not proved, bound {_money(choice.bound)}"]
        notes += [] if weighed.affordable else ["over budget"]
        cells = (f"{weighed.point.limit}", f"{len(choice.bundles)}", f"{sums.units:g}", _money(sums.setup))
        if choice.gain != gain or weighed is offer.points[-1]:
            table.add_row(*cells, _money(choice.gain), ", ".join(notes))
    return table


def _step_lines(offer: Offer) -> list[Text]:
    more, step = offer.one_more.gain - offer.choice.gain, offer.next
    proved = offer.one_more.proved and offer.choice.proved
    lines = [Text(f"one more new size, budget aside, brings {_money(more)} more{'' if proved else ' (not proved)'}")]
    if step.choice:
        word = "" if step.proved else " (not proved)"
        lines.append(Text(f"the next gain takes {step.more_sizes} more: {_money(step.more_gain)} more{word}"))
    elif step.proved:
        lines.append(Text("no number of new sizes brings more (proved)"))
    return lines


def _widest_table(found: Iterable[Widest]) -> Table:
    table = _table("the one size for most variants", ("group", "sets", "mm (w x d x h)"), ("variants", "of"), "not")
    for one in found:
        rest = [name if name not in one.shimmed else f"{name} (shim)" for name in one.of if name not in one.variants]
        counts = (f"{len(one.variants)}", f"{len(one.of)}")
        table.add_row(one.group, ", ".join(one.sets), _outside(one.size), *counts, ", ".join(rest))
    return table


def _outside(size: Size) -> str:
    return " x ".join(f"{to_mm(length):.1f}" for length in size.shape[:3])


def _served(uses: Iterable[Use], needs: Sequence[Need]) -> str:
    """Cabinets by set and by way in."""
    found: dict[tuple[str, How], list[str]] = {}
    for use in uses:
        found.setdefault((needs[use.need].set, use.how), []).append(needs[use.need].cabinet)
    return "; ".join(f"{name} {how} in {', '.join(cabinets)}" for (name, how), cabinets in found.items())


def _money(amount: int) -> str:
    return f"{amount / 100:,.2f}"
