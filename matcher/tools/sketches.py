"""What a drawing of a tool starts from and what it becomes. The axis of a tool is x = 0, its foot y = 0."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from shapely import Polygon

Points: TypeAlias = Sequence[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Sketch:
    """What a drawing starts from, in 1/320 mm."""

    length: float
    width: float
    features: Mapping[str, int]

    def __getitem__(self, name: str) -> float:
        return float(self.features[name])


@dataclass(frozen=True, slots=True)
class ToolDrawing:
    """A tool as drawn: its body, whose holes one looks through, and lines on it, which may overrun its edge.

    ``room`` is what a pocket is cut round if that is more than the body: foam that follows every step holds no better.
    """

    body: Polygon
    lines: tuple[Points, ...] = ()
    room: Polygon | None = None


Silhouette: TypeAlias = Callable[[Sketch], ToolDrawing]
