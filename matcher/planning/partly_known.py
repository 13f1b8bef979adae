"""Cabinets of which some sizes are a guess or not known: what then can be said of a set, and what cannot.

A drawer with an unknown size is blocked, so a plan holds whatever that size is. A refusal holds only where there is no
plan either with such sizes as large as any. Between the two nothing is decided. A refusal that a larger guess would
turn says so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from matcher.planning.question import Question
from matcher.records import LARGEST_INSIDE, PER_MM, Cabinet, Drawer, Reason, inside_sizes, listed


def any_unknown(cabinet: Cabinet) -> bool:
    """Whether a size of one of its drawers is not known."""
    return any(box.unknown for box in cabinet.drawers)


def any_guessed(cabinet: Cabinet) -> bool:
    """Whether a size of one of its drawers is a guess."""
    return any(box.guessed for box in cabinet.drawers)


def with_sizes_opened(question: Question, *, guesses: bool = False) -> Question:
    """The question with every unknown size as large as any, and guesses too if wished."""
    boxes = tuple(_opened(box, guesses) for box in question.cabinet.drawers)
    cabinet = replace(question.cabinet, drawers=boxes)
    return replace(question.elsewhere(cabinet), catalogue=replace(question.catalogue, cabinets=(cabinet,)))


def unknown_reason(cabinet: Cabinet) -> Reason:
    """That it depends on sizes that are not known, and which these are."""
    boxes = [box for box in cabinet.drawers if box.unknown]
    named = listed([f"{listed(list(box.unknown))} of {box.name}" for box in boxes])
    text = f"it depends on sizes that are not known: {named}; without these drawers no plan was found"
    return Reason("unknown-size", text, drawers=tuple(box.name for box in boxes))


def guessed_reason(cabinet: Cabinet) -> Reason:
    """That a refusal rests on guesses, and on which."""
    boxes = [box for box in cabinet.drawers if box.guessed]
    text = f"this rests on guesses: {listed([told for box in boxes for told in guesses_told(box)])}; measure them first"
    return Reason("guessed-size", text, drawers=tuple(box.name for box in boxes))


def guesses_told(box: Drawer) -> Iterator[str]:
    """Each guess of a drawer with its size, rounded down to 0.1 mm."""
    for name in box.guessed:
        yield f"{name} of {box.name}, {inside_sizes(box)[name] * 10 // PER_MM / 10:g} mm"


def _opened(box: Drawer, guesses: bool) -> Drawer:
    if box.unknown:
        box = replace(box, slot=box.slot_told, unknown=())
    if guesses and box.guessed:
        width, depth, height = (
            LARGEST_INSIDE[name] if name in box.guessed else size for name, size in inside_sizes(box).items()
        )
        box = replace(box, guessed=(), inside_width=width, inside_depth=depth, clear_height=height)
    return box
