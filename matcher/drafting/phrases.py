"""What a line says, phrase by phrase: traits of a kind, figures with what they are, and what no rule knows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from matcher.drafting.tokens import Figure, Token, crossed, folded, tokens, value, with_ranges
from matcher.drafting.vocabulary import Meaning, Traits, Vocabulary, signature

FigureRun: TypeAlias = tuple[Figure, ...]
"""Figures that stand side by side, with nothing but commas or a word such as *and* between them."""
SHORTEST_LENGTH = 40
"""Millimeters above which a number without a unit can be a length; common practice, no source."""
DRIVES = ("drive", "female", "male")
"""Roles of figures that are a square drive."""


@dataclass(frozen=True, slots=True)
class Said:
    """What a line says.

    ``roles`` are figures that words beside them name, e.g. the drive; ``runs`` are all others. ``flags`` are roles of
    the whole line, such as *set*. ``questions`` are what phrases leave open, ``unknown`` the words that no phrase has.
    """

    traits: Traits
    roles: tuple[tuple[str, Figure], ...]
    runs: tuple[FigureRun, ...]
    flags: frozenset[str]
    pieces: int | None
    questions: tuple[str, ...]
    unknown: tuple[str, ...]

    def figures(self, role: str) -> FigureRun:
        """The figures of a role."""
        return tuple(figure for named, figure in self.roles if named == role)


@dataclass(frozen=True, slots=True)
class _Phrase:
    """Tokens that a phrase of the vocabulary covers, or one token that none does."""

    read: tuple[Token, ...]
    meaning: Meaning | None


def said(text: str, vocabulary: Vocabulary, language: str, commas: bool = False) -> Said:
    """What a text says in a language; ``commas`` that its list writes decimals with a comma."""
    known = vocabulary.phrases[language]
    read = tokens(folded(text), commas)
    joined = tuple(crossed(read, lambda at: _is_drive(read, at, known)))
    ranged = with_ranges(joined, _words(known, "range") | {"-"})
    phrases = tuple(_phrases(ranged, vocabulary, language))
    traits: set[str] = set()
    roles: list[tuple[str, Figure]] = []
    flags: set[str] = set()
    pieces: int | None = None
    after_for = False
    for phrase in phrases:
        meaning = phrase.meaning
        if meaning is None:
            after_for = after_for and phrase.read[0].text not in ",;"
            continue
        after_for = after_for or meaning.role == "for"
        named = [(meaning.role, token.figure) for token in phrase.read if token.figure and meaning.role != "size"]
        flags |= {meaning.role} if not named and meaning.role not in ("for", "list", "range", "size") else set()
        pieces = meaning.number or pieces
        roles += named
        if not (after_for and traits & vocabulary.heads and meaning.traits & vocabulary.heads):
            traits |= meaning.traits
    return Said(
        traits=frozenset(traits),
        roles=tuple(roles),
        runs=tuple(_runs(phrases)),
        flags=frozenset(flags - {"", "pieces"}),
        pieces=pieces,
        questions=tuple(phrase.meaning.question for phrase in phrases if phrase.meaning and phrase.meaning.question),
        unknown=tuple(dict.fromkeys(_unknown(phrases))),
    )


def _words(known: object, role: str) -> frozenset[str]:
    """Single words that have a role."""
    assert isinstance(known, dict)
    return frozenset(words[0] for words, meaning in known.items() if meaning.role == role and len(words) == 1)


def _phrases(read: Sequence[Token], vocabulary: Vocabulary, language: str) -> Iterator[_Phrase]:
    """The text cut into the longest phrases, from its beginning."""
    known = vocabulary.phrases[language]
    marks = signature(read)
    at = 0
    while at < len(read):
        longest = range(min(vocabulary.longest, len(read) - at), 0, -1)
        length = next((length for length in longest if _fits(known, marks, read, at, length)), 0)
        yield _Phrase(tuple(read[at : at + max(length, 1)]), known[marks[at : at + length]] if length else None)
        at += max(length, 1)


def _fits(known: object, marks: tuple[str, ...], read: Sequence[Token], at: int, length: int) -> bool:
    """Whether these tokens are a phrase whose figures can be what it says they are."""
    assert isinstance(known, dict)
    meaning = known.get(marks[at : at + length])
    figures = [token.figure for token in read[at : at + length] if token.figure]
    return meaning is not None and all(_can_be(figure, meaning.role) for figure in figures)


def _can_be(figure: Figure, role: str) -> bool:
    """A number of pieces has no unit; a square drive is one number; no tool is as short as a drive is wide."""
    if role in ("pieces", "count"):
        return figure.whole is not None
    if role == "length" and figure.unit in ("", "in"):
        return (value(figure.parts[0]) or 0) > (1 if figure.unit else SHORTEST_LENGTH)
    lettered = figure.parts[0][0].isalpha()
    return role not in DRIVES or (len(figure.parts) == 1 and not lettered and figure.to is None)


def _is_drive(read: Sequence[Token], at: int, known: object) -> bool:
    """Whether words behind a figure say that it is a square drive."""
    assert isinstance(known, dict)
    meanings = (known.get(signature(read[at : at + length])) for length in (2, 3))
    return any(meaning is not None and meaning.role in DRIVES for meaning in meanings)


def _runs(phrases: Sequence[_Phrase]) -> Iterator[FigureRun]:
    """Figures that no phrase names, or one calls a size, side by side.

    A run ends where another word or sign stands between them, and behind a figure with a unit that no comma follows.
    """
    run: list[Figure] = []
    joined = True
    for phrase in phrases:
        sizes = [token.figure for token in phrase.read if token.figure and _is_size(phrase)]
        if sizes:
            if run and (len(phrase.read) > 1 or not joined):
                yield tuple(run)
                run = []
            run += sizes
            joined = not sizes[-1].unit
        elif _joins(phrase):
            joined = True
        else:
            if run:
                yield tuple(run)
            run = []
    if run:
        yield tuple(run)


def _is_size(phrase: _Phrase) -> bool:
    return phrase.meaning is None or phrase.meaning.role == "size"


def _joins(phrase: _Phrase) -> bool:
    """Whether a list goes on behind it."""
    if phrase.meaning is None:
        return phrase.read[0].text in ",;&+/"
    return phrase.meaning.role == "list"


def _unknown(phrases: Sequence[_Phrase]) -> Iterator[str]:
    for phrase in phrases:
        token = phrase.read[0]
        if phrase.meaning is None and token.figure is None and token.text.isalnum():
            yield token.text
