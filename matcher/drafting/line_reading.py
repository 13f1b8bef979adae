"""One line of a supplier's list to the tools it means, or to what has to be asked about it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal, TypeAlias

from matcher.drafting.kind_choice import chosen_kind
from matcher.drafting.phrases import Said, said
from matcher.drafting.ranges import OpenError, unusual
from matcher.drafting.sizes_said import SaidSizes, dimensions
from matcher.drafting.tokens import folded, tokens
from matcher.drafting.vocabulary import Vocabulary
from matcher.records import Piece, counted, listed
from matcher.tools import KINDS, SizingError, doubts, parse_size, sized

Sure: TypeAlias = Literal["read", "look", "ask", "not read", "no tool"]
"""How sure a line is: all of it is explained; a person should look; there is a question; no rule knows what it is; it
is a heading, a sum or packaging."""


@dataclass(frozen=True, slots=True)
class ListLine:
    """A line of a list: where it stands and what its columns say. ``heading`` is the last one above it.

    ``count`` is how often it is supplied, ``pieces`` how many tools it says it has. ``unsure`` is what of its row was
    not read.
    """

    sheet: str
    row: int
    set: str
    text: str
    size: str = ""
    drive: str = ""
    count: str = ""
    pieces: str = ""
    heading: str = ""
    unsure: str = ""


@dataclass(frozen=True, slots=True)
class LineReading:
    """What a line was read as. ``notes`` are questions, or what a person should look at."""

    line: ListLine
    sure: Sure
    tools: tuple[Piece, ...] = ()
    notes: tuple[str, ...] = ()
    unknown: int = 0


def read_line(line: ListLine, known: Vocabulary, language: str, commas: bool) -> LineReading:
    """The tools that a line means; where it lacks kind or drive, those of the heading above it are tried, marked."""
    found = _with_heading(line, known, language, commas)
    if not line.unsure or not found.tools:
        return found
    return replace(found, sure="look", notes=(*found.notes, line.unsure))


def _with_heading(line: ListLine, known: Vocabulary, language: str, commas: bool) -> LineReading:
    own = _whole(line, known, language, commas)
    alone = _reading(line, own, known)
    if not line.heading or alone.sure == "no tool":
        return alone
    above = said(line.heading, known, language, commas)
    if alone.tools:
        return _beside_heading(alone, own, above, known)
    joined = replace(
        own,
        traits=own.traits | above.traits,
        roles=own.roles + tuple(role for role in above.roles if role[0] == "drive"),
        flags=own.flags | (above.flags & {"metric", "inch"}),
    )
    helped = _reading(line, joined, known)
    if not helped.tools:
        return alone
    return replace(helped, sure="look", notes=("read with the heading above it", *helped.notes))


def _beside_heading(alone: LineReading, own: Said, above: Said, known: Vocabulary) -> LineReading:
    """A reading that a heading may change: where it says more about the kind, a person should look."""
    more = above.traits - own.traits - known.heads
    try:
        other = chosen_kind(own.traits | more, known)
    except OpenError:
        return alone
    if other == alone.tools[0].kind:
        return alone
    return replace(alone, sure="look", notes=(*alone.notes, f"the heading above says {listed(sorted(more))}: {other}?"))


def _whole(line: ListLine, known: Vocabulary, language: str, commas: bool) -> Said:
    """What the columns of a line say together."""
    own = said(line.text, known, language, commas)
    if line.size:
        sizes = said(line.size, known, language, commas)
        own = replace(
            own,
            traits=own.traits | sizes.traits,
            roles=own.roles + sizes.roles,
            runs=own.runs + sizes.runs,
            flags=own.flags | sizes.flags,
            questions=own.questions + sizes.questions,
            unknown=own.unknown + sizes.unknown,
        )
    drive = [token.figure for token in tokens(folded(line.drive)) if token.figure]
    return replace(own, roles=(*own.roles, *(("drive", figure) for figure in drive)))


def _reading(line: ListLine, own: Said, known: Vocabulary) -> LineReading:
    def answer(sure: Sure, *notes: str) -> LineReading:
        return LineReading(line, sure, (), notes, len(own.unknown))

    if "total" in own.flags and not own.traits:
        return answer("no tool", "a sum")
    if "packaging" in own.flags:
        return answer("ask", "a tool, or its packaging?") if own.traits else answer("no tool", "packaging or paper")
    if own.questions:
        return answer("ask", *dict.fromkeys(own.questions))
    if not own.traits & known.heads:
        return answer("not read", "no word of it names a kind of tool")
    try:
        kind = chosen_kind(own.traits, known)
        advertised = _pieces(line, own)
        found = dimensions(own, kind, advertised, known)
        counts, marks = _counts(line, own, found, advertised)
        tools = tuple(_tools(line, kind, found, counts))
        marks += tuple(_marks(tools, own, known))
    except OpenError as question:
        return answer("ask", str(question))
    marks = (*found.doubts, *marks)
    return LineReading(line, "look" if marks else "read", tools, marks, len(own.unknown))


def _tools(line: ListLine, kind: str, found: SaidSizes, counts: Sequence[int]) -> Iterator[Piece]:
    """The tools, each enough for a row of the table.

    Raises
    ------
    OpenError
        One lacks a column that its kind needs, or has a size that its kind has not.
    """
    for (size, system), count in zip(found.sizes or (("", ""),), counts, strict=True):
        piece = Piece(line.set, "", kind, count, system, size, found.drive, found.length)
        try:
            sized(piece)
        except SizingError as lacking:
            raise OpenError(f"its {lacking.column} is missing or unknown: expected {lacking.expected}") from lacking
        yield replace(piece, tool=tool_name(piece))


def tool_name(piece: Piece) -> str:
    """What a tool is called by its kind, drive and size: ``deep impact socket 1/2 19 mm``."""
    form = KINDS[piece.kind].form
    bare = form == "length" and piece.size.replace(".", "").isdigit()
    unit = {"metric": " mm", "inch": " in"}.get(piece.system, " mm" if bare else "")
    return " ".join(filter(None, (piece.kind, piece.drive, piece.size + unit if piece.size else "")))


# --------------------------------------------------------------------------------------------------------------- counts


def _pieces(line: ListLine, own: Said) -> int | None:
    """How many tools the line says it has, in its words or its column of pieces."""
    told = {figure.whole for figure in own.figures("pieces")} | ({own.pieces} if own.pieces else set())
    if len(told) > 1:
        raise OpenError(f"how many pieces: {' or '.join(sorted(map(str, told)))}?")
    if told:
        return told.pop()
    return _number(line.pieces, "pieces")


def _number(cell: str, what: str) -> int | None:
    if not cell:
        return None
    figures = [token.figure for token in tokens(folded(cell)) if token.figure]
    number = figures[0].whole if len(figures) == 1 else None
    if not number:
        raise OpenError(f"how many {what}: {cell}? expected a whole number")
    return number


def _counts(line: ListLine, own: Said, found: SaidSizes, pieces: int | None) -> tuple[tuple[int, ...], tuple[str, ...]]:
    """How many of each size, and what does not add up.

    Raises
    ------
    OpenError
        A set has no list of sizes, or so many pieces of several sizes can be dealt in more than one way.
    """
    sizes = max(len(found.sizes), 1)
    each = _each(line, own)
    supplied = _number(line.count, "of them") or 1
    if supplied > 1 and sizes > 1 and supplied == (pieces or sizes):
        raise OpenError(f"are there {supplied} pieces in all, or {supplied} of each size?")
    marks = (f"{supplied} of each size?",) if supplied > 1 and sizes > 1 and pieces is None else ()
    if "set" in own.flags and sizes == 1 and pieces != 1:
        raise OpenError("which sizes are in the set?")
    if pieces is None or pieces == sizes:
        return (each,) * sizes, marks
    if sizes == 1:
        if supplied > 1 and pieces > 1:
            raise OpenError(f"are there {pieces} in all, or {supplied} times {pieces}?")
        if not found.sizes and pieces > 1 and "pieces" in dict(own.roles):
            raise OpenError(f"which sizes have the {pieces} pieces?")
        return (each * pieces,), ()
    return (each,) * sizes, (f"{counted(pieces, 'piece')} advertised, {counted(sizes, 'size')} listed",)


def _each(line: ListLine, own: Said) -> int:
    """How often every tool of the line is supplied."""
    told = [figure.whole or 1 for figure in own.figures("count")]
    each = 1
    for number in (*told, _number(line.count, "of them") or 1):
        each *= number
    return each


# ---------------------------------------------------------------------------------------------------------------- marks


def _marks(tools: Sequence[Piece], own: Said, known: Vocabulary) -> Iterator[str]:
    """What a person should look at: words that no rule knows, sizes and lengths that are unusual."""
    if own.unknown:
        yield f"not understood: {', '.join(own.unknown)}"
    ranks = [parse_size(tool.size, tool.system, tool.kind).rank for tool in tools if tool.size]
    if any(one >= after for one, after in pairwise(ranks)) and KINDS[tools[0].kind].form != "text":
        yield "its sizes do not ascend: is each a tool?"
    for tool in tools:
        if tool.size and unusual(tool.size, tool.system, tool.kind, known):
            yield f"{tool.size} is no usual size of this kind"
        yield from doubts(tool)
