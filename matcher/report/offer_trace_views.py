"""One bundle of an offer with all rows that its figures come from. Shows, never computes."""

from __future__ import annotations

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.offer import BundleTrace, Decision, Offer
from matcher.records import counted
from matcher.report.amount_views import square_meters
from matcher.report.grids import Grid
from matcher.report.offer_documents import moves, size_name
from matcher.report.offer_views import money


def bundle_trace_view(offer: Offer, name: str) -> RenderableType:
    """What becomes of the bundle and why, its row of demand, its organizers one by one, and the sums of all that.

    ``name`` is one of the demand table's, ``SET in CABINET``.
    """
    at = [decision.bundle.name for decision in offer.decisions].index(name)
    decision, traced = offer.decisions[at], offer.traces[at]
    parts: list[RenderableType] = [
        *_headline(decision),
        *(Text(f"by its second plan: {one}") for one in moves(decision)),
    ]
    if traced is None:
        return Stack(*parts)
    parts += [Text(""), _lines(traced), *_sums(traced), *_setups(offer, decision)]
    return Stack(*parts)


def _headline(decision: Decision) -> list[Text]:
    demand = decision.bundle.demand
    year = f", {demand.year}" if demand.year else ""
    brings = f"{demand.units:g} x {demand.margin:,.2f} = {money(decision.bundle.brings)} a year"
    return [
        Text.assemble((decision.bundle.name, "bold"), f": {decision.action} ({decision.code})"),
        Text(f"why: {decision.why}"),
        Text(f"brings {brings} (demand table{year}, offered: {demand.offered})"),
    ]


def _lines(traced: BundleTrace) -> Grid:
    """A row an organizer: work in a year, pockets that stay empty if there are any, foam, its cost and minutes."""
    offered = any(line.use for line in traced.lines)
    empty = any(line.use and line.use.empty for line in traced.lines)
    figures = ("*work", *(("*empty",) if empty else ())) if offered else ()
    table = Grid("~group", "drawer", *(("~size", "how") if offered else ()), *figures, "*m2", "*cost", "*minutes")
    for line in traced.lines:
        use = line.use
        cells = [line.group, line.drawer]
        cells += [line.name or size_name(use.size), use.how, money(use.cost)] if use else []
        cells += [f"{use.empty or ''}"] if use and empty else []
        foam = f"{square_meters(line.area):.3f}" if line.area else ""
        table.add_row(*cells, foam, _told(line.cost, 2), _told(line.minutes, 1))
    return table


def _sums(traced: BundleTrace) -> list[Text]:
    """Sums of the rows above; work is of a year, the rest of one unit."""
    told = [f"foam {square_meters(traced.area):.3f} m2"]
    told += [] if traced.cost is None else [f"foam cost {traced.cost:,.2f}"]
    told += [] if traced.minutes is None else [f"{traced.minutes:.1f} minutes at the machine"]
    return [Text(f"to cut one: {', '.join(told)}"), Text(f"work on foam in a year: {money(traced.work)}")]


def _setups(offer: Offer, decision: Decision) -> list[Text]:
    """Its new sizes, each with the bundles that share its set-up."""
    found = []
    for made in offer.made:
        if made.name in decision.new_sizes:
            others = dict.fromkeys(offer.cases.bundles[offer.cases.owner[use.need]].name for use in made.uses)
            rest = [name for name in others if name != decision.bundle.name]
            shared = f"shared with {', '.join(rest)}" if rest else "for this bundle alone"
            found.append(Text(f"{made.name}: set-up {money(offer.setup)}, {shared}"))
    if decision.further_sizes:
        lacks = counted(decision.further_sizes, "new size")
        found.append(Text(f"it lacks {lacks}: set-up {money(decision.further_sizes * offer.setup)}"))
    return found


def _told(amount: float | None, digits: int) -> str:
    return "" if amount is None else f"{amount:,.{digits}f}"
