"""One set in many cabinet variants: each planned, then ranked as `ranking` says."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from matcher.cutting import amounts
from matcher.house import House
from matcher.planning import (
    NO_WISHES,
    Fits,
    Outcome,
    Question,
    Released,
    answer,
    ask_each,
    check_wishes,
    counting_on,
    find_cabinet,
    plan,
    release,
)
from matcher.records import (
    HOWS,
    Cabinet,
    Catalogue,
    Fault,
    Fill,
    ReleasedPlan,
    UsageError,
    Wishes,
    counted,
    or_fault,
)
from matcher.screening import ALONE, Hands, ToldName, telling
from matcher.studies.compared import Comparison, RankBy, Variant
from matcher.studies.ranking import ranked


class Stopped(KeyboardInterrupt):
    """Ctrl-C ended a comparison: ``so_far`` ranks the cabinets planned until then, ``left`` are those that were not."""

    def __init__(self, so_far: Comparison, left: tuple[str, ...]):
        done = len(so_far.variants) + len(so_far.faults)
        every = counted(done + len(left), "cabinet")
        super().__init__(f"{so_far.set}: stopped by hand after {done} of {every}; not planned: {', '.join(left)}")
        self.so_far = so_far
        self.left = left


def compare(
    catalogue: Catalogue,
    house: House,
    set_name: str,
    cabinets: Iterable[str] = (),
    fill: Fill | None = None,
    reference: str | ReleasedPlan = "",
    told: ToldName | None = None,
    wishes: Wishes = NO_WISHES,
    hands: Hands = ALONE,
    by: RankBy = "unused",
    *,
    turns: bool = True,
) -> Comparison:
    """Plan the set in each of the cabinets (none named: all) and rank them, ``by`` what counts first.

    With ``reference`` the organizers of that cabinet's plan count as existing, so the others show what carries over;
    that plan is of the set as wished and of the same fill, or a released plan. In that cabinet and in versions of it,
    which have drawers of the same names in the same places, plans stay as near to it as they can. ``hands`` do the
    planning. A cabinet on which the program fails is named among the faults, the reference too; the others are
    answered. Changes that would give a plan are looked for unless ``turns`` is false, as in `planning.answer`.

    Raises
    ------
    UnknownNameError
        A set or cabinet is not in the catalogue, or a wish names a group or drawer that is nowhere.
    UsageError
        The set has no plan in the reference cabinet, or the released plan is of another set.
    Stopped
        Somebody pressed Ctrl-C while cabinets were being planned.
    """
    names = sorted(set(cabinets)) or [cabinet.name for cabinet in catalogue.cabinets]
    found = [find_cabinet(catalogue, name) for name in names]
    wishes = replace(wishes, fill=fill or wishes.fill)
    check_wishes(wishes, catalogue, set_name, found)
    same_set = replace(NO_WISHES, fill=wishes.fill, by_drive=wishes.by_drive, by_system=wishes.by_system)
    same_set = replace(same_set, without=wishes.without)
    model: Outcome | Fault | None = None
    if isinstance(reference, str) and reference:
        model = or_fault(reference, lambda: plan(catalogue, house, set_name, reference, wishes=same_set))
    failed = (replace(model, cabinet=f"{reference} as the reference"),) if isinstance(model, Fault) else ()
    model = None if isinstance(model, Fault) else model
    known, released = _released(catalogue, model) if model else (catalogue, None)
    asked = [replace(one, released=released) for one in ask_each(known, house, set_name, found, wishes)]
    if not isinstance(reference, str):
        asked = [_counting_on(one, reference) for one in asked]
    answers: list[Outcome | Fault] = []
    try:
        for one in telling(hands.results(_answered if turns else _answered_in_short, asked[0], found), names, told):
            answers.append(one if isinstance(one, Fault) else replace(one, question=asked[len(answers)]))
    except KeyboardInterrupt as pressed:
        so_far = _ranked(set_name, (*failed, *answers), model, by)
        raise Stopped(so_far, tuple(names[len(answers) :])) from pressed
    return _ranked(set_name, (*failed, *answers), model, by)


def _counting_on(question: Question, plan: ReleasedPlan) -> Question:
    """The question with the organizers of a released plan of its set as existing ones."""
    if plan.snapshot.set != question.set:
        raise UsageError(f"the released plan is of {plan.snapshot.set!r}; expected one of {question.set!r}")
    return counting_on(question, plan)


def _answered(question: Question, cabinet: Cabinet) -> Outcome | Fault:
    return or_fault(cabinet.name, lambda: answer(question.elsewhere(cabinet)))


def _answered_in_short(question: Question, cabinet: Cabinet) -> Outcome | Fault:
    return or_fault(cabinet.name, lambda: answer(question.elsewhere(cabinet), turns=False))


def _ranked(set_name: str, answers: Iterable[Outcome | Fault], model: Outcome | None, by: RankBy) -> Comparison:
    listed = list(answers)
    told = (one for one in listed if isinstance(one, Fits) and one.cabinet == _released_in(one))
    model = model or next(told, None)
    variants = [_variant(one) for one in listed if not isinstance(one, Fault)]
    return ranked(set_name, variants, model, tuple(one for one in listed if isinstance(one, Fault)), by)


def _released_in(outcome: Fits) -> str:
    """The cabinet of the released plan that counts, if there is one."""
    return outcome.question.released.cabinet.name if outcome.question.released else ""


def _released(catalogue: Catalogue, outcome: Outcome) -> tuple[Catalogue, Released]:
    """The catalogue with the organizers of the plan; the pieces that wishes leave out of the plan are still in it."""
    if not isinstance(outcome, Fits):
        raise UsageError(f"no plan of {outcome.set!r} in the reference cabinet {outcome.cabinet!r}: {outcome.verdict}")
    made, released = release(outcome)
    return replace(catalogue, organizers=made.organizers, parts=made.parts), released


def _variant(outcome: Outcome) -> Variant:
    placed = outcome.plan.placements if isinstance(outcome, Fits) else ()
    counted = Counter(placement.how for placement in placed)
    takes = amounts(outcome) if isinstance(outcome, Fits) else None
    return Variant(outcome, tuple((how, counted[how]) for how in HOWS), amounts=takes)
