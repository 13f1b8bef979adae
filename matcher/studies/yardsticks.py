"""What can count first in a ranking: the figures, the least first, and the words for them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from matcher.records import HOWS, How, listed
from matcher.studies.compared import RankBy, Variant

FigureOf: TypeAlias = Callable[[Variant], float | None]
WhyFirst: TypeAlias = Callable[[Variant, Variant], str]
NOT_GIVEN = "not given"


@dataclass(frozen=True, slots=True)
class RankedFigure:
    """One number that ranks variants, the least first and what is not given last.

    ``told`` says of two that differ in it why one comes first.
    """

    value: FigureOf
    told: WhyFirst

    def rank(self, variant: Variant) -> tuple[bool, float]:
        """What it is sorted by."""
        value = self.value(variant)
        return value is None, value or 0


@dataclass(frozen=True, slots=True)
class Yardstick:
    """Figures that count together: ``words`` for what ranks first, and for the ground of a recommendation.

    ``most`` says what the first does, ``amount`` how much of it (of one variant, or of one cabinet with several sets),
    ``level`` what others do that are level with it, ``name`` what may not be given.
    """

    words: str
    figures: tuple[RankedFigure, ...]
    most: str
    amount: Callable[[Sequence[Variant]], str]
    level: str
    name: str = ""

    def rank(self, variant: Variant) -> tuple[tuple[bool, float], ...]:
        """What it is sorted by."""
        return tuple(figure.rank(variant) for figure in self.figures)

    def sum(self, variants: Sequence[Variant]) -> tuple[tuple[int, float], ...]:
        """What one cabinet with several sets is sorted by: how often a figure is not given, and the rest together."""
        ranks = [[figure.rank(variant) for variant in variants] for figure in self.figures]
        return tuple((sum(lacks for lacks, _ in own), round(sum(value for _, value in own), 2)) for own in ranks)

    def lacks(self, variant: Variant) -> bool:
        """Whether its first figure is not given."""
        return self.figures[0].value(variant) is None


def order_of(by: RankBy) -> tuple[RankBy, ...]:
    """The yardsticks in the order in which they count: as many free drawers are as many unused ones."""
    usual: tuple[RankBy, ...] = ("recut",) if by == "free" else ("unused", "recut")
    return tuple(dict.fromkeys((by, *usual)))


def money(amount: float | None) -> str:
    """Money to the cent, or that it is not given."""
    return NOT_GIVEN if amount is None else f"{amount:,.2f}"


def _less(how: How) -> RankedFigure:
    def told(one: Variant, other: Variant) -> str:
        return f"less {how}: {one.count(how)} against {other.count(how)}"

    return RankedFigure(lambda one: one.count(how), told)


def _side(side: str, word: str) -> RankedFigure:
    def told(one: Variant, other: Variant) -> str:
        return f"{word}: {_length(one, side)} against {_length(other, side)}"

    return RankedFigure(lambda one: getattr(one.outcome.question.cabinet, side), told)


def _length(variant: Variant, side: str) -> str:
    question = variant.outcome.question
    length = getattr(question.cabinet, side)
    return NOT_GIVEN if length is None else question.unit.show(length)


def _free(variants: Sequence[Variant]) -> str:
    free = sum(one.free for one in variants)
    return f", {free} of {variants[0].usable}" if len(variants) == 1 else f", {free} in all"


def _work(variants: Sequence[Variant]) -> str:
    counts = {how: sum(one.count(how) for one in variants) for how in HOWS}
    return f": {listed([f'{count} {how}' for how, count in counts.items() if count])}"


def _cost(variants: Sequence[Variant]) -> str:
    costs = [one.foam_cost or 0 for one in variants]
    guessed = any(one.amounts and one.amounts.estimated for one in variants)
    return f", {money(sum(costs))}{' in all' if len(costs) > 1 else ''}{' (estimated)' if guessed else ''}"


def _outside(variants: Sequence[Variant]) -> str:
    sides = (("width", "wide"), ("depth", "deep"), ("height", "high"))
    cabinet = variants[0].outcome.question.cabinet
    told = [f"{_length(variants[0], side)} {word}" for side, word in sides if getattr(cabinet, side) is not None]
    return f", {' x '.join(told)}"


YARDSTICKS: Mapping[RankBy, Yardstick] = {
    "unused": Yardstick(
        "fewest unused drawers",
        (RankedFigure(lambda one: one.free, lambda a, b: f"fewer unused drawers: {a.free} against {b.free}"),),
        "leaves the fewest drawers unused",
        _free,
        "that leave as few",
    ),
    "free": Yardstick(
        "most free drawers",
        (RankedFigure(lambda one: -one.free, lambda a, b: f"more free drawers: {a.free} against {b.free}"),),
        "leaves the most drawers free",
        _free,
        "that leave as many",
    ),
    "recut": Yardstick(
        "least re-cutting",
        tuple(map(_less, reversed(HOWS))),
        "needs the least work on the foam",
        _work,
        "that need as little",
    ),
    "cost": Yardstick(
        "least foam cost",
        (
            RankedFigure(
                lambda one: None if one.foam_cost is None else round(one.foam_cost, 2),
                lambda a, b: f"less foam cost: {money(a.foam_cost)} against {money(b.foam_cost)}",
            ),
        ),
        "takes foam for the least money",
        _cost,
        "for which it costs as much",
        "the foam cost",
    ),
    "price": Yardstick(
        "cheapest cabinet",
        (RankedFigure(lambda one: one.price, lambda a, b: f"cheaper: {money(a.price)} against {money(b.price)}"),),
        "is the cheapest",
        lambda variants: f", {money(variants[0].price)}",
        "that cost as much",
        "the price",
    ),
    "width": Yardstick(
        "smallest cabinet by width, depth and height",
        (_side("width", "narrower"), _side("depth", "shallower"), _side("height", "lower")),
        "is the smallest",
        _outside,
        "of that size",
        "the outside width",
    ),
}
"""By the word for what is to count first."""
