"""Which bundles and which new sizes, exactly: promises kept first, then gain (CP-SAT).

Per bundle b a variable x_b, per new size s a variable y_s. A need n of b that no existing size meets asks for one of
the sizes that serve it: x_b <= sum of y_s over those. What serving it costs is told step by step from the cheapest on:
a step is paid, a variable u, unless one of the sizes before it is made: u >= x_b - sum of y_s over those (the radius
formulation of the p-median problem; Cornuejols, Nemhauser and Wolsey, 1980, from memory). Most promises kept (a promise
is a set of bundles of which one must be offered), then the most of sum(brings_b x_b) - set-up x sum(y_s) - steps paid,
then the fewest sizes. In form a facility location problem, without steps one without distances, or a set covering
problem where one bundle with all its needs is promised.
"""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Sequence
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from matcher.packing import Solved, solve

FULL_RELAXATION = 2
"""Clauses enter the linear relaxation too: measured on 60 sizes x 50 bundles, proved in 0.1 s against not in 10 s."""


@dataclass(frozen=True, slots=True)
class CostStep:
    """``cost`` in cents a year that a bundle pays if it is offered and none of the sizes in ``saved_by`` is made."""

    bundle: int
    saved_by: frozenset[int]
    cost: int

    def paid(self, bundles: Container[int], sizes: frozenset[int]) -> int:
        """What is paid of it in a choice."""
        return self.cost if self.bundle in bundles and not self.saved_by & sizes else 0


@dataclass(frozen=True, slots=True)
class Market:
    """Plain numbers: ``brings`` per bundle and ``setup`` per new size in cents; bundles and sizes by their index.

    ``needs`` of a bundle are the sets of sizes that serve each; an empty set means that nothing does. Of the bundles of
    one set in ``either`` at most one is offered: they are plans of one pair.
    """

    brings: tuple[int, ...]
    needs: tuple[tuple[frozenset[int], ...], ...]
    sizes: int
    setup: int
    barred: frozenset[int] = frozenset()
    promises: tuple[frozenset[int], ...] = ()
    either: tuple[frozenset[int], ...] = ()
    steps: tuple[CostStep, ...] = ()

    def work(self, bundles: Collection[int], sizes: Iterable[int]) -> int:
        """What work on foam costs a year in a choice, in cents."""
        offered, made = frozenset(bundles), frozenset(sizes)
        return sum(step.paid(offered, made) for step in self.steps)

    def gain(self, bundles: Collection[int], sizes: Collection[int]) -> int:
        """What a choice gains, set-up and work paid."""
        return sum(self.brings[b] for b in bundles) - self.setup * len(sizes) - self.work(bundles, sizes)


@dataclass(frozen=True, slots=True)
class Choice:
    """Bundles to offer with the new sizes for them. ``gain`` and ``bound`` in cents, set-up and work paid.

    ``proved`` means most promises, and then most gain: both proved.
    """

    bundles: tuple[int, ...]
    sizes: tuple[int, ...]
    kept: int
    gain: int
    bound: int
    proved: bool


@dataclass(frozen=True, slots=True)
class Fewest:
    """The least number of new sizes for something; ``choice`` is ``None`` where nothing was found.

    ``proved`` of no choice means that there is none.
    """

    choice: Choice | None
    bound: int
    proved: bool


@dataclass(frozen=True, slots=True)
class _OfferModel:
    market: Market
    model: cp_model.CpModel
    offered: list[cp_model.IntVar]
    made: list[cp_model.IntVar]
    kept: list[cp_model.IntVar]
    gain: cp_model.LinearExpr


def best(market: Market, most_sizes: int, most_bundles: int | None, work: float, seed: int) -> Choice:
    """The best choice with at most so many new sizes and bundles (``None``: any number)."""
    built = _built(market, most_bundles)
    built.model.add(sum(built.made) <= most_sizes)
    _hint(built, Choice((), (), 0, 0, 0, False))
    first = _most_promises(built, work, seed) if market.promises else None
    finer = market.sizes + 1
    built.model.maximize(finer * built.gain - sum(built.made))
    second = solve(built.model, work, seed, linearization_level=FULL_RELAXATION)
    if not second.found or second.bound is None:
        return Choice((), (), 0, 0, sum(max(0, value) for value in market.brings), False)
    proved = second.status == "optimal" and (first is None or first.status == "optimal")
    return replace(_read(built, second), bound=(second.bound + market.sizes) // finer, proved=proved)


def fewest(market: Market, kept: int, gain: int | None, most_bundles: int | None, work: float, seed: int) -> Fewest:
    """The fewest new sizes with which ``kept`` promises are kept and ``gain`` cents (``None``: any) are gained."""
    built = _built(market, most_bundles)
    if market.promises:
        built.model.add(sum(built.kept) >= kept)
    if gain is not None:
        built.model.add(built.gain >= gain)
    built.model.minimize(sum(built.made))
    answer = solve(built.model, work, seed, linearization_level=FULL_RELAXATION)
    if not answer.found:
        return Fewest(None, answer.bound or 0, answer.status == "infeasible")
    return Fewest(_read(built, answer), answer.bound or 0, answer.status == "optimal")


def _built(market: Market, most_bundles: int | None) -> _OfferModel:
    model = cp_model.CpModel()
    offered = [model.new_bool_var(f"bundle {b}") for b in range(len(market.brings))]
    made = [model.new_bool_var(f"size {s}") for s in range(market.sizes)]
    kept = [model.new_bool_var(f"promise {p}") for p in range(len(market.promises))]
    for b, needs in enumerate(market.needs):
        for serving in needs:
            model.add_bool_or([*(made[s] for s in sorted(serving)), ~offered[b]])
    for b in sorted(market.barred):
        model.add(offered[b] == 0)
    for plans in market.either:
        model.add_at_most_one(offered[b] for b in sorted(plans))
    for promise, variable in zip(market.promises, kept, strict=True):
        model.add_bool_or([*(offered[b] for b in sorted(promise)), ~variable])
    if most_bundles is not None:
        model.add(sum(offered) <= most_bundles)
    paid = [_paid(model, step, offered, made) for step in market.steps]
    costs = [*[-market.setup] * market.sizes, *(-step.cost for step in market.steps)]
    gain = cp_model.LinearExpr.weighted_sum([*offered, *made, *paid], [*market.brings, *costs])
    return _OfferModel(market, model, offered, made, kept, gain)


def _paid(
    model: cp_model.CpModel, step: CostStep, offered: Sequence[cp_model.IntVar], made: Sequence[cp_model.IntVar]
) -> cp_model.IntVar:
    """Whether a step is paid: if its bundle is offered and nothing saves it."""
    if not step.saved_by:
        return offered[step.bundle]
    paid = model.new_bool_var("step")
    model.add_bool_or([*(made[s] for s in sorted(step.saved_by)), ~offered[step.bundle], paid])
    return paid


def _most_promises(built: _OfferModel, work: float, seed: int) -> Solved:
    """Fix the most promises that can be kept."""
    built.model.maximize(sum(built.kept))
    answer = solve(built.model, work, seed, linearization_level=FULL_RELAXATION)
    if answer.found and answer.value is not None:
        built.model.add(sum(built.kept) >= answer.value)
        _hint(built, _read(built, answer))
    return answer


def _hint(built: _OfferModel, choice: Choice) -> None:
    built.model.clear_hints()  # type: ignore[no-untyped-call]
    for variables, chosen in ((built.offered, choice.bundles), (built.made, choice.sizes)):
        for index, variable in enumerate(variables):
            built.model.add_hint(variable, index in chosen)


def _read(built: _OfferModel, answer: Solved) -> Choice:
    def chosen(variables: Sequence[cp_model.IntVar]) -> tuple[int, ...]:
        return tuple(index for index, variable in enumerate(variables) if answer.of(variable))

    bundles, sizes = chosen(built.offered), chosen(built.made)
    return Choice(bundles, sizes, len(chosen(built.kept)), built.market.gain(bundles, sizes), 0, False)
