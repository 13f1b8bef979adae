"""The best part found of a set that does not go in, and what would turn a refusal: changes that were tried and give a
plan, with the commands that ask for them."""

from __future__ import annotations

from collections.abc import Iterable
from shlex import quote

from matcher.planning import Fits, Outcome, part_of
from matcher.records import PER_MM, TriedChange, Wishes
from matcher.report.drawer_states import NO_ROOM, outside_sentence, part_sentence
from matcher.report.placement_documents import Document, part_shown


def turns_document(outcome: Outcome) -> list[Document]:
    """The changes in words; ``command`` is blank where the catalogue or the house rules have to be changed."""
    turns = () if isinstance(outcome, Fits) else outcome.turns
    return [
        {
            "text": turn.text,
            "command": command_of(outcome, turn),
            "cabinet": turn.cabinet,
            "without": list(turn.without),
        }
        for turn in turns
    ]


def part_document(outcome: Outcome) -> Document | None:
    """The best part found of a set that does not go in, with what stays outside; ``None`` where none was found."""
    part, command = part_of(outcome), part_command(outcome)
    if part is None:
        return None
    return {
        **part_shown(part.answer),
        "outside": [
            {
                "group": one.group.name,
                "whole_group": one.whole,
                "tools": one.tools,
                "pieces": [piece.piece.tool for piece in one.group.pieces],
                "lacks": one.lacks or NO_ROOM,
                "least_m2": square_meters(one.area),
            }
            for one in part.outside
        ],
        "proved": part.proved,
        "in_words": [outside_sentence(part), part_sentence(part)],
        "without": list(part.without),
        "command": command,
    }


def square_meters(area: int) -> float:
    """An area of 1/320 mm squared in square meters."""
    return round(area / PER_MM**2 / 10**6, 3)


def command_of(outcome: Outcome, turn: TriedChange) -> str:
    """The command that plans with a change, the wishes of this run aside; blank where no command does."""
    if not turn.cabinet and not turn.without:
        return ""
    return _command(outcome, turn.cabinet or outcome.cabinet, turn.without)


def part_command(outcome: Outcome) -> str:
    """The command that plans the best part found; blank where none was found."""
    part = part_of(outcome)
    return _command(outcome, outcome.cabinet, part.without) if part else ""


def turn_notes(outcome: Outcome) -> list[str]:
    """A sentence on each change, with its command, for a sheet of paper."""
    told = [(row["text"], row["command"]) for row in turns_document(outcome)]
    return [f"It would fit with {text}{f': {command}' if command else '.'}" for text, command in told]


def _command(outcome: Outcome, cabinet: str, without: Iterable[str]) -> str:
    """What this run left out is left out again; other wishes of it are told by dots."""
    wishes = outcome.run.wishes
    names = dict.fromkeys((*wishes.without, *without))
    more = () if wishes == Wishes(without=wishes.without) else ("...",)
    words = ("matcher", "plan", "CATALOGUE", quote(outcome.set), quote(cabinet))
    return " ".join((*words, *(f"--without {quote(name)}" for name in names), *more))
