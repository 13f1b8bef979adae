"""Pairs that matching leaves open: the full assignment model, and its plan in figures."""

from __future__ import annotations

from collections import Counter, defaultdict

from matcher.fitting import GoesIn, least_trimmed, opening
from matcher.house import House
from matcher.planning import Case, Decided, SideBySide, decide_drawers, question_of, share
from matcher.records import EVERY_HOW, Cabinet, How
from matcher.screening.book import Known
from matcher.screening.fitting import load_share, spare_of
from matcher.screening.pairs import Figures, Pair


def modelled(known: Known, set_name: str, cabinet: Cabinet) -> Pair:
    """The pair as the model decides it."""
    groups = (known.groups[group] for group in known.groups_of[known.sets.index(set_name)])
    decided = decide_drawers(question_of(known.catalogue, known.house, (set_name,), cabinet, groups))
    figures = _figures(decided) if decided.verdict == "fits" else None
    return Pair(set_name, cabinet.name, decided.verdict, "model", figures, decided.reasons)


def _figures(decided: Decided) -> Figures:
    case, found = decided.case, decided.assignment
    assert found.most_free is not None
    assert found.fewest_free is not None
    held: dict[int, list[int]] = defaultdict(list)
    for g, d in enumerate(found.places):
        held[d].append(g)
    told = [_alone(case, g[0], d) if len(g) == 1 else _shared(case, g, d) for d, g in held.items()]
    counts = Counter(how for hows, _ in told for how in hows)
    loads = [load_share(sum(case.groups[g].mass_high for g in groups), case.drawers[d]) for d, groups in held.items()]
    return Figures(
        fewest_free=found.fewest_free,
        fewest_free_proved=found.free_proved[1],
        most_free=found.most_free,
        most_free_bound=found.most_free if found.free_proved[0] else len(case.drawers) - 1,
        hows=tuple((how, counts[how]) for how in EVERY_HOW if counts[how]),
        tightest=min((spare for _, spare in told), default=0),
        load_use=max((load for load in loads if load >= 0), default=None),
    )


def _alone(case: Case, g: int, d: int) -> tuple[list[How], int]:
    fit = case.fits[g, d]
    assert isinstance(fit, GoesIn)
    return [fit.alone.how], spare_of(fit, case.groups[g], case.drawers[d], case.house)


def _shared(case: Case, members: list[int], d: int) -> tuple[list[How], int]:
    """How each of several groups got into the drawer, and its smallest spare size with all of them in."""
    space = opening(case.drawers[d], case.house)
    hows: list[How] = []
    right = back = height = 0
    shared = share(case, d, members)
    assert isinstance(shared, SideBySide)
    for g, (choice, left, front) in zip(members, shared.positions, strict=True):
        fit = case.fits[g, d]
        assert isinstance(fit, GoesIn)
        size = fit.sizes[choice]
        width, depth = _least(case, g, size.width, size.depth, size.footprint is not None, case.house)
        hows.append(size.how)
        right, back, height = max(right, left + width), max(back, front + depth), max(height, size.height)
    return hows, min(space.width - right, space.depth - back, space.height - height)


def _least(case: Case, g: int, width: int, depth: int, drawn: bool, house: House) -> tuple[int, int]:
    ready = case.groups[g].organizer
    return (width, depth) if drawn or ready is None else least_trimmed(ready, house)
