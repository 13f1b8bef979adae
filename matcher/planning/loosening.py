"""What a planner could choose otherwise: a house rule loosened, or a larger cabinet, as the question that it leaves."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial

from matcher.house import House
from matcher.planning.foam_asked import foam_asked, foam_there
from matcher.planning.posing import usable
from matcher.planning.question import Question
from matcher.records import Cabinet, Drawer, Fault, Group, counted, listed, or_fault

MARGINS = (Fraction(3, 4), Fraction(1, 2))
"""Shares of the house's margin that are tried; foam narrower than half of it tears (common practice, no source)."""
CABINETS = 4
"""So many cabinets of the catalogue are tried."""


@dataclass(frozen=True, slots=True)
class Change:
    """A change in words, with the question that is left after it; ``without`` and ``cabinet`` as in `TriedChange`."""

    text: str
    question: Question
    without: tuple[str, ...] = ()
    cabinet: str = ""


def loosened(question: Question) -> Iterator[Iterator[Change]]:
    """Every house rule that may stand in the way, each as its changes, the smaller ones first."""
    yield _of_groups(question, "share", lambda group: not group.share, lambda group: replace(group, share=True))
    yield _of_groups(
        question,
        "split",
        lambda group: not group.split and group.organizer is None and bool(group.pieces),
        lambda group: replace(group, split=True),
    )
    yield _of_all(question)
    yield _foam_in_more(question)
    yield _margins(question)


def larger_cabinets(question: Question) -> Iterator[Change]:
    """The next larger cabinets of the catalogue by their area for foam, first those that have what is usually asked.

    None where earlier plans lie in this one, as they lie in no other. One on which this program fails is passed over:
    that is told where it is asked about itself.
    """
    own, usual = foam_there(question.cabinet, question.house), foam_asked(question).usual
    found = []
    for cabinet in question.catalogue.cabinets if not question.wishes.add_to else ():
        area = or_fault(cabinet.name, partial(foam_there, cabinet, question.house))
        if not isinstance(area, Fault) and area > own:
            found.append((area < usual, area, cabinet.name, cabinet))
    for _, _, name, cabinet in sorted(found, key=lambda one: one[:3])[:CABINETS]:
        told = f"the cabinet {name} instead{_in_place(question.cabinet, cabinet)}"
        yield Change(told, question.elsewhere(cabinet), cabinet=name)


def _in_place(own: Cabinet, other: Cabinet) -> str:
    """How many drawers the other cabinet has in place of these, if that differs."""
    here, there = (sum(drawer.slot != "blocked" for drawer in one.drawers) for one in (own, other))
    return f" ({counted(there, 'drawer')} in place of {here})" if here != there else ""


# --------------------------------------------------------------------------------------------------------------- rules


def _of_groups(
    question: Question, column: str, held: Callable[[Group], bool], freed: Callable[[Group], Group]
) -> Iterator[Change]:
    """A column of the groups set to yes: for one of them, then for all that it holds back."""
    bound = [group for group in question.groups if held(group)]
    for meant in _one_or_all(bound):
        groups = tuple(freed(group) if group in meant else group for group in question.groups)
        yield Change(f"{column} = yes of {listed([one.name for one in meant])}", replace(question, groups=groups))


def _of_all(question: Question) -> Iterator[Change]:
    """Mixing and dividing where the house forbids them."""
    together = question.house.together
    if together.mix == "no":
        yield _ruled(question, "[together] mix = needed", _with_together(question.house, mix="needed"))
    if together.divide == "no":
        yield _ruled(question, "[together] divide = needed", _with_together(question.house, divide="needed"))
    if together.mix == together.divide == "no":
        both = _with_together(question.house, mix="needed", divide="needed")
        yield _ruled(question, "[together] mix = needed and divide = needed", both)


def _foam_in_more(question: Question) -> Iterator[Change]:
    """Foam in drawers without: one of each size, then all; and cases in the drawers for foam."""
    bare = [drawer for drawer in usable(question.cabinet) if drawer.slot == "no foam"]
    sizes = {(box.inside_width, box.inside_depth, box.clear_height): box for box in reversed(bare)}
    one_each = [box for box in bare if box in sizes.values()]
    for meant in (*([box] for box in one_each), *([bare] if len(bare) > 1 else ())):
        names = listed([drawer.name for drawer in meant])
        word = "drawer" if len(meant) == 1 else "drawers"
        yield Change(f"foam in {word} {names}", replace(question, cabinet=_with_foam(question.cabinet, meant)))
    layout = question.house.layout
    if not layout.cased_in_foam and any(group.cased for group in question.groups):
        freer = replace(question.house, layout=replace(layout, cased_in_foam=True))
        yield _ruled(question, "[layout] cased_in_foam = true", freer)


def _margins(question: Question) -> Iterator[Change]:
    pocket = question.house.pocket
    for share in MARGINS:
        margin = int(share * pocket.margin)
        if 2 * margin >= pocket.web:
            text = f"margins of {question.unit.clear(margin)} instead of {question.unit.show(pocket.margin)}"
            yield _ruled(question, text, replace(question.house, pocket=replace(pocket, margin=margin)))


def _ruled(question: Question, text: str, house: House) -> Change:
    return Change(text, replace(question, house=house))


def _with_together(house: House, **changed: str) -> House:
    return replace(house, together=replace(house.together, **changed))  # type: ignore[arg-type]


def _with_foam(cabinet: Cabinet, meant: Collection[Drawer]) -> Cabinet:
    drawers = tuple(replace(box, slot="foam") if box in meant else box for box in cabinet.drawers)
    return replace(cabinet, drawers=drawers)


def _one_or_all(bound: list[Group]) -> Iterable[list[Group]]:
    return (*([group] for group in bound), *([bound] if len(bound) > 1 else ()))
