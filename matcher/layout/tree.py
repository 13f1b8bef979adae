"""The order that the trade gives an organizer, as a tree of blocks (R16).

Inch tools lie on the left and metric ones on the right, or the other way round if the house says so, each in a *half*;
tools of neither system lie in front over the full width, or where that is smaller between the halves. Within a half
the drives come from the outside in, outermost the largest or, if the house says so, the smallest, innermost what has no
drive; if there is only one half, the left is the outside. Within a drive the series come in the order of the kinds, and
within a series the sizes ascend. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from heapq import merge
from itertools import groupby, pairwise
from math import inf

from matcher.house import SideRules
from matcher.layout.bands import Bands
from matcher.layout.blocks import Block
from matcher.layout.cases import cases
from matcher.layout.drives import DriveTools, in_rows
from matcher.layout.kind_nests import NestSection, nest
from matcher.layout.poses import Rules, poses
from matcher.layout.rows import Beside, BlockRows, Either
from matcher.layout.series import Series, Tools, series
from matcher.records import SizedPiece, remembered
from matcher.tools import KINDS, parse_drive

FEWEST = 3
"""Fewer tools lie in lines, never in a nest."""
_KIND_ORDER = {word: index for index, word in enumerate(KINDS)}


@dataclass(frozen=True, eq=False)
class OrganizerTree:
    """A group's tools as one block, and for each tool, in reading order, the index of its piece in the group."""

    block: Block
    pieces: tuple[int, ...]


@remembered(512)
def organizer(pieces: tuple[SizedPiece, ...], rules: Rules) -> OrganizerTree:
    """The tree of the tools of ``pieces``, of each piece as many as its count says.

    Raises
    ------
    ValueError
        There are no pieces.
    """
    if not pieces:
        raise ValueError("a group without pieces has no layout")
    tools = [n for n in reading_order(pieces, rules.sides) for _ in range(pieces[n].piece.count)]
    tree = _Tree(pieces, rules)
    block = cases(tree.poses_of(tools)) if rules.cased else tree.whole(tools)
    return OrganizerTree(block, tuple(tools))


def reading_order(pieces: Sequence[SizedPiece], sides: SideRules) -> list[int]:
    """Indices of the pieces in *reading order*: halves and drives from left to right, then series, then sizes."""
    _, left, right = sides.systems
    mirrored = right if {left, right} <= {piece.piece.system for piece in pieces} else None

    def place(n: int) -> tuple[object, ...]:
        piece, system = pieces[n].piece, pieces[n].piece.system
        inward = _inward(_drive(pieces[n]), sides)
        drive = -inward if system == mirrored else inward
        return sides.systems.index(system), drive, _KIND_ORDER[piece.kind], pieces[n].rank, piece.tool, n

    return sorted(range(len(pieces)), key=place)


def series_of(pieces: Sequence[SizedPiece], sides: SideRules) -> list[list[int]]:
    """Indices of the pieces in reading order, series by series."""
    order = reading_order(pieces, sides)
    return _runs(order, lambda n: (pieces[n].piece.system, _drive(pieces[n]), pieces[n].piece.kind))


class _Tree:
    """Builds the blocks from the innermost outwards; the tools come in reading order."""

    def __init__(self, pieces: Sequence[SizedPiece], rules: Rules) -> None:
        self.pieces = pieces
        self.rules = rules

    def whole(self, tools: list[int]) -> Block:
        """All tools: those of neither system in front, the halves behind them.

        The style may let those of neither system lie between the halves, or right of the only one.
        """
        parts = [self._half(half) for half in _runs(tools, lambda n: self.pieces[n].piece.system)]
        plain = self.pieces[tools[0]].piece.system == ""
        front, halves = (parts[:1], parts[1:]) if plain else ([], parts)
        rows = [*front, *([_beside(halves)] if halves else [])]
        if len(rows) == 1:
            return rows[0]
        in_front = BlockRows(tuple(rows), (False,) * len(rows))
        if not self.rules.style.between:
            return in_front
        read = (1, 0, 2)[: len(parts)]
        return Either((in_front, Beside(tuple(parts[n] for n in read), read)))

    def _half(self, tools: list[int]) -> Block:
        """The drives of a half side by side, or in two bands, or in a nest if the style allows it and that is smaller.

        They may lie in one nest if all their kinds may.
        """
        runs = _runs(tools, lambda n: _drive(self.pieces[n]))
        drives = [self._drive(run) for run in runs]
        ways: list[Block] = [_beside([drive.whole for drive in drives])]
        if self.rules.style.banded and len(drives) > 1:
            sides = self.rules.sides
            outermost = min(range(len(runs)), key=lambda n: _inward(_drive(self.pieces[runs[n][0]]), sides))
            cut = tuple(drive.column(len(drives)) for drive in drives)
            ways.append(Bands(cut, outermost, framed=self.pieces[tools[0]].piece.system != ""))
        driven = any(self.pieces[n].piece.drive for n in tools)
        if self.rules.style.nested and driven and len(tools) >= FEWEST and all(map(self._may_nest, tools)):
            ways.append(self._nest(tools))
        return ways[0] if len(ways) == 1 else Either(tuple(ways))

    def _drive(self, tools: list[int]) -> DriveTools:
        """The series of a drive from front to back.

        Neighboring series of long tools may also lie side by side, or be taken together as one series. If the style
        has nests, neighboring series of the kinds that may lie in nests may lie in one.
        """
        runs = _runs(tools, self._kind)
        shared = self._may_share(runs)
        nested = self._nested(tools) if self.rules.style.nested else ()
        apart = tuple((self._series(run), may_share) for run, may_share in zip(runs, shared, strict=True))
        if not any(shared):
            return DriveTools((apart,), nested)
        together: list[list[int]] = []
        for run, may_share in zip(runs, shared, strict=True):
            together = [*together[:-1], together[-1] + run] if may_share else [*together, run]
        return DriveTools((apart, tuple((self._series(run), False) for run in together)), nested)

    def _nested(self, tools: list[int]) -> tuple[Block, ...]:
        """The tools of a drive with what may lie in nests in them; nothing if there is nothing such."""
        parts = [(len(run) >= FEWEST and self._is_loose(run[0]), run) for run in _runs(tools, self._is_loose)]
        if not any(nests for nests, _ in parts):
            return ()
        runs = [(nests, part) for nests, run in parts for part in ([run] if nests else _runs(run, self._kind))]
        blocks = (self._nest(run) if nests else self._series(run) for nests, run in runs)
        return (in_rows(list(zip(blocks, self._may_share([run for _, run in runs]), strict=True))),)

    def _may_nest(self, n: int) -> bool:
        return self._kind(n) in self.rules.nests

    def _is_loose(self, n: int) -> bool:
        return self._may_nest(n) and not self.pieces[n].piece.drive

    def _nest(self, tools: list[int]) -> Block:
        """A nest with a section for each drive, and for each kind without one."""
        sections: dict[object, dict[str, list[tuple[int, tuple[int, ...]]]]] = {}
        for n, run in groupby(enumerate(tools), lambda placed: placed[1]):
            kinds = sections.setdefault(_drive(self.pieces[n]) or self._kind(n), {})
            kinds.setdefault(self._kind(n), []).append((n, tuple(place for place, _ in run)))
        laid = tuple(self._section(list(kinds.values())) for kinds in sections.values())
        thorough = self.rules.style.nested == "thorough"
        return nest(self.poses_of(tools), laid, self.rules.notch.width, thorough=thorough)

    def _section(self, kinds: Sequence[list[tuple[int, tuple[int, ...]]]]) -> NestSection:
        """The tools of some kinds, of each kind the largest first, and of two that may come next the longer."""
        numbered = [[(n, kind, places) for n, places in reversed(sizes)] for kind, sizes in enumerate(kinds)]
        merged = merge(*numbered, key=lambda size: -self.pieces[size[0]].length)
        return tuple((kind, places) for _, kind, places in merged)

    def _may_share(self, runs: Sequence[list[int]]) -> tuple[bool, ...]:
        """Whether each run of tools may lie in the same row as the one before: where both are long tools."""
        kinds = [self._kind(run[0]) for run in runs]
        return False, *(not (_is_socket(one) or _is_socket(other)) for one, other in pairwise(kinds))

    def _kind(self, n: int) -> str:
        return self.pieces[n].piece.kind

    def _series(self, tools: list[int]) -> Series:
        return series(self.poses_of(tools), replace(self.rules.style, banded=False, nested="", between=False))

    def poses_of(self, tools: list[int]) -> Tools:
        """The poses of every tool."""
        return tuple(poses(self.pieces[n], self.rules) for n in tools)


def _beside(parts: list[Block]) -> Block:
    return parts[0] if len(parts) == 1 else Beside(tuple(parts))


def _runs(tools: Iterable[int], key: Callable[[int], object]) -> list[list[int]]:
    return [list(run) for _, run in groupby(tools, key)]


def _drive(piece: SizedPiece) -> int:
    return parse_drive(piece.piece.drive) if piece.piece.drive else 0


def _inward(drive: int, sides: SideRules) -> float:
    """What grows from the outside in; greatest for tools without a drive."""
    if drive == 0:
        return inf
    return -drive if sides.outermost == "largest" else drive


def _is_socket(kind: str) -> bool:
    return kind.split()[-1] == "socket"
