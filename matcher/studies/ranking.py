"""How the variants of a comparison are ranked: the one place that knows what counts, and says it in words.

Fits first, then fewest unused drawers, least re-cutting, most groups in the same place as in the reference (without
one: as in the variant that ranks first), name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeAlias

from matcher.planning import Fits, Outcome
from matcher.records import HOWS, Fault, How, Verdict

VERDICTS: tuple[Verdict, ...] = ("fits", "undecided", "does not fit")


@dataclass(frozen=True, slots=True)
class Variant:
    """One cabinet's outcome with its placements counted by how they got in.

    ``moved`` counts groups in another bank or row than in the comparison's model.
    """

    outcome: Outcome
    hows: tuple[tuple[How, int], ...]
    moved: int = 0

    def count(self, how: How) -> int:
        """Placements that got in this way."""
        return dict(self.hows)[how]

    @property
    def free(self) -> int:
        """Free drawers of the plan; 0 without one."""
        return len(self.outcome.plan.free_drawers) if isinstance(self.outcome, Fits) else 0


@dataclass(frozen=True, slots=True)
class Comparison:
    """A set's variants in ranked order. ``model`` is the cabinet by whose places ties were broken, if any.

    ``faults`` are the cabinets on which the program failed.
    """

    set: str
    variants: tuple[Variant, ...]
    model: str = ""
    faults: tuple[Fault, ...] = ()


Rank: TypeAlias = Callable[[Variant], int | str]
WhyFirst: TypeAlias = Callable[[Variant, Variant], str]


@dataclass(frozen=True, slots=True)
class Criterion:
    """One thing that ranks variants, the least first; ``told`` says of two that differ in it why one comes first."""

    words: str
    rank: Rank
    told: WhyFirst


def ranked(
    set_name: str, variants: Iterable[Variant], reference: Outcome | None, faults: tuple[Fault, ...] = ()
) -> Comparison:
    """The variants in order; without a reference the first of them is the model for the places of groups."""
    ordered = sorted(variants, key=_key)
    model = reference or next((one.outcome for one in ordered if isinstance(one.outcome, Fits)), None)
    if model is None:
        return Comparison(set_name, tuple(ordered), faults=faults)
    places = _places(model)
    told = [replace(one, moved=_moved(_places(one.outcome), places)) for one in ordered]
    return Comparison(set_name, tuple(sorted(told, key=_key)), model.cabinet, faults)


def ranking_words(model: str) -> str:
    """What ranks variants, the first thing first, e.g. ``verdict, fewest unused drawers, least re-cutting, name``.

    ``model`` is the cabinet by whose places of groups ties are broken; blank where there is none.
    """
    criteria = criteria_of(model)
    return ", ".join(dict.fromkeys(one.words for one in criteria if model or one.rank is not _moves))


def why_before(one: Variant, other: Variant, model: str = "") -> str:
    """Why ``one`` ranks before ``other``: the first criterion that tells them apart."""
    return next(by.told(one, other) for by in criteria_of(model) if by.rank(one) != by.rank(other))


def criteria_of(model: str) -> tuple[Criterion, ...]:
    """What counts, the first thing first; ``model`` is the cabinet whose places of groups others are compared with."""
    return (
        Criterion("verdict", _verdict, lambda a, b: f"verdict: {a.outcome.verdict} against {b.outcome.verdict}"),
        Criterion("fewest unused drawers", _free, lambda a, b: f"fewer unused drawers: {a.free} against {b.free}"),
        *map(_less, reversed(HOWS)),
        Criterion(
            f"groups in the same place as in {model}",
            _moves,
            lambda a, b: f"fewer groups in another place than in {model}: {a.moved} against {b.moved}",
        ),
        Criterion("name", lambda one: one.outcome.cabinet, lambda *_: "all alike; by name"),
    )


def _less(how: How) -> Criterion:
    def told(one: Variant, other: Variant) -> str:
        return f"less {how}: {one.count(how)} against {other.count(how)}"

    return Criterion("least re-cutting", lambda one: one.count(how), told)


def _verdict(one: Variant) -> int:
    return VERDICTS.index(one.outcome.verdict)


def _free(one: Variant) -> int:
    return one.free


def _moves(one: Variant) -> int:
    return one.moved


def _key(variant: Variant) -> tuple[int | str, ...]:
    return tuple(by.rank(variant) for by in criteria_of(""))


def _places(outcome: Outcome) -> dict[str, tuple[int, int]]:
    """Bank and row of each group."""
    drawers = {drawer.name: drawer for drawer in outcome.question.cabinet.drawers}
    placed = outcome.plan.placements if isinstance(outcome, Fits) else ()
    return {one.group: (drawers[one.drawer].bank, drawers[one.drawer].row) for one in placed}


def _moved(places: Mapping[str, tuple[int, int]], model: Mapping[str, tuple[int, int]]) -> int:
    return sum(place != model.get(group) for group, place in places.items())
