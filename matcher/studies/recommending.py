"""The one cabinet that a comparison recommends, and why: the first in the ranking that nobody is warned off.

A cabinet with a caution of level ``error`` is passed over where another one holds the set without.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from matcher.planning import Fits
from matcher.records import HOWS, counted, listed
from matcher.studies.ranking import Comparison, Variant


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
    told = _grounds(chosen, sound or fitting, len(comparison.variants), " without an error" if sound else "")
    passed = fitting[: fitting.index(chosen)]
    if passed:
        names = listed([one.outcome.cabinet for one in passed])
        codes = listed(sorted({code for one in passed for code in _errors(one)}))
        told.append(f"{names} would come first but {'has an error' if len(passed) == 1 else 'have errors'}: {codes}")
    if not sound:
        told.append(f"mind its errors: {listed(_errors(chosen))}, which no cabinet that holds the set is without")
    return Recommendation(chosen.outcome.cabinet, f"{chosen.outcome.cabinet} is recommended: {'; '.join(told)}.")


def recommended_for_all(comparisons: Sequence[Comparison]) -> Recommendation:
    """The cabinet that holds the most sets without an error; of these that which leaves the fewest drawers unused."""
    held: dict[str, dict[str, int]] = {}
    for one in comparisons:
        for variant in one.variants:
            if isinstance(variant.outcome, Fits) and not _errors(variant):
                held.setdefault(variant.outcome.cabinet, {})[one.set] = variant.free
    if not held:
        return Recommendation("", "No cabinet is recommended: none is found to hold a set without an error.")
    best = min(held, key=lambda name: _rank(held[name], name))
    alike = [name for name in held if name != best and _rank(held[name], "") == _rank(held[best], "")]
    most, every = len(held[best]), len(comparisons)
    sets = f"all {counted(every, 'set')}" if most == every else f"{most} of {counted(every, 'set')}"
    told = (
        f"it holds {sets}, one at a time, {'' if most == every else 'the most that any does, '}and of those that hold "
        f"as many it leaves the fewest drawers unused, {sum(held[best].values())} in all"
    )
    return Recommendation(best, f"For the most sets {best} is recommended: {'; '.join([told, *_tied(alike)])}.")


def _rank(free: Mapping[str, int], name: str) -> tuple[int, int, str]:
    return -len(free), sum(free.values()), name


def _none(comparison: Comparison) -> str:
    undecided = sum(one.outcome.verdict == "undecided" for one in comparison.variants)
    told = f"No cabinet is recommended: none of {counted(len(comparison.variants), 'cabinet')} is found to hold the set"
    return f"{told}; {undecided} undecided." if undecided else f"{told}."


def _grounds(chosen: Variant, others: Sequence[Variant], compared: int, how: str) -> list[str]:
    """What puts the first of the others, all of which hold the set so, ahead of the rest."""
    if len(others) == 1:
        return [f"the only one of {counted(compared, 'cabinet')} that holds the set{how}"]
    usable = sum(drawer.slot != "blocked" for drawer in chosen.outcome.question.cabinet.drawers)
    told = (
        f"of {len(others)} cabinets that hold the set{how} it leaves the fewest drawers unused, "
        f"{chosen.free} of {usable}"
    )
    level = [one for one in others if one.free == chosen.free]
    alike = [one for one in level if one.hows == chosen.hows]
    if len(alike) < len(level):
        hows = listed([f"{chosen.count(how)} {how}" for how in HOWS if chosen.count(how)])
        told += f", and of {len(level)} that leave as few it needs the least work on the foam: {hows}"
    return [told, *_tied([one.outcome.cabinet for one in alike if one is not chosen])]


def _tied(names: Sequence[str]) -> list[str]:
    return [f"level with it but for the name: {listed(names)}"] if names else []


def _errors(variant: Variant) -> list[str]:
    """Codes of the cautions of level ``error``."""
    cautions = variant.outcome.cautions if isinstance(variant.outcome, Fits) else ()
    return sorted({caution.code for caution in cautions if caution.level == "error"})
