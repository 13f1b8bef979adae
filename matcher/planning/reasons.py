"""Why there is no plan, in words and figures a person can check: the first rung of the ladder that explains it.

Single shortfalls, then too few drawers (Hall), then sums of load and area, then wishes that cannot hold together, and
only where none of these says it, a smallest set of groups that the search proved not to go in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from matcher.assignment import Problem, assign, deficient_set
from matcher.fitting import Open, Shortfall, larger
from matcher.planning.drawer_problem import problem_of
from matcher.planning.pins import pin_words
from matcher.planning.posing import Case, only
from matcher.records import Group, Reason, Scope, plural, show_kg

FEW = 3
"""Up to so many kinds of pieces are named where they alone keep a group out."""


def reasons_against(case: Case, scope: Scope) -> tuple[Reason, ...]:
    """Reasons why the case, proved impossible within ``scope``, has no plan."""
    free = case.pinned(())
    for rung in (_shortfalls, _too_few, _sums):
        found = tuple(replace(reason, scope=scope) for reason in rung(free, scope))
        if found:
            return found
    if case.pins and not _impossible(free, scope):
        return (_pinned(case, scope),)
    return (_all_tried(free, scope),)


def reasons_open(case: Case) -> tuple[Reason, ...]:
    """What keeps an undecided case open: pairs with neither a layout nor a proof that there is none."""
    by_group: dict[int, list[int]] = {}
    for (g, d), fit in case.fits.items():
        if isinstance(fit, Open):
            by_group.setdefault(g, []).append(d)
    told = tuple(_open_reason(case, g, held) for g, held in sorted(by_group.items()))
    return told or (_divided(case),)


def _divided(case: Case) -> Reason:
    """Of a group that has to be split proofs count one piece (see ``verdicts``): its others may be what is open."""
    parted = tuple(sorted({group.part_of for group in case.groups if group.part_of}))
    if parted:
        names = ", ".join(parted)
        text = f"{names}: whole in no drawer; divided as here no plan was found, nor a proof for every division"
        return Reason("undecided", text, groups=parted)
    return Reason("undecided", "the search ended within its work budget with neither a plan nor a proof")


def _open_reason(case: Case, g: int, held: list[int]) -> Reason:
    name = case.groups[g].name
    over = [fit.shortfall for d in held if (fit := case.fits[g, d]).shortfall and fit.shortfall.axis == "load"]
    if over:
        least = min(shortfall.short for shortfall in over)
        text = (
            f"{name}: by the high bound of its estimated mass {show_kg(least)} over the nearest load rating, by the "
            "low one not: weigh the pieces"
        )
    else:
        text = f"{name}: neither a layout for {_drawers(case, held)} was found, nor a proof that there is none"
    return Reason("undecided", text, groups=(name,), drawers=tuple(case.drawers[d].name for d in held))


# --------------------------------------------------------------------------------------------------------- the rungs


def _shortfalls(case: Case, scope: Scope) -> Iterator[Reason]:
    """Groups that go into no drawer at all, each with its nearest drawer."""
    options = _options(case, scope)
    for g in range(len(case.groups)):
        if not any(index == g for index, _ in options):
            yield _short(case, g)


def _short(case: Case, g: int) -> Reason:
    drawers = range(len(case.drawers))
    nearest = _nearest(case, [g], drawers)
    others = [
        (fit.shortfall, g, d)
        for d in drawers
        if (fit := case.fits[g, d]).shortfall and fit.shortfall.axis in ("load", "area")
    ]
    lack = nearest or min(others, key=lambda lack: (lack[0].short, lack[2]), default=None)
    told = lack and (lack[0], case.drawers[lack[2]].name)
    return short_reason(case.groups[g], case.house.layout.cased_in_foam, told)


def short_reason(group: Group, cased_in_foam: bool, nearest: tuple[Shortfall, str] | None) -> Reason:
    """A group that goes into no drawer, with what it lacks in the nearest one, named; ``None`` if it has no such."""
    name, kind = group.name, _kind(group, cased_in_foam)
    if nearest is None:
        return Reason("too-few-drawers", f"{name}: the cabinet has no {kind}", groups=(name,))
    shortfall, drawer = nearest
    if shortfall.axis == "load":
        text = (
            f"{name}: too heavy for every {kind}; the nearest is {drawer}, {show_kg(shortfall.short)} over its rating"
        )
        return Reason("load", text, groups=(name,), drawers=(drawer,))
    if shortfall.axis == "area":
        text = f"{name}: the pieces need more area than any {kind} has; the nearest is {drawer}"
        return Reason("area", text, groups=(name,), drawers=(drawer,))
    text = f"{name}{_few_pieces(group)}: goes into no {kind}; the nearest is {drawer}, {_would_do(shortfall)}"
    return Reason("short", text, groups=(name,), drawers=(drawer,), short=shortfall.growth[0])


def _would_do(shortfall: Shortfall) -> str:
    return f"which would have to be {larger(shortfall.enough)}"


def _kind(group: Group, cased_in_foam: bool) -> str:
    """The sort of drawer that the group may go into at all."""
    if not group.cased:
        return "drawer for foam"
    return "drawer" if cased_in_foam else "drawer without foam"


def _told(group: Group) -> str:
    """The group's name, with the piece that stands for it if it has to be split."""
    return f"{group.name}{_few_pieces(group)}" if group.part_of else group.name


def _few_pieces(group: Group) -> str:
    """The pieces that keep the group out, if they are few."""
    tools = [piece.piece.tool for piece in group.pieces]
    return f" ({', '.join(tools)})" if 0 < len(tools) <= FEW and tools != [group.name] else ""


def _too_few(case: Case, scope: Scope) -> Iterator[Reason]:
    """A smallest set of groups, no two of which can share, with fewer drawers than groups."""
    problem = _hopeful(case, scope)
    drawers_of = {g: sorted(d for index, d in problem.options if index == g) for g in range(len(case.groups))}
    chosen: list[int] = []
    for g in sorted(drawers_of, key=lambda g: (len(drawers_of[g]), g)):
        if not any(_can_share(problem, g, other, drawers_of) for other in chosen):
            chosen.append(g)
    chosen.sort()
    lacking = deficient_set([drawers_of[g] for g in chosen])
    if lacking:
        members = [chosen[index] for index in lacking.groups]
        groups = tuple(case.groups[g] for g in members)
        drawers = tuple(case.drawers[d].name for d in lacking.drawers)
        nearest = _nearest(case, members, set(range(len(case.drawers))) - set(lacking.drawers))
        told = nearest and (nearest[0], case.groups[nearest[1]].name, case.drawers[nearest[2]].name)
        yield too_few_reason(groups, drawers, told)


def too_few_reason(
    groups: Sequence[Group], drawers: tuple[str, ...], nearest: tuple[Shortfall, str, str] | None
) -> Reason:
    """Groups that cannot share and have fewer drawers; ``nearest``: what one of them lacks in a drawer beyond these."""
    where = f" ({', '.join(drawers)})" if drawers else ""
    text = (
        f"{len(groups)} groups, no two of which can share a drawer, have {_count(len(drawers), 'drawer')} "
        f"between them{where}: {', '.join(map(_told, groups))}"
    )
    if nearest:
        shortfall, group, drawer = nearest
        text += f"; the nearest other drawer is {drawer}, {_would_do(shortfall)} for {group}"
    short = nearest[0].growth[0] if nearest else None
    names = tuple(group.name for group in groups)
    return Reason("too-few-drawers", text, groups=names, drawers=drawers, short=short)


def _can_share(problem: Problem, g: int, other: int, drawers_of: Mapping[int, Sequence[int]]) -> bool:
    """Whether some drawer might take both; groups of different families never share."""
    one, two = problem.nodes[g], problem.nodes[other]
    if one.family != two.family or not (one.share and two.share):
        return False
    common = set(drawers_of[g]) & set(drawers_of[other])
    return any(problem.together(d, frozenset((g, other))) != "no" for d in sorted(common))


def _nearest(case: Case, groups: Iterable[int], drawers: Iterable[int]) -> tuple[Shortfall, int, int] | None:
    """The group and drawer, of these, for which the drawer would have to grow least."""
    lacks = [
        (fit.shortfall, g, d)
        for g in groups
        for d in drawers
        if (fit := case.fits[g, d]).shortfall and fit.shortfall.enough
    ]
    return min(lacks, key=lambda lack: (lack[0].growth, lack[1], lack[2]), default=None)


def _sums(case: Case, scope: Scope) -> Iterator[Reason]:
    """Loads or areas that exceed the cabinet's in sum."""
    problem = _hopeful(case, scope)
    reached = {d for _, d in problem.options}
    loads = [problem.boxes[d].load for d in reached]
    mass = sum(node.mass for node in problem.nodes)
    rated = [load for load in loads if load is not None]
    if len(rated) == len(loads) and mass > sum(rated):
        yield load_reason(mass, sum(rated))
    need = sum(node.area for node in problem.nodes)
    have = sum(problem.boxes[d].area or 0 for d in reached)
    if need > have:
        yield Reason("area", f"the organizers need {need / have:.2f} times the area of all drawers they could go into")


def load_reason(mass: int, rated: int) -> Reason:
    """A set that weighs more than all drawers it could go into may hold together."""
    return Reason("load", f"the set weighs {show_kg(mass)}; the drawers are rated {show_kg(rated)} in all")


def _pinned(case: Case, scope: Scope) -> Reason:
    """A set of pins that cannot hold together, none of which can be left out of it."""
    kept = _smallest(case.pins, lambda pins: _impossible(case.pinned(pins), scope))
    told = "; ".join(pin_words(pin) for pin in kept)
    groups = sorted({name for pin in kept for name in (pin.group, pin.other) if name})
    words = "these pins cannot hold together" if len(kept) > 1 else "this pin cannot hold"
    return Reason("pins", f"{words}: {told}", scope=scope, groups=tuple(groups))


def _all_tried(case: Case, scope: Scope) -> Reason:
    """An inclusion-minimal set of groups that the search proved not to go into this cabinet."""
    kept = _smallest(tuple(range(len(case.groups))), lambda groups: _impossible(only(case, groups), scope))
    groups = [case.groups[g] for g in kept]
    names = tuple(group.name for group in groups)
    held = sorted({d for g, d in _options(case, scope) if g in kept})
    drawers = tuple(case.drawers[d].name for d in held)
    into = "drawer that takes" if len(drawers) == 1 else f"{len(drawers)} drawers that take"
    text = (
        f"{len(names)} groups do not all go into the {into} any of them ({', '.join(drawers)}), alone or side by side, "
        f"every way tried: {', '.join(map(_told, groups))}"
    )
    return Reason("all-tried", text, scope=scope, groups=names, drawers=drawers)


# ------------------------------------------------------------------------------------------------------------- words


def _smallest(items: tuple, still: Callable[[tuple], bool]) -> tuple:  # type: ignore[type-arg]
    """Deletion filter: drop every item without which the contradiction ``still`` stands."""
    kept = items
    for item in items:
        without = tuple(other for other in kept if other is not item)
        if still(without):
            kept = without
    return kept


def _hopeful(case: Case, scope: Scope) -> Problem:
    return replace(
        problem_of(case, "spread", optimistic=True, any_layout=scope == "any layout"), goals=(), relations=()
    )


def _options(case: Case, scope: Scope) -> set[tuple[int, int]]:
    return set(_hopeful(case, scope).options)


def _impossible(case: Case, scope: Scope) -> bool:
    return assign(_hopeful(case, scope)).status == "impossible"


def _count(number: int, noun: str) -> str:
    return f"{'no' if number == 0 else 'only ' + str(number)} {plural(noun, number)}"


def _drawers(case: Case, held: list[int]) -> str:
    names = [case.drawers[d].name for d in held]
    return "drawer " + names[0] if len(names) == 1 else f"any of the drawers {', '.join(names)}"
