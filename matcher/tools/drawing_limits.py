"""Limits of a drawing of an outline: copies in copies are counted before they are made, points while they are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from matcher.tools.notation import SizingError

Stroke: TypeAlias = Iterable[tuple[float, float]]
"""The points of a line in mm; made while it is read."""

SAGITTA_MM = 0.02
"""Farthest that a straight piece may lie from the curve it stands for."""
FARTHEST_MM = 1e7
"""Farthest that a drawing may lie from its origin: beyond, coordinates are no longer exact to a millionth of a mm."""
DEEPEST, MOST_PLACED, MOST_POINTS = 100, 20_000, 100_000
"""Levels of groups and blocks in each other, shapes with all their copies, and points, at most; own choice."""


@dataclass(frozen=True, slots=True)
class Holding:
    """What a group or block holds: shapes of its own, and other groups or blocks, each so many times."""

    own: int
    others: Sequence[tuple[str, int]] = ()


def check_placed(root: str, held: Mapping[str, Holding]) -> None:
    """Refuse a drawing that would hold too much: ``root`` is the whole of it, what is not in ``held`` is empty.

    Raises
    ------
    SizingError
        It has more shapes than `MOST_PLACED`, or groups and blocks more than `DEEPEST` deep, such as one in itself.
    """
    placed, _ = _measured(root, held, 0, {})
    if placed > MOST_PLACED:
        raise SizingError("outline", f"a drawing of at most {MOST_PLACED:,} lines and shapes, all copies counted")


def _measured(name: str, held: Mapping[str, Holding], above: int, known: dict[str, tuple[int, int]]) -> tuple[int, int]:
    """How many shapes it has with all copies in place, and how many levels it is deep."""
    placed, levels = known.get(name, (0, 0))
    if name not in known and name in held and above < DEEPEST:
        inside = [(_measured(other, held, above + 1, known), times) for other, times in held[name].others]
        placed = held[name].own + sum(times * count for (count, _), times in inside)
        levels = max((1 + deep for (_, deep), _ in inside), default=0)
        known[name] = placed, levels
    if above + levels >= DEEPEST:
        raise SizingError("outline", f"groups and blocks at most {DEEPEST} deep, and none of them in itself")
    return placed, levels


def within_limits(strokes: Iterable[Stroke]) -> Iterator[list[tuple[float, float]]]:
    """Every line with its points, as long as they are not too many, and each is near enough to be exact.

    Raises
    ------
    SizingError
        There are more than `MOST_POINTS`, one lies beyond `FARTHEST_MM` or nowhere, or a line cannot be drawn.
    """
    points = 0
    try:
        for stroke in strokes:
            line = []
            for x, y in stroke:
                points += 1
                if points > MOST_POINTS:
                    raise SizingError("outline", f"a drawing of at most {MOST_POINTS:,} points, curves included")
                check_near(x, y)
                line.append((x, y))
            yield line
    except SizingError:
        raise
    except Exception:  # a reader draws what its file says, and fails on some of it in ways that nobody has listed
        raise SizingError("outline", "lines that can be drawn; one of this drawing cannot") from None


def check_near(*places: float) -> None:
    """Refuse coordinates in mm that are too far away to be exact, infinite or no numbers."""
    if not all(-FARTHEST_MM <= place <= FARTHEST_MM for place in places):
        raise SizingError("outline", f"a drawing within {FARTHEST_MM / 1e6:.0f} km of its origin")
