"""Verdicts kept from earlier runs, named by all that they rest on."""

from __future__ import annotations

from collections.abc import Callable
from hashlib import blake2b

from matcher.house import House
from matcher.packing import stopped
from matcher.planning.question import Question
from matcher.records import Group, Verdict, kept_name, program_hash, remembered, store_in_force

ROOMS = ("assignment", "fitting", "house", "layout", "packing", "planning", "records", "tools")
"""The rooms whose code and tables verdicts come from."""
LIBRARIES = ("numpy", "ortools", "shapely")
VERDICTS: dict[bytes, Verdict] = {b"fits": "fits", b"no": "does not fit", b"open": "undecided"}
CODES = {verdict: code for code, verdict in VERDICTS.items()}


def recalled_verdict(what: str, question: Question, made: Callable[[], Verdict]) -> Verdict:
    """The verdict by ``what`` on a question's groups, cabinet, pins and house rules: kept by the store, or ``made``.

    Nothing is kept of questions that name a plan to keep or made organizers, or tools drawn in a file, which may
    change; nor of what a person ended early.
    """
    store = store_in_force()
    if store is None or not _all_told(question):
        return made()
    asked = (repr(question.cabinet), repr(question.pins), _house_in_words(question.house))
    name = kept_name(program_hash(ROOMS, LIBRARIES), what, *asked, *map(_group_in_words, question.groups))
    held = store.read(name)
    if held in VERDICTS:
        return VERDICTS[held]
    verdict = made()
    if not stopped():
        store.write(name, CODES[verdict])
    return verdict


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
