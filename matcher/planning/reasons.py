"""Why there is no plan, in words and figures a person can check: the first rung of the ladder that explains it.

Single shortfalls, then too few drawers (Hall), then sums of load and area, then wishes that cannot hold together, and
only where none of these says it, a smallest set of groups that the search proved not to go in.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from matcher.assignment import Problem, assign, deficient_set
from matcher.fitting import Lacks, Open, Shortfall, all_lacks, larger
from matcher.planning.drawer_problem import problem_of
from matcher.planning.foam_asked import foam_told
from matcher.planning.joining import meant_by, pins_joining
from matcher.planning.pins import pin_words
from matcher.planning.posing import Case, only
from matcher.planning.question import Question
from matcher.planning.slanting import only_at_an_angle
from matcher.records import Group, LengthUnit, Reason, Scope, listed, plural

NO_PLAN = "no plan was found, whole, divided or mixed, nor a proof that there is none"
FEW = 3
"""Up to so many kinds of pieces are named where they alone keep a group out."""


def reasons_against(case: Case, scope: Scope, told: Scope) -> tuple[Reason, ...]:
    """Reasons why the case, proved impossible counting refusals within ``scope``, has no plan; ``told`` is how far
    that holds."""
    free = case.pinned(())
    for rung in (_shortfalls, _too_few, _sums):
        found = tuple(rung(free, scope))
        if found:
            return tuple(scoped(case.question, reason, told) for reason in found)
    if case.pins and not _impossible(free, scope):
        return (scoped(case.question, _pinned(case, scope), "house layout"),)
    return (scoped(case.question, _all_tried(free, scope), told),)


def scoped(question: Question, reason: Reason, told: Scope) -> Reason:
    """The reason with its scope and, where that is the house's, the rules that it rests on."""
    if told != "house layout" or reason.code == "pins":
        return replace(reason, scope=told)
    return replace(reason, scope=told, text=f"{reason.text}; rests on {' and '.join(_rules(question, reason))}")


def _rules(question: Question, reason: Reason) -> Iterator[str]:
    """The rules a planner could change that keep the groups of a reason out, or all groups where it names none."""
    named = {name.partition(" (")[0] for name in reason.groups}
    meant = [group for group in question.groups if not named or group.name.partition(" (")[0] in named]
    joining = pins_joining(question.pins, meant)
    one = [meant[g] for pin in joining for g in meant_by(pin.group, meant)]
    yield "the house's margins, webs and floors"
    yield from (f"the pin {pin_words(pin)!r}" for pin in joining)
    for column, held in (("share", [g.share for g in meant]), ("split", [g.split or bool(g.organizer) for g in meant])):
        names = [group.name for group, free in zip(meant, held, strict=True) if not free and group not in one]
        if names:
            yield f"{column} = no of {', '.join(names)}"
    if any(drawer.slot == "no foam" for drawer in question.cabinet.drawers):
        yield "the drawers without foam"
    for key, value in (("divide", question.house.together.divide), ("mix", question.house.together.mix)):
        if value == "no":
            yield f"[together] {key} = no"


def reasons_by_sums(case: Case, told: Scope) -> tuple[Reason, ...]:
    """That areas, loads and heights together refuse the set, dealt out tool by tool in whatever way."""
    foam = foam_told(case.question)
    text = f"however groups are divided and mixed, the drawers are too few by area, load and height; {foam}"
    return (scoped(case.question, Reason("area", text), told),)


def reasons_open(case: Case) -> tuple[Reason, ...]:
    """What keeps an undecided case open: pairs with neither a layout nor a proof that there is none, alike ones told
    together; and what foam it asks for."""
    alike: dict[tuple[int | None, bool, tuple[int, ...]], list[int]] = defaultdict(list)
    for g in range(len(case.groups)):
        held = tuple(d for d in range(len(case.drawers)) if isinstance(case.fits[g, d], Open))
        if held:
            alike[_overload(case, g, held), bool(only_at_an_angle(case, [g], held)), held].append(g)
    told = (_open_reason(case, groups, held, over) for (over, _, held), groups in alike.items())
    return (*told, Reason("undecided", f"{NO_PLAN}: {foam_told(case.question)}"))


def _overload(case: Case, g: int, held: Sequence[int]) -> int | None:
    """By how much the high bound of a group's mass is over the nearest load rating; nothing where that is not it."""
    lacks = (fit.shortfall for d in held if (fit := case.fits[g, d]).shortfall)
    return min((lack.short for lack in lacks if lack.axis == "load"), default=None)


def _open_reason(case: Case, groups: Sequence[int], held: Sequence[int], over: int | None) -> Reason:
    names = tuple(case.groups[g].name for g in groups)
    if over is not None:
        text = (
            f"{listed(names)}: by the high bound of {'its' if len(names) == 1 else 'their'} estimated mass "
            f"{case.unit.in_mass(over)} over the nearest load rating, by the low one not: weigh the pieces"
        )
    elif slanted := only_at_an_angle(case, groups, held):
        text = (
            f"{listed(names)}: {listed(slanted)} would lie in {_drawers(case, held)} only at an angle; none was found "
            f"at which a pocket with its notch goes in, nor a proof that there is none"
        )
    else:
        text = f"{listed(names)}: neither a layout for {_drawers(case, held)} was found, nor a proof that there is none"
    return Reason("undecided", text, groups=names, drawers=tuple(case.drawers[d].name for d in held))


# --------------------------------------------------------------------------------------------------------- the rungs


def _shortfalls(case: Case, scope: Scope) -> Iterator[Reason]:
    """Groups that go into no drawer at all, those together that lack the same in the same nearest drawer."""
    options = _options(case, scope)
    alike: dict[tuple[str, str, tuple[str, ...]], list[tuple[Group, Shortfall | None]]] = defaultdict(list)
    for g, group in enumerate(case.groups):
        if not any(index == g for index, _ in options):
            lack, drawer = _nearest_drawer(case, g)
            sides = tuple(sorted(side for side, _ in lack.enough)) or (lack.axis,) if lack else ()
            alike[_kind(group, case.house.layout.cased_in_foam), drawer, sides].append((group, lack))
    for (kind, drawer, _), held in alike.items():
        yield short_reason([group for group, _ in held], kind, [lack for _, lack in held if lack], drawer, case.unit)


def _nearest_drawer(case: Case, g: int) -> tuple[Shortfall | None, str]:
    """What a group lacks in the drawer nearest to taking it, and that drawer; neither where none is of its kind."""
    drawers = range(len(case.drawers))
    others = [
        (fit.shortfall, g, d)
        for d in drawers
        if (fit := case.fits[g, d]).shortfall and fit.shortfall.axis in ("load", "area")
    ]
    found = _nearest(case, [g], drawers) or min(others, key=lambda lack: (lack[0].short, lack[2]), default=None)
    return (found[0], case.drawers[found[2]].name) if found else (None, "")


def short_reason(
    groups: Sequence[Group], kind: str, lacks: Sequence[Shortfall], drawer: str, unit: LengthUnit
) -> Reason:
    """Groups that go into no drawer of their kind, with what each lacks in the nearest one; none if there is none."""
    names = tuple(group.name for group in groups)
    alone, told = len(groups) == 1, listed([f"{group.name}{_few_pieces(group)}" for group in groups])
    if not lacks:
        return Reason("too-few-drawers", f"{listed(names)}: the cabinet has no {kind}", groups=names)
    up_to = "" if len({(lack.short, lack.enough) for lack in lacks}) == 1 else "up to "
    most = max(lacks, key=lambda lack: (lack.short, lack.growth))
    nearest = f"the nearest is {drawer}"
    if most.axis == "load":
        text = (
            f"{listed(names)}: too heavy for every {kind}; {nearest}, {up_to}{unit.in_mass(most.short)} over its rating"
        )
        return Reason("load", text, groups=names, drawers=(drawer,))
    if most.axis == "area":
        needs = f"the pieces{'' if alone else ' of each'} need more area than any {kind} has"
        return Reason("area", f"{listed(names)}: {needs}; {nearest}", groups=names, drawers=(drawer,))
    enough = all_lacks(lack.enough for lack in lacks)
    text = f"{told}: {'goes' if alone else 'go'} into no {kind}; {nearest}, {_would_do(enough, unit, up_to)}"
    return Reason("short", text, groups=names, drawers=(drawer,), short=max(by for _, by in enough))


def _would_do(enough: Lacks, unit: LengthUnit, up_to: str = "") -> str:
    return f"which would have to be {up_to}{larger(enough, unit)}"


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
        yield too_few_reason(groups, drawers, told, case.unit)


def too_few_reason(
    groups: Sequence[Group], drawers: tuple[str, ...], nearest: tuple[Shortfall, str, str] | None, unit: LengthUnit
) -> Reason:
    """Groups that cannot share and have fewer drawers; ``nearest``: what one of them lacks in a drawer beyond these."""
    where = f" ({', '.join(drawers)})" if drawers else ""
    text = (
        f"{len(groups)} groups, no two of which can share a drawer, have {_count(len(drawers), 'drawer')} "
        f"between them{where}: {', '.join(map(_told, groups))}"
    )
    if nearest:
        shortfall, group, drawer = nearest
        text += f"; the nearest other drawer is {drawer}, {_would_do(shortfall.enough, unit)} for {group}"
    short = nearest[0].growth[0] if nearest else None
    names = tuple(group.name for group in groups)
    return Reason("too-few-drawers", text, groups=names, drawers=drawers, short=short)


def _can_share(problem: Problem, g: int, other: int, drawers_of: Mapping[int, Sequence[int]]) -> bool:
    """Whether some drawer might take both."""
    one, two = problem.nodes[g], problem.nodes[other]
    mixed = one.family == two.family or problem.mixing != 0
    if one.cased != two.cased or not (mixed and one.share and two.share):
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
        yield load_reason(mass, sum(rated), case.unit)
    need = sum(node.area for node in problem.nodes)
    have = sum(problem.boxes[d].area or 0 for d in reached)
    if need > have:
        yield Reason("area", f"the organizers need {need / have:.2f} times the area of all drawers they could go into")


def load_reason(mass: int, rated: int, unit: LengthUnit) -> Reason:
    """A set that weighs more than all drawers it could go into may hold together."""
    return Reason("load", f"the set weighs {unit.in_mass(mass)}; the drawers are rated {unit.in_mass(rated)} in all")


def _pinned(case: Case, scope: Scope) -> Reason:
    """Pins that cannot hold together, none of which can be left out, and those that joined groups they are about."""
    found = _smallest(case.pins, lambda pins: _impossible(case.pinned(pins), scope))
    about = {g for pin in found for name in (pin.group, pin.other) for g in meant_by(name, case.groups)}
    kept = (*found, *pins_joining(case.pins, [case.groups[g] for g in sorted(about)]))
    told = "; ".join(pin_words(pin) for pin in kept)
    groups = sorted({name for pin in kept for name in (pin.group, pin.other) if name})
    words = "these pins cannot hold together" if len(kept) > 1 else "this pin cannot hold"
    return Reason("pins", f"{words}: {told}", groups=tuple(groups))


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
        f"every way tried: {', '.join(map(_told, groups))}; {foam_told(case.question)}"
    )
    return Reason("all-tried", text, groups=names, drawers=drawers)


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
        problem_of(case, "spread", optimistic=True, any_layout=scope == "any layout", mixing=None),
        goals=(),
        relations=(),
    )


def _options(case: Case, scope: Scope) -> set[tuple[int, int]]:
    return set(_hopeful(case, scope).options)


def _impossible(case: Case, scope: Scope) -> bool:
    return assign(_hopeful(case, scope)).status == "impossible"


def _count(number: int, noun: str) -> str:
    return f"{'no' if number == 0 else 'only ' + str(number)} {plural(noun, number)}"


def _drawers(case: Case, held: Sequence[int]) -> str:
    names = [case.drawers[d].name for d in held]
    return "drawer " + names[0] if len(names) == 1 else f"any of the drawers {', '.join(names)}"
