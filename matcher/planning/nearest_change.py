"""The nearest change that turns a no into a yes, tried: larger drawers, a pin lifted, a house rule loosened, pieces or
groups left out, the next larger cabinet of the catalogue."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice
from typing import TypeAlias

from matcher.fitting import Lacks, all_lacks, larger
from matcher.planning.leaving_out import Tried, fewest_pieces, several_groups, without
from matcher.planning.loosening import Change, larger_cabinets, loosened
from matcher.planning.pins import pin_words
from matcher.planning.posing import Admit, Case
from matcher.planning.question import Question
from matcher.records import Group, Reason, TriedChange

TRIES = 12
"""Up to so many single drawers, and groups that a reason names, are tried."""
RULES = 2
"""Up to so many house rules are named."""
OPEN = 6
"""So many changes of each sort may end without a plan and without a proof, which takes the longest; a half of them
where the case itself is undecided."""

Attempt: TypeAlias = Callable[[Question], bool | None]
"""Whether there is a plan: true, proved that there is none: false, or neither."""


def nearest_change(
    case: Case, reasons: Sequence[Reason], admission: Admit, attempt: Attempt, *, leaving_out: bool
) -> tuple[TriedChange, ...]:
    """The smallest change of each sort that was tried and gives a plan, what leaves nothing out first; empty if none
    of those tried does.

    House rules are tried only where a reason rests on them, several groups are left out only where nothing else helps,
    and any only if ``leaving_out``.
    """
    question = case.question
    named = {name for reason in reasons for name in reason.groups}
    blamed = [group for group in question.groups if group.name in named]
    scopes = {reason.scope for reason in reasons}
    sorts: list[Iterable[Change]] = [_larger(case, named), _all_larger(case, reasons), _unpinned(question)]
    rules = [] if scopes == {"any layout"} else loosened(question)
    open_tries = OPEN if scopes - {""} else OPEN // 2

    def tried() -> Tried:
        return _limited(attempt, open_tries)

    drawers, houses = tried(), tried()
    found = [_first(sort, drawers) for sort in sorts]
    found += islice(filter(None, (_first(rule, houses) for rule in rules)), RULES)
    if leaving_out:
        found.append(_left_out(question, blamed[:TRIES], admission, tried()))
    if leaving_out and not any(found):
        found = [several_groups(question, blamed, tried())]
    found.append(_first(larger_cabinets(question), tried()))
    changes = [TriedChange(change.text, change.without, change.cabinet) for change in found if change]
    return tuple(sorted(changes, key=lambda change: bool(change.without)))


def _limited(attempt: Attempt, most: int) -> Tried:
    """Whether there is a plan; false without trying once so many attempts have ended open."""
    ended_open = 0

    def tried(question: Question) -> bool:
        nonlocal ended_open
        found = attempt(question) if ended_open < most else False
        ended_open += found is None
        return bool(found)

    return tried


def _first(changes: Iterable[Change], tried: Tried) -> Change | None:
    return next((change for change in changes if tried(change.question)), None)


def _left_out(question: Question, blamed: Iterable[Group], admission: Admit, tried: Tried) -> Change | None:
    """The first group without which there is a plan, or as few of its pieces as can be."""
    whole = _first(without(question, blamed), tried)
    if whole is None:
        return None
    (group,) = (group for group in question.groups if group not in whole.question.groups)
    return fewest_pieces(question, group, admission, tried) or whole


def _larger(case: Case, named: Collection[str]) -> Iterator[Change]:
    """Single drawers enlarged by what a group lacks there, the least first."""
    lacks = {
        (lack.growth, d, lack.enough)
        for (g, d), lack in case.lacks()
        if lack.enough
        if case.groups[g].name in named or case.groups[g].part_of in named
    }
    for _, d, enough in sorted(lacks)[:TRIES]:
        yield _enlarged(case, {d: enough})


def _all_larger(case: Case, reasons: Sequence[Reason]) -> Iterator[Change]:
    """All that is short made good at once, each group in its nearest drawer; nothing where only one group is short."""
    lacks: dict[int, Lacks] = {}
    short = [(name, reason.drawers) for reason in reasons if reason.code == "short" for name in reason.groups]
    for name, drawers in short:
        d = next(index for index, drawer in enumerate(case.drawers) if drawer.name in drawers)
        g = next(index for index, group in enumerate(case.groups) if group.name == name)
        lack = case.fits[g, d].shortfall
        lacks[d] = all_lacks((lacks.get(d, ()), lack.enough if lack else ()))
    if len(short) > 1:
        yield _enlarged(case, lacks)


def _enlarged(case: Case, lacks: Mapping[int, Lacks]) -> Change:
    """Drawers (by index) larger by what they lack."""
    drawers = list(case.drawers)
    for d, enough in lacks.items():
        by, box = dict(enough), drawers[d]
        drawers[d] = replace(
            box,
            inside_width=box.inside_width + by.get("width", 0),
            inside_depth=box.inside_depth + by.get("depth", 0),
            clear_height=box.clear_height + by.get("height", 0),
        )
    told = [f"drawer {case.drawers[d].name} {larger(enough, case.unit)}" for d, enough in sorted(lacks.items())]
    cabinet = replace(case.question.cabinet, drawers=tuple(drawers))
    return Change(" and ".join(told), replace(case.question, cabinet=cabinet))


def _unpinned(question: Question) -> Iterator[Change]:
    for pin in question.pins:
        kept = tuple(other for other in question.pins if other != pin)
        groups = question.lifted(kept) if pin.rule == "together" else question.groups
        yield Change(f"the pin lifted: {pin_words(pin)}", replace(question, pins=kept, groups=groups))
