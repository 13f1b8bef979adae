"""An offer as tables for a terminal of any width. Shows, never computes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.offer import Choice, Decision, Missed, Need, Offer, OrganizerSize, SizeUse, Widest
from matcher.planning import Fits, Outcome, reasons_of
from matcher.records import How, counted, to_mm
from matcher.report.amount_views import square_meters
from matcher.report.caution_views import fleet_cautions
from matcher.report.grids import Grid
from matcher.report.offer_documents import STATEMENTS, moves

STYLES = {"keep": "bold green", "add": "green", "drop": "bold red", "leave out": "yellow"}
OFFERED = ("keep", "add")
MORE = "--why shows the trade-off, the widest-serving sizes and what all of this rests on"
UNBROKEN = ("bundle", "action", "mm (w x d x h)", "part")
"""Headings of columns whose words stand in one line."""


def offer_view(offer: Offer, *, why: bool = False) -> RenderableType:
    """Headline, bundles, new sizes, existing sizes, the next step; errors and warnings of what is offered.

    ``why`` adds all of the trade-off, the widest-serving sizes and what the offer rests on.
    """
    parts: list[RenderableType] = [*_headline(offer), *_promise_lines(offer)]
    parts += [_offered_table(offer), *_second_lines(offer), _left_table(offer), _size_table(offer)]
    parts += [_existing_table(offer), *([_curve_table(offer)] if why else []), *_step_lines(offer)]
    parts += _cautions(offer, why)
    if why:
        return Stack(*parts, _widest_lines(offer.widest), *(Text(line, "dim") for line in STATEMENTS))
    return Stack(*parts, Text(MORE, "dim"))


def _cautions(offer: Offer, why: bool) -> list[Text]:
    """Errors and warnings of the plans that are offered, set by set."""
    found: dict[str, list[Outcome]] = {}
    for decision in offer.decisions:
        if decision.action in OFFERED:
            found.setdefault(decision.bundle.outcome.set, []).append(decision.bundle.outcome)
    told = {name: fleet_cautions(outcomes, why=why) for name, outcomes in found.items()}
    return [line for name, lines in told.items() for line in (*([Text(name, "bold")] if lines else []), *lines)]


def _headline(offer: Offer) -> list[Text]:
    sums, choice, limits = offer.totals, offer.choice, offer.limits
    word = "proved for these plans" if choice.proved else f"not proved, bound {money(choice.bound)}"
    at_most = counted(limits.new_sizes, "new size")
    worked = f" work on foam {money(sums.work)} a year," if sums.work else ""
    lines = [
        Text.assemble(("offer", "bold"), f": {_told(choice)} to cut"),
        Text(
            f"gain {money(choice.gain)} ({word}): {money(sums.brings)} a year,{worked} set-up {money(sums.setup)} once"
        ),
        Text(f"limits: {at_most}, set-up money {money(limits.budget)}, a size {money(offer.setup)}"),
    ]
    told = [] if sums.unit_share is None else [f"{sums.unit_share:.0%} of all units"]
    told += [] if sums.installed_share is None else [f"{sums.installed_share:.0%} of installed cabinets"]
    told += [] if offer.commonality is None else [f"a size goes into {float(offer.commonality):.1f} bundles on average"]
    return [*lines, Text(f"reach: {', '.join(told)}")] if told else lines


def _promise_lines(offer: Offer) -> list[Text]:
    """What was promised and cannot be held, and how many sizes it would take."""
    lines = [Text(f"! not kept: {missed.text}: {_takes(missed, offer)}", "bold red") for missed in offer.missed]
    if offer.for_all is not None:
        lines.append(Text(_for_all(offer)))
    return lines


def _takes(missed: Missed, offer: Offer) -> str:
    """What it would take to keep a promise, if it were the only one."""
    least, allowed = missed.alone, min(offer.limits.new_sizes, offer.limits.affordable(offer.setup))
    if least.choice is None:
        return "no number of new sizes keeps it" if least.proved else "whether new sizes keep it is undecided"
    count = len(least.choice.sizes)
    word = "proved" if least.proved else f"not proved, at least {least.bound}"
    took = f"{counted(count, 'new size')}, set-up {money(count * offer.setup)} ({word})"
    return f"by itself it takes {took}; allowed and affordable: {allowed}"


def _for_all(offer: Offer) -> str:
    least = offer.for_all
    assert least is not None
    if least.choice is None:
        return "no number of new sizes keeps all of them" if least.proved else "whether all can be kept is undecided"
    word = "proved" if least.proved else f"not proved, at least {least.bound}"
    return f"all of them together need {counted(len(least.choice.sizes), 'new size')} ({word})"


# ---------------------------------------------------------------------------------------------------------- bundles


def _offered_table(offer: Offer) -> RenderableType:
    worked = ("work",) if offer.totals.work else ()
    figures = ("units", "margin", "brings", *worked, "foam m2", "min")
    table = _table(("bundle", "action"), figures, "new sizes it uses")
    for decision, traced in zip(offer.decisions, offer.traces, strict=True):
        if decision.action not in OFFERED or traced is None:
            continue
        demand = decision.bundle.demand
        sizes = _spans(decision.new_sizes) or "none"
        cells = [f"{demand.units:g}", f"{demand.margin:,.2f}", money(decision.bundle.brings)]
        cells += [money(traced.work)] if worked else []
        cells += [f"{square_meters(traced.area):.2f}", "" if traced.minutes is None else f"{traced.minutes:.0f}"]
        table.add_row(decision.bundle.name, _action(decision), *cells, sizes)
    return _titled("to offer (foam and minutes to cut one)", table)


def _action(decision: Decision) -> Text:
    must = " (must)" if decision.bundle.demand.offered == "must" else ""
    return Text(f"{decision.action}{must}", STYLES[decision.action])


def _spans(names: Sequence[str]) -> str:
    """Runs of names in short: N1-N6, N9."""
    numbers = [int(name[1:]) for name in names]
    runs = [[n for _, n in run] for _, run in groupby(enumerate(numbers), lambda pair: pair[1] - pair[0])]
    return ", ".join(f"N{run[0]}" if len(run) == 1 else f"N{run[0]}-N{run[-1]}" for run in runs)


def _second_lines(offer: Offer) -> list[Text]:
    """Offered plans that are not the first ones, and how to get them."""
    return [
        Text(f"{decision.bundle.name} by its second plan: {'; '.join(moves(decision))}")
        for decision in offer.decisions
        if decision.action in OFFERED and decision.bundle.second
    ]


def _left_table(offer: Offer) -> RenderableType:
    left = [one for one in offer.decisions if one.action not in OFFERED]
    table = _table(("bundle", "action"), ("brings", "lacks", "set-up"), "why")
    for decision in sorted(left, key=lambda one: (one.action, not isinstance(one.bundle.outcome, Fits))):
        sizes = decision.further_sizes
        lacks = (f"{sizes}", money(sizes * offer.setup)) if sizes else ("", "")
        row = (decision.bundle.name, _action(decision), money(decision.bundle.brings), *lacks)
        table.add_row(*row, _why(decision))
    return _titled("not offered", table) if left else Text("")


def _why(decision: Decision) -> str:
    """The cause in short; `fit` has the reasons of a refusal in full, the document all figures."""
    reasons = reasons_of(decision.bundle.outcome)
    code = reasons[0].code if reasons else ""
    return f"{decision.code}: {code}" if code else decision.code


# ------------------------------------------------------------------------------------------------------------ sizes


def _size_table(offer: Offer) -> RenderableType:
    table = _table(("", "group and where it goes", "mm (w x d x h)"), ("units", "brings", "pays at"))
    for made in offer.made:
        group = offer.cases.needs[made.uses[0].need].group.name
        table.add_row(
            made.name,
            Text.assemble((group, "bold"), f"\n{_served(made.uses, offer.cases.needs)}"),
            _outside(made.size),
            f"{made.units:g}",
            money(made.brings),
            "" if made.break_even is None else f"{float(made.break_even):.1f}",
        )
    return _titled("new sizes to cut", table) if offer.made else Text("")


def _existing_table(offer: Offer) -> RenderableType:
    table = _table(("part", "group and where it goes"), ("units", "on hand", "to cut"))
    for stocked in offer.stocked:
        organizer = stocked.size.organizer
        group = Text.assemble((organizer.group, "bold"), f"\n{_served(stocked.uses, offer.cases.needs)}")
        numbers = (f"{stocked.units:g}", f"{organizer.on_hand or 0}", f"{stocked.to_cut:g}")
        table.add_row(organizer.part, group, *numbers)
    return _titled("existing sizes used, stock first", table) if offer.stocked else Text("")


def _widest_lines(found: Sequence[Widest]) -> RenderableType:
    """Groups for which even the widest-serving size leaves a variant out; of the others how many there are."""
    table = _table(("group", "sets", "mm (w x d x h)"), ("into",), "not into")
    partly = [one for one in found if len(one.variants) < len(one.of)]
    for one in partly:
        rest = [f"{name} (shim)" if name in one.shimmed else name for name in one.of if name not in one.variants]
        into = f"{len(one.variants)} of {len(one.of)}"
        table.add_row(one.group, ", ".join(one.sets), _outside(one.size), into, ", ".join(rest))
    title = "the one size that goes as is, or trimmed once, into the most variants"
    whole = f"{len(found) - len(partly)} of {counted(len(found), 'group')}"
    every = f"for {whole} one size goes into every variant (--json lists them)"
    return Stack(_titled(title, table), Text(every)) if partly else Text(f"\n{every}")


def _outside(size: OrganizerSize) -> str:
    return " x ".join(f"{to_mm(length):.1f}" for length in size.shape[:3])


def _served(uses: Iterable[SizeUse], needs: Sequence[Need]) -> str:
    """By set, cabinets by the way in: one line for each set, with how many pockets it leaves empty."""
    found: dict[str, dict[How, list[str]]] = {}
    for use in uses:
        name = needs[use.need].set
        told = f"{name} ({counted(use.empty, 'pocket')} empty)" if use.empty else name
        found.setdefault(told, {}).setdefault(use.how, []).append(needs[use.need].cabinet)
    return "\n".join(
        f"{name}: {'; '.join(f'{how} {_listed(cabinets)}' for how, cabinets in sorted(by_how.items()))}"
        for name, by_how in found.items()
    )


def _listed(names: Iterable[str]) -> str:
    return ", ".join(names)


# -------------------------------------------------------------------------------------------------------- trade-off


def _curve_table(offer: Offer) -> RenderableType:
    """The points at which more is kept or gained than before, and the last."""
    promised = len(offer.cases.promises)
    kept = ("kept",) if promised else ()
    table = _table((), ("new sizes", *kept, "bundles", "units", "set-up", "gain"), "")
    before = [None, *((weighed.point.choice.kept, weighed.point.choice.gain) for weighed in offer.points)]
    for last, weighed in zip(before, offer.points, strict=False):
        choice, sums = weighed.point.choice, weighed.totals
        notes = [] if choice.proved else [f"not proved, bound {money(choice.bound)}"]
        notes += [] if weighed.affordable else ["over budget"]
        of = (f"{choice.kept} of {promised}",) if promised else ()
        cells = (f"{weighed.point.limit}", *of, f"{len(choice.bundles)}", f"{sums.units:g}", money(sums.setup))
        if (choice.kept, choice.gain) != last or weighed is offer.points[-1]:
            table.add_row(*cells, money(choice.gain), ", ".join(notes))
    title = "trade-off: the most gained with so many new sizes"
    return _titled(f"{title}, promises kept first" if promised else title, table)


def _step_lines(offer: Offer) -> list[Text]:
    more, step, at = offer.one_more, offer.next, offer.choice
    stop = offer.stop
    word = "" if more.proved and at.proved else " (not proved)"
    told = _brings(more.kept - at.kept, more.gain - at.gain)
    lines = [Text(f"one more new size, budget aside: {told}{word}")]
    if step.choice:
        word = "" if step.proved else " (not proved)"
        brings = _brings(step.more_kept, step.more_gain)
        lines.append(Text(f"the next step takes {step.more_sizes} more: {brings}{word}"))
    elif step.proved:
        lines.append(Text("no number of new sizes brings more (proved)"))
    if stop and stop.limit:
        word = "proved" if stop.proved else "not proved"
        lines.append(Text(f"more new sizes stop paying after {stop.limit} ({word})"))
    return [*lines, _unlimited(offer)] if step.choice else lines


def _unlimited(offer: Offer) -> Text:
    """What could be gained if neither sizes nor money were limited."""
    most = offer.unlimited
    word = "proved" if most.proved else f"not proved, bound {money(most.bound)}"
    return Text(f"with no limit on sizes and money: {_told(most)}, gain {money(most.gain)} ({word})")


def _told(choice: Choice) -> str:
    """How many bundles a choice offers, and with how many new sizes."""
    return f"{counted(len(choice.bundles), 'bundle')}, {counted(len(choice.sizes), 'new size')}"


def _brings(kept: int, gain: int) -> str:
    """Promises and money that a step brings."""
    told = f"gain {money(abs(gain))} {'less' if gain < 0 else 'more'}" if gain else "" if kept else "nothing more"
    promises = f"{counted(kept, 'more promise')} kept" if kept else ""
    return ", ".join(part for part in (promises, told) if part)


def _table(left: Iterable[str], right: Iterable[str], last: str | None = None) -> Grid:
    """Words, figures, and words again; of these all but names may wrap."""
    words = [heading if heading in UNBROKEN else f"~{heading}" for heading in left]
    return Grid(*words, *(f"*{heading}" for heading in right), *([] if last is None else [f"~{last}"]))


def _titled(title: str, table: Grid) -> Stack:
    return Stack(Text(f"\n{title}", "bold"), table)


def money(amount: int) -> str:
    """Money from cents, without needless zeros."""
    return f"{amount / 100:,.2f}".removesuffix(".00")
