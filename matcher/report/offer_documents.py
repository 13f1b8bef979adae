"""An offer as a plain document (a dict of JSON values); every figure names the plan, table or house rule behind it."""

from __future__ import annotations

from collections.abc import Sequence

from matcher.offer import (
    BundleTrace,
    Decision,
    Made,
    Missed,
    Need,
    Offer,
    OrganizerSize,
    SizeUse,
    Stocked,
    Totals,
    TracedOrganizer,
    Weighed,
    Widest,
    drawers_of,
)
from matcher.records import to_mm
from matcher.report.amount_views import rounded, square_meters
from matcher.report.caution_views import cautions_of
from matcher.report.document import Document

STATEMENTS = (
    "Demand is taken as independent between cabinets: a bundle that is not offered loses its units, none of them move "
    "to another.",
    "Gain is one year's units x margin (demand table) of the bundles offered, less work on foam and less set-up once "
    "per new size (house rule offer.setup_cost).",
    "Work on foam is units x offer.trim_cost for every organizer that is trimmed, offer.shim_cost for every one "
    "with a filler, and offer.recut_cost for every one of a new size where its group has a ready-made one (house "
    "rules).",
    "An existing size whose stock is enough for the units of a year is used first, then the one that costs least, then "
    "one on hand.",
    "A smaller set may use the organizer of a larger one of the demand table, where every tool of the group has its "
    "pocket and no larger share of pockets stays empty than the house rule offer.empty_share allows.",
    "Foam and minutes of a bundle are of one unit: foam by the outside of each new size, minutes by the plan's own "
    "layout; existing sizes are not in them.",
    "Proved for these plans: one per pair, and where it shares more sizes a second one that is no worse in the goals "
    "before re-cutting; still other plans might share more. In shared drawers the room for another size is what the "
    "plan leaves beside the other organizers.",
    "Promises (what must stay, and a bundle of every set if asked for) are kept before gain counts.",
    "A new size does not count as serving a drawer that would need a wider filler than the house rule "
    "clearance.wide_gap_share allows without a caution.",
    "What a size earns is its equal part of the margin of each bundle, less work on foam, among the new sizes that "
    "bundle uses; it pays at so many organizers.",
    "keep: every organizer exists, or it must stay. add: needs new sizes. drop: in the range so far, out of the offer. "
    "leave out: neither in the range nor in the offer.",
)
"""What an offer rests on; printed with every one."""


def offer_document(offer: Offer) -> Document:
    """The whole offer; money in the currency of the demand table."""
    needs = offer.cases.needs
    return {
        "gain": offer.choice.gain / 100,
        "bound": offer.choice.bound / 100,
        "proved": offer.choice.proved,
        **_totals(offer.totals),
        "new_sizes": len(offer.choice.sizes),
        "commonality": None if offer.commonality is None else float(offer.commonality),
        "limits": _limits(offer),
        "promises": _promises(offer),
        "bundles": [_bundle(*one) for one in zip(offer.decisions, offer.traces, strict=True)],
        "sizes": [_made(made, needs, offer.setup) for made in offer.made],
        "existing": [_stocked(stocked, needs) for stocked in offer.stocked],
        "curve": [_point(weighed) for weighed in offer.points],
        "stops_paying": None if offer.stop is None else {"new_sizes": offer.stop.limit, "proved": offer.stop.proved},
        "one_more_size": {
            "more_promises": offer.one_more.kept - offer.choice.kept,
            "more_gain": (offer.one_more.gain - offer.choice.gain) / 100,
            "proved": offer.one_more.proved and offer.choice.proved,
        },
        "next_gain": {
            "more_sizes": offer.next.more_sizes if offer.next.choice else None,
            "more_promises": offer.next.more_kept if offer.next.choice else None,
            "more_gain": offer.next.more_gain / 100 if offer.next.choice else None,
            "proved": offer.next.proved,
        },
        "without_limits": {
            "new_sizes": len(offer.unlimited.sizes),
            "bundles": len(offer.unlimited.bundles),
            "promises_kept": offer.unlimited.kept,
            "gain": offer.unlimited.gain / 100,
            "bound": offer.unlimited.bound / 100,
            "proved": offer.unlimited.proved,
        },
        "widest": [_widest(one) for one in offer.widest],
        "statements": list(STATEMENTS),
        "run": {
            "version": offer.run.version,
            "solver": offer.run.solver,
            "seed": offer.run.seed,
            "input_hash": offer.run.digest,
            "budgets": dict(offer.run.budgets),
        },
    }


def bundle_rows(document: Document) -> list[Document]:
    """One row a bundle, without the rows of its organizers."""
    return [{key: value for key, value in row.items() if key != "organizers"} for row in document["bundles"]]


def _totals(totals: Totals) -> Document:
    return {
        "brings": totals.brings / 100,
        "work": totals.work / 100,
        "setup": totals.setup / 100,
        "units": totals.units,
        "unit_share": totals.unit_share,
        "installed_share": totals.installed_share,
    }


def _limits(offer: Offer) -> Document:
    return {
        "setup_cost": offer.setup / 100,
        "max_new_sizes": offer.limits.new_sizes,
        **dict(offer.costs),
        "budget": offer.limits.budget / 100,
        "max_bundles": offer.limits.bundles,
        "each_set": offer.limits.each_set,
        "from": "house rules [offer], or given on the command line",
    }


def _promises(offer: Offer) -> Document:
    least = offer.for_all
    return {
        "kept": offer.choice.kept,
        "of": len(offer.cases.promises),
        "all": [promise.text for promise in offer.cases.promises],
        "missed": [missed.text for missed in offer.missed],
        "missed_need": [_missed(missed, offer.setup) for missed in offer.missed],
        "all_need_new_sizes": len(least.choice.sizes) if least and least.choice else None,
        "all_need_proved": least.proved if least else None,
    }


def _missed(missed: Missed, setup: int) -> Document:
    """What a promise takes by itself; ``None`` where no number of new sizes keeps it, or none was found."""
    count = len(missed.alone.choice.sizes) if missed.alone.choice else None
    return {
        "promise": missed.text,
        "new_sizes": count,
        "setup": None if count is None else count * setup / 100,
        "proved": missed.alone.proved,
    }


def _bundle(decision: Decision, traced: BundleTrace | None) -> Document:
    demand = decision.bundle.demand
    return {
        "set": demand.set,
        "cabinet": demand.cabinet,
        "action": decision.action,
        "code": decision.code,
        "why": decision.why,
        "offered": demand.offered,
        "verdict": decision.bundle.outcome.verdict,
        "units": demand.units,
        "margin": demand.margin,
        "brings": decision.bundle.brings / 100,
        "work": traced.work / 100 if traced else None,
        "foam_m2": square_meters(traced.area) if traced else None,
        "foam_cost": rounded(traced.cost, 2) if traced else None,
        "cutting_minutes": rounded(traced.minutes, 1) if traced else None,
        "installed": demand.installed,
        "new_sizes": list(decision.new_sizes),
        "further_new_sizes": decision.further_sizes,
        "plan": "second" if decision.bundle.second else "first",
        "moved": moves(decision),
        "drawers": [f"{group}: {drawer}" for group, drawer in drawers_of(decision.bundle.outcome).items()],
        "cautions": _cautions(decision),
        "organizers": [_line(line) for line in traced.lines] if traced else [],
        "from": f"demand table, {demand.set} in {demand.cabinet}{f', {demand.year}' if demand.year else ''}",
    }


def _line(line: TracedOrganizer) -> Document:
    """One organizer of a bundle; without a size where the bundle is not offered."""
    use = line.use
    return {
        "group": line.group,
        "drawer": line.drawer,
        "size": line.name or (size_name(use.size) if use else None),
        "how": use.how if use else None,
        "work": use.cost / 100 if use else None,
        "empty_pockets": use.empty if use else None,
        "foam_m2": square_meters(line.area),
        "foam_cost": rounded(line.cost, 2),
        "cutting_minutes": rounded(line.minutes, 1),
    }


def size_name(size: OrganizerSize) -> str:
    """What an existing size is called."""
    return size.organizer.part or f"{size.organizer.group} of {size.organizer.set}"


def _cautions(decision: Decision) -> list[str]:
    """Errors and warnings of the plan that is offered, as sentences."""
    return [f"{one.level} {one.code}: {one.text}" for one in cautions_of(decision.bundle.outcome)]


def moves(decision: Decision) -> list[str]:
    """Where a second plan puts groups elsewhere than the first one, as words."""
    return [f"{group} in drawer {here}, not {there}" for group, there, here in decision.bundle.moved]


def _made(made: Made, needs: Sequence[Need], setup: int) -> Document:
    return {
        "name": made.name,
        "group": needs[made.uses[0].need].group.name,
        "sets": sorted({needs[use.need].set for use in made.uses}),
        **_size(made.size),
        "serves": [_use(use, needs) for use in made.uses],
        "units": made.units,
        "brings": made.brings / 100,
        "earns": float(made.earns) / 100,
        "setup_cost": setup / 100,
        "break_even_units": None if made.break_even is None else float(made.break_even),
    }


def _size(size: OrganizerSize) -> Document:
    width, depth, height, field_width, field_depth = size.shape
    return {
        "width_mm": to_mm(width),
        "depth_mm": to_mm(depth),
        "height_mm": to_mm(height),
        "field_width_mm": to_mm(field_width),
        "field_depth_mm": to_mm(field_depth),
        "width_from": size.width_from,
        "depth_from": size.depth_from,
        "pockets_from": size.pockets_from,
    }


def _use(use: SizeUse, needs: Sequence[Need]) -> Document:
    need = needs[use.need]
    return {
        "set": need.set,
        "cabinet": need.cabinet,
        "drawer": need.placement.drawer,
        "how": use.how,
        "work": use.cost / 100,
        "empty_pockets": use.empty,
    }


def _stocked(stocked: Stocked, needs: Sequence[Need]) -> Document:
    organizer = stocked.size.organizer
    return {
        "group": organizer.group,
        "set": organizer.set,
        "part": organizer.part,
        "revision": organizer.revision,
        **_size(stocked.size),
        "serves": [_use(use, needs) for use in stocked.uses],
        "units": stocked.units,
        "on_hand": organizer.on_hand,
        "from_stock": stocked.from_stock,
        "to_cut": stocked.to_cut,
        "unit_cost": organizer.unit_cost,
    }


def _point(weighed: Weighed) -> Document:
    choice = weighed.point.choice
    return {
        "limit": weighed.point.limit,
        "new_sizes": len(choice.sizes),
        "bundles": len(choice.bundles),
        "promises_kept": choice.kept,
        **_totals(weighed.totals),
        "gain": choice.gain / 100,
        "bound": choice.bound / 100,
        "proved": choice.proved,
        "within_budget": weighed.affordable,
    }


def _widest(widest: Widest) -> Document:
    return {
        "group": widest.group,
        "sets": list(widest.sets),
        **_size(widest.size),
        "existing": widest.size.existing,
        "variants": list(widest.variants),
        "with_shim": list(widest.shimmed),
        "of": list(widest.of),
    }
