"""How much foam a set asks for and how much the cabinet has, and which drawers are the bottleneck."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil

from matcher.fitting import Axis, StaysOut, admit, opening
from matcher.house import House
from matcher.layout import curve
from matcher.planning.posing import may_go_in, pins_allow
from matcher.planning.question import Question
from matcher.planning.summing import dealt_out, least_asked
from matcher.records import PER_MM, Cabinet, Drawer, FoamAsked, Group, counted, listed

MOST = 3
"""So many groups or pieces are named."""
ENOUGH: Mapping[Axis, str] = {
    "height": "high enough",
    "width": "wide enough",
    "depth": "deep enough",
    "load": "rated for them",
    "area": "large enough",
}
"""What only the drawers of a bottleneck are, by what the others lack."""
SIZES: Mapping[Axis, Callable[[Drawer], int]] = {
    "height": lambda drawer: drawer.clear_height,
    "width": lambda drawer: drawer.inside_width,
    "depth": lambda drawer: drawer.inside_depth,
}


def foam_asked(question: Question) -> FoamAsked:
    """The area of foam that a set asks for, what the cabinet has, and about how many drawers are missing."""
    laid, house = [group for group in question.groups if not group.cased], question.house
    there, number = foam_there(question.cabinet, house), len(_foam_drawers(question.cabinet))
    usual = sum(_usual(group, house) for group in laid)
    missing = max(0, -(-(usual - there) * number // there)) if there else 0
    return FoamAsked(sum(least_asked(group, house) for group in laid), usual, there, missing)


def foam_there(cabinet: Cabinet, house: House) -> int:
    """Area of a cabinet's drawers for foam within their clearances."""
    return sum(_area(drawer, house) for drawer in _foam_drawers(cabinet))


def foam_told(question: Question) -> str:
    """What is asked and there, for what the most of it, how many drawers are missing, and where the bottleneck is."""
    asked = foam_asked(question)
    told = (
        f"it asks for {square(asked.least)} of foam at least and {square(asked.usual)} laid out in order"
        f"{_most(question)}; the drawers have {square(asked.there)}: {_missing(asked)}"
    )
    return "; ".join((told, *_bottleneck(question, asked)))


def _missing(asked: FoamAsked) -> str:
    """About how many drawers are missing, or how much of their area is asked for."""
    if not asked.there:
        return "none is for foam"
    if asked.missing:
        return f"about {counted(asked.missing, 'drawer')} of their size missing"
    return f"enough by area alone, {100 * asked.usual / asked.there:.0f} % of it asked for"


def square(area: int) -> str:
    """An area in square meters."""
    return f"{area / PER_MM**2 / 10**6:.2f} m2"


def _most(question: Question) -> str:
    """The groups that ask for the most, where there are more of them."""
    laid = [group for group in question.groups if not group.cased]
    areas = sorted((-_usual(group, question.house), group.name) for group in laid)
    if len(areas) <= MOST:
        return ""
    return f" (the most for {listed([f'{name} {square(-area)}' for area, name in areas[:MOST]])})"


def _usual(group: Group, house: House) -> int:
    """Area of a group's smallest ordered organizer, or of its ready-made one trimmed."""
    if not group.pieces:
        return least_asked(group, house)
    margins = 2 * house.pocket.margin
    return min((point.width + margins) * (point.depth + margins) for point in curve(group, house))


def _area(drawer: Drawer, house: House) -> int:
    space = opening(drawer, house)
    return space.width * space.depth


def _foam_drawers(cabinet: Cabinet) -> list[Drawer]:
    return [drawer for drawer in cabinet.drawers if drawer.slot == "foam"]


# ---------------------------------------------------------------------------------------------------------- bottleneck


@dataclass(slots=True)
class _Confined:
    """Tools that go into some of the drawers only: their area, how many of each, and what the other drawers lack."""

    area: int = 0
    tools: Counter[str] = field(default_factory=Counter)
    lacks: Counter[Axis] = field(default_factory=Counter)

    def add(self, other: _Confined) -> None:
        """Count others in."""
        self.area += other.area
        self.tools += other.tools
        self.lacks += other.lacks


def _bottleneck(question: Question, asked: FoamAsked) -> Iterator[str]:
    """The drawers of which the most is asked for what they have, if that is more than they have and the rest is not
    asked as much: at the usual density, in one sentence."""
    drawers = _foam_drawers(question.cabinet)
    confined = _confined(question, drawers)
    loads = [
        (asked.usual * within.area / (asked.least * there), there, sorted(only), within)
        for only in confined
        if 0 < len(only) < len(drawers)
        if (there := sum(_area(drawers[d], question.house) for d in only))
        if (within := _within(only, confined))
    ]
    worst = max(loads, key=lambda load: (load[0], -len(load[2]), load[2]), default=None)
    if worst and worst[0] > max(1, asked.usual / asked.there):
        share, there, only, within = worst
        rest = [drawer for d, drawer in enumerate(drawers) if d not in only]
        yield _told(share, there, [drawers[d] for d in only], rest, within)


def _confined(question: Question, drawers: Sequence[Drawer]) -> dict[frozenset[int], _Confined]:
    """The tools for foam by the drawers that may take them, each tool however its group is divided."""
    found: dict[frozenset[int], _Confined] = defaultdict(_Confined)
    for group in question.groups:
        for part, count in () if group.cased else dealt_out(group, question.house):
            fits = [admit(part, drawer, question.house) for drawer in drawers]
            only = frozenset(
                d
                for d, fit in enumerate(fits)
                if may_go_in(fit, any_layout=True) and pins_allow(question.pins, group, drawers[d])
            )
            names = Counter({piece.piece.tool: count * piece.piece.count for piece in part.pieces})
            lacks = Counter(
                fit.shortfall.axis for d, fit in enumerate(fits) if d not in only and isinstance(fit, StaysOut)
            )
            found[only].add(
                _Confined(least_asked(part, question.house) * count, names or Counter({group.name: 1}), lacks)
            )
    return found


def _within(only: frozenset[int], confined: Mapping[frozenset[int], _Confined]) -> _Confined:
    """All tools that go into these drawers only."""
    whole = _Confined()
    for held, tools in confined.items():
        if held and held <= only:
            whole.add(tools)
    return whole


def _told(share: float, there: int, held: Sequence[Drawer], rest: Sequence[Drawer], within: _Confined) -> str:
    named = [f"{count} x {tool}" if count > 1 else tool for tool, count in within.tools.most_common(MOST)]
    pieces = f"{counted(within.tools.total(), 'piece')} ({listed(named + ['others'] * (len(within.tools) > MOST))})"
    word, are = ("drawer", "is") if len(held) == 1 else ("drawers", "are")
    more, names = ceil(round((share - 1) * len(held), 3)), listed([drawer.name for drawer in held])
    return (
        f"the bottleneck: only {word} {names}, {square(there)}, {are} {_enough(held, rest, within)} for {pieces}, "
        f"which ask for {square(round(share * there))} in order: about {counted(more, 'such drawer')} missing"
    )


def _enough(held: Sequence[Drawer], rest: Sequence[Drawer], within: _Confined) -> str:
    """What the drawers of a bottleneck are and the others are not: what these lack most often, if the drawers differ in
    it, else what they differ in."""
    lacked = max(within.lacks, key=lambda axis: (within.lacks[axis], axis), default=None)
    differ = [axis for axis, size in SIZES.items() if min(map(size, held)) > max(map(size, rest))]
    axis = differ[0] if differ and lacked not in differ and lacked in SIZES else lacked
    return ENOUGH.get(axis, "allowed") if axis else "allowed"
