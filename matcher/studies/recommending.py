"""The one cabinet that a comparison recommends, and why: the first in the ranking that nobody is warned off.

A cabinet with a caution of level ``error`` is passed over where another one holds the set without.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from matcher.cautions import SHORT
from matcher.planning import Fits
from matcher.records import counted, listed
from matcher.studies.compared import Comparison, RankBy, Variant
from matcher.studies.yardsticks import YARDSTICKS, order_of


@dataclass(frozen=True, slots=True)
class Recommendation:
    """The cabinet, blank where there is none, and the sentence that says so with its ground."""

    cabinet: str
    text: str


def recommended(comparison: Comparison) -> Recommendation:
    """The cabinet of one comparison that is recommended."""
    fitting = [variant for variant in comparison.variants if isinstance(variant.outcome, Fits)]
    if not fitting:
        return Recommendation("", _none(comparison))
    sound = [variant for variant in fitting if not _errors(variant)]
    chosen = (sound or fitting)[0]
    how = " without an error" if sound else ""
    told = _grounds(chosen, sound or fitting, len(comparison.variants), how, comparison.by)
    passed = fitting[: fitting.index(chosen)]
    if passed:
        names = listed([one.outcome.cabinet for one in passed])
        codes = _short(sorted({code for one in passed for code in _errors(one)}))
        told.append(f"{names} would come first but {'has an error' if len(passed) == 1 else 'have errors'}: {codes}")
    if not sound:
        told.append(f"mind its errors: {_short(_errors(chosen))}, which no cabinet that holds the set is without")
    return Recommendation(chosen.outcome.cabinet, f"{chosen.outcome.cabinet} is recommended: {'; '.join(told)}.")


def recommended_for_all(comparisons: Sequence[Comparison]) -> Recommendation:
    """The cabinet that holds the most sets without an error; of these the first by what counts first.

    Where only one cabinet was compared, which sets go into it.
    """
    compared = {variant.outcome.cabinet for one in comparisons for variant in one.variants}
    if len(compared) == 1:
        return _one_cabinet(comparisons, *compared)
    held: dict[str, list[Variant]] = {}
    for one in comparisons:
        for variant in one.variants:
            if isinstance(variant.outcome, Fits) and not _errors(variant):
                held.setdefault(variant.outcome.cabinet, []).append(variant)
    if not held:
        return Recommendation("", "No cabinet is recommended: none is found to hold a set without an error.")
    yardstick = YARDSTICKS[comparisons[0].by]
    ranks = {name: (-len(variants), yardstick.sum(variants)) for name, variants in held.items()}
    best = min(held, key=lambda name: (ranks[name], name))
    alike = [name for name in held if name != best and ranks[name] == ranks[best]]
    most, every = len(held[best]), len(comparisons)
    sets = f"all {counted(every, 'set')}" if most == every else f"{most} of {counted(every, 'set')}"
    lacking = any(map(yardstick.lacks, held[best]))
    first = f"{yardstick.name} is not given" if lacking else f"it {yardstick.most}{yardstick.amount(held[best])}"
    told = (
        f"it holds {sets}, one at a time, {'' if most == every else 'the most that any does, '}and of those that hold "
        f"as many {first}"
    )
    return Recommendation(best, f"For the most sets {best} is recommended: {'; '.join([told, *_tied(alike)])}.")


def _one_cabinet(comparisons: Sequence[Comparison], cabinet: str) -> Recommendation:
    """How many sets go into the one cabinet, and which of them is first by what counts first."""
    variants = [variant for one in comparisons for variant in one.variants]
    fitting = [variant for variant in variants if isinstance(variant.outcome, Fits)]
    sound = [variant for variant in fitting if not _errors(variant)]
    verb = "goes" if len(fitting) == 1 else "go"
    told = [f"{len(fitting)} of {counted(len(comparisons), 'set')} {verb} into {cabinet}, one at a time"]
    if sound:
        yardstick = YARDSTICKS[comparisons[0].by]
        best = min(sound, key=lambda one: (yardstick.rank(one), one.outcome.set))
        alike = [one.outcome.set for one in sound if one is not best and yardstick.rank(one) == yardstick.rank(best)]
        first = f"with {best.outcome.set} it {yardstick.most}{yardstick.amount([best])}"
        lacking = f"{yardstick.name} of none is given"
        told += [lacking if yardstick.lacks(best) else f"{first}{f', as with {listed(alike)}' if alike else ''}"]
    warned = [variant.outcome.set for variant in fitting if variant not in sound]
    told += [f"with {listed(warned)} it has an error"] if warned else []
    open_ = sum(one.outcome.verdict == "undecided" for one in variants)
    told += [f"{open_} undecided"] if open_ else []
    return Recommendation(cabinet if fitting else "", f"{'; '.join(told)}.")


def _none(comparison: Comparison) -> str:
    undecided = sum(one.outcome.verdict == "undecided" for one in comparison.variants)
    told = f"No cabinet is recommended: none of {counted(len(comparison.variants), 'cabinet')} is found to hold the set"
    return f"{told}; {undecided} undecided." if undecided else f"{told}."


def _grounds(chosen: Variant, others: Sequence[Variant], compared: int, how: str, by: RankBy) -> list[str]:
    """What puts the first of the others, all of which hold the set so, ahead of the rest."""
    if len(others) == 1:
        return [f"the only one of {counted(compared, 'cabinet')} that holds the set{how}"]
    level, among, clauses = list(others), "", []
    for name in order_of(by):
        yardstick = YARDSTICKS[name]
        alike = [one for one in level if yardstick.rank(one) == yardstick.rank(chosen)]
        if yardstick.lacks(chosen):
            clauses.append(f"{yardstick.name} of none is given")
        elif not among or len(alike) < len(level):
            clauses.append(f"{among}it {yardstick.most}{yardstick.amount([chosen])}")
            among = f"of {len(alike)} {yardstick.level} "
        level = alike
    told = [f"of {len(others)} cabinets that hold the set{how} {', and '.join(clauses)}"]
    first = YARDSTICKS[by]
    lacking = [] if first.lacks(chosen) else [one.outcome.cabinet for one in others if first.lacks(one)]
    told += [f"{first.name} is not given for {listed(lacking)}"] if lacking else []
    return [*told, *_tied([one.outcome.cabinet for one in level if one is not chosen])]


def _tied(names: Sequence[str]) -> list[str]:
    return [f"as good by that: {listed(names)}"] if names else []


def _short(codes: Iterable[str]) -> str:
    return listed([f"{SHORT[code]} ({code})" for code in codes])


def _errors(variant: Variant) -> list[str]:
    """Codes of the cautions of level ``error``."""
    cautions = variant.outcome.cautions if isinstance(variant.outcome, Fits) else ()
    return sorted({caution.code for caution in cautions if caution.level == "error"})
