"""Verdicts, divisions and assignments kept from earlier runs, named by all that they rest on."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import astuple
from hashlib import blake2b
from typing import Any, TypeVar

from matcher.assignment import Assignment, Bounds, Divided, GoalValue, Status
from matcher.house import House
from matcher.packing import stopped
from matcher.planning.question import Question
from matcher.records import Group, Verdict, kept_name, program_hash, remembered, store_in_force

ROOMS = ("assignment", "fitting", "house", "layout", "packing", "planning", "records", "tools")
"""The rooms whose code and tables answers come from."""
LIBRARIES = ("numpy", "ortools", "shapely")
VERDICTS: tuple[Verdict, ...] = ("fits", "does not fit", "undecided")
STATUSES: tuple[Status, ...] = ("found", "impossible", "open")

R = TypeVar("R")


def recalled_verdict(what: str, question: Question, made: Callable[[], Verdict]) -> Verdict:
    """The verdict by ``what`` on a question's groups, cabinet, pins and house rules: kept by the store, or ``made``."""
    return _recalled(what, question, made, VERDICTS.index, lambda held: VERDICTS[held])


def recalled_division(what: str, question: Question, parts: int, made: Callable[[], Divided]) -> Divided:
    """The division by ``what`` of a question's groups, of so many possible ``parts``: kept, or ``made``."""

    def read(held: Any) -> Divided:
        status, chosen, cost, bound, bounds, rivals = held
        boxes = range(len(question.cabinet.drawers))
        known = tuple((range(parts)[node], boxes[box]) for node, box in chosen)
        others = tuple(tuple(range(parts)[node] for node in rival) for rival in rivals)
        return Divided(STATUSES[status], known, int(cost), int(bound), Bounds(*bounds), others)

    return _recalled(what, question, made, lambda one: (STATUSES.index(one.status), *astuple(one)[1:]), read)


def recalled_assignment(
    what: str, question: Question, groups: Iterable[Group], made: Callable[[], Assignment]
) -> Assignment:
    """The plan by ``what`` of ``groups`` that a question's groups are or fall into: kept by the store, or ``made``."""

    def told(one: Assignment) -> Any:
        status, *rest, unique, _ = astuple(one)
        return STATUSES.index(status), *rest, unique, [(kind, sorted(own)) for kind, own in one.undecided]

    def read(held: Any) -> Assignment:
        status, places, goals, most, fewest, proved, unique, undecided = held
        boxes = range(len(question.cabinet.drawers))
        return Assignment(
            STATUSES[status],
            tuple(boxes[place] for place in places),
            tuple(GoalValue(*goal) for goal in goals),
            most,
            fewest,
            tuple(proved),
            unique,
            tuple((kind, frozenset(own)) for kind, own in undecided),
        )

    return _recalled(f"{what} of {[*map(_group_in_words, groups)]}", question, made, told, read)


def _recalled(
    what: str, question: Question, made: Callable[[], R], told: Callable[[R], Any], read: Callable[[Any], R]
) -> R:
    """An answer, kept as plain numbers that ``told`` takes from it and ``read`` makes it of.

    Nothing is kept of questions that name a plan to keep or made organizers, or tools drawn in a file, which may
    change; nor of what a person ended early.
    """
    store = store_in_force()
    if store is None or not _all_told(question):
        return made()
    asked = (repr(question.cabinet), repr(question.pins), _house_in_words(question.house))
    name = kept_name(program_hash(ROOMS, LIBRARIES), what, *asked, *map(_group_in_words, question.groups))
    held = store.read(name)
    if held is not None:
        with suppress(ValueError, TypeError, LookupError):
            return read(json.loads(held))
    answer = made()
    if not stopped():
        store.write(name, json.dumps(told(answer)).encode())
    return answer


def _all_told(question: Question) -> bool:
    """Whether groups, cabinet, pins and house rules are all that a verdict on the question rests on."""
    drawn = any(piece.piece.outline for group in question.groups for piece in group.pieces)
    return not (drawn or question.keep or question.released or question.catalogue.parts)


@remembered(16)
def _house_in_words(house: House) -> str:
    return repr(house)


@remembered(16384)
def _group_in_words(group: Group) -> str:
    return blake2b(repr(group).encode("utf-8", "surrogatepass"), digest_size=20).hexdigest()
