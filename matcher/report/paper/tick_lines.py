"""The pieces of a drawer as series: tools of one kind, drive and system in one line, each with its size."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from matcher.records import Group, Piece, plural

UNNAMED = ("other", "cased")
"""Kinds that are no nouns: their tools go by their own names."""


@dataclass(frozen=True, slots=True)
class TickLine:
    """A line of a tick list: ``name`` is blank where the items name their tools themselves.

    ``tools`` are the full names of the items' tools; none for an organizer without a list.
    """

    name: str
    items: tuple[str, ...]
    tools: tuple[str, ...] = ()


def tick_lines_of(group: Group) -> Iterator[TickLine]:
    """All pieces of a group, each once: by kind, drive and system, sizes ascending."""
    rows: dict[tuple[str, str, str], list[Piece]] = {}
    for sized in sorted(group.pieces, key=lambda sized: sized.listed):
        piece = sized.piece
        kind = "" if piece.kind in UNNAMED else piece.kind
        rows.setdefault((kind, piece.drive if kind and piece.size else "", piece.system if kind else ""), []).append(
            piece
        )
    for (kind, drive, system), pieces in rows.items():
        name = ", ".join(filter(None, (f"{plural(kind, 2)} {drive}".strip(), system))) if kind else ""
        yield TickLine(name, tuple(_items(pieces, kind, drive)), tuple(piece.tool for piece in pieces))
    if not group.pieces:
        yield TickLine("", ("organizer with its tools",))


def _items(pieces: Sequence[Piece], kind: str, drive: str) -> Iterator[str]:
    """Each piece by what tells it from the others of its series; by its whole name where that does not."""
    told = [_item(piece, kind, drive) for piece in pieces]
    for piece, words in zip(pieces, told, strict=True):
        shown = words if told.count(words) == 1 else piece.tool
        yield shown if piece.count == 1 else f"{piece.count} x {shown}"


def _item(piece: Piece, kind: str, drive: str) -> str:
    """The size where kind and system say its unit, else the name without the kind and drive that it begins with."""
    if kind and piece.system and piece.size:
        return piece.size
    rest = piece.tool.removeprefix(kind).strip()
    return rest.removeprefix(drive).strip() or piece.mark


def numbers_of(groups: Iterable[Group]) -> dict[str, int]:
    """A number for every tool of a drawer by its name, in the order of the list."""
    tools = (tool for group in groups for line in tick_lines_of(group) for tool in line.tools)
    return {tool: number for number, tool in enumerate(dict.fromkeys(tools), 1)}
