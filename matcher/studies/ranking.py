"""How the variants of a comparison are ranked: the one place that knows in which order things count, and says it in
words.

Fits first, then what is asked to count first (`yardsticks`; without a wish the fewest unused drawers), fewest unused
drawers, least re-cutting, most groups in the same place as in the reference (without one: as in the variant that ranks
first), name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

from matcher.planning import Fits, Outcome
from matcher.records import Fault, UsageError, Verdict
from matcher.studies.compared import Comparison, RankBy, Variant
from matcher.studies.yardsticks import YARDSTICKS, WhyFirst, Yardstick, order_of

VERDICTS: tuple[Verdict, ...] = ("fits", "undecided", "does not fit")
RANKS: tuple[RankBy, ...] = tuple(YARDSTICKS)
RANK_WORDS: Mapping[RankBy, str] = {name: one.words for name, one in YARDSTICKS.items()}
"""What ranks first, by the word for what counts first."""
OF_SETS: tuple[RankBy, ...] = ("unused", "free", "recut", "cost")
"""What may count first among sets in one cabinet, which has one price and one size."""

Rank: TypeAlias = Callable[[Variant], tuple[bool, float] | int | str]


@dataclass(frozen=True, slots=True)
class Criterion:
    """One thing that ranks variants, the least first; ``told`` says of two that differ in it why one comes first."""

    words: str
    rank: Rank
    told: WhyFirst


def parse_rank(word: str, known: tuple[RankBy, ...] = RANKS) -> RankBy:
    """What is to count first, by its word.

    Raises
    ------
    UsageError
        The word is none of those known.
    """
    for one in known:
        if word == one:
            return one
    raise UsageError(f"rank {word!r}: expected one of {', '.join(known)}")


def ranked(
    set_name: str,
    variants: Iterable[Variant],
    reference: Outcome | None,
    faults: tuple[Fault, ...] = (),
    by: RankBy = "unused",
) -> Comparison:
    """The variants in order; without a reference the first of them is the model for the places of groups."""
    ordered = sorted(variants, key=lambda one: _key(one, by))
    model = reference or next((one.outcome for one in ordered if isinstance(one.outcome, Fits)), None)
    if model is None:
        return Comparison(set_name, tuple(ordered), faults=faults, by=by)
    places = _places(model)
    told = [replace(one, moved=_moved(_places(one.outcome), places)) for one in ordered]
    return Comparison(set_name, tuple(sorted(told, key=lambda one: _key(one, by))), model.cabinet, faults, by)


def ranked_sets(comparisons: Iterable[Comparison]) -> list[Comparison]:
    """Comparisons of one cabinet each in the order of their sets: as variants are ranked, those without one last."""
    return sorted(
        comparisons, key=lambda one: (not one.variants, *(_key(two, one.by) for two in one.variants), one.set)
    )


def ranking_words(model: str, by: RankBy = "unused") -> str:
    """What ranks variants, the first thing first, e.g. ``verdict, fewest unused drawers, least re-cutting, name``.

    ``model`` is the cabinet by whose places of groups ties are broken; blank where there is none.
    """
    criteria = criteria_of(model, by)
    return ", ".join(dict.fromkeys(one.words for one in criteria if model or one.rank is not _moves))


def why_before(one: Variant, other: Variant, model: str = "", by: RankBy = "unused") -> str:
    """Why ``one`` ranks before ``other``: the first criterion that tells them apart."""
    return next(wins.told(one, other) for wins in criteria_of(model, by) if wins.rank(one) != wins.rank(other))


def criteria_of(model: str, by: RankBy = "unused") -> tuple[Criterion, ...]:
    """What counts, the first thing first; ``model`` is the cabinet whose places of groups others are compared with."""
    return (
        Criterion("verdict", _verdict, lambda a, b: f"verdict: {a.outcome.verdict} against {b.outcome.verdict}"),
        *(criterion for name in order_of(by) for criterion in _criteria(YARDSTICKS[name])),
        Criterion(
            f"groups in the same place as in {model}",
            _moves,
            lambda a, b: f"fewer groups in another place than in {model}: {a.moved} against {b.moved}",
        ),
        Criterion("name", lambda one: one.outcome.cabinet, lambda *_: "all alike; by name"),
    )


def _criteria(yardstick: Yardstick) -> Iterable[Criterion]:
    return (Criterion(yardstick.words, figure.rank, figure.told) for figure in yardstick.figures)


def _verdict(one: Variant) -> int:
    return VERDICTS.index(one.outcome.verdict)


def _moves(one: Variant) -> int:
    return one.moved


def _key(variant: Variant, by: RankBy) -> tuple[object, ...]:
    return tuple(criterion.rank(variant) for criterion in criteria_of("", by))


def _places(outcome: Outcome) -> dict[str, tuple[int, int]]:
    """Bank and row of each group."""
    drawers = {drawer.name: drawer for drawer in outcome.question.cabinet.drawers}
    placed = outcome.plan.placements if isinstance(outcome, Fits) else ()
    return {one.group: (drawers[one.drawer].bank, drawers[one.drawer].row) for one in placed}


def _moved(places: Mapping[str, tuple[int, int]], model: Mapping[str, tuple[int, int]]) -> int:
    return sum(place != model.get(group) for group, place in places.items())
