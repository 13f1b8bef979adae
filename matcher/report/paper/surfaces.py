"""What a picture can be drawn on: sheets of a PDF file, or a painting."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol, TypeAlias

Point: TypeAlias = tuple[float, float]
Color: TypeAlias = tuple[int, int, int]


class Surface(Protocol):
    """Lines, shapes and words in millimeters from the top left corner; see `Sheets` for what each does."""

    @property
    def width(self) -> float:
        """Width of the surface."""

    @property
    def height(self) -> float:
        """Height of the surface."""

    def write(
        self,
        x: float,
        y: float,
        text: str,
        size: float = 10,
        *,
        align: str = "L",
        room: float = 0,
        color: Color = ...,
        least: float = 0,
    ) -> None:
        """One line on the baseline ``y``; ``size`` in points."""

    def write_up(self, x: float, y: float, text: str, size: float, *, align: str = "C") -> None:
        """One line that reads from bottom to top through the point."""

    def lines(self, text: str, size: float, room: float) -> list[str]:
        """A text broken into lines no longer than ``room``."""

    def ring(
        self,
        points: Sequence[Point],
        *,
        fill: Color | None = None,
        color: Color = ...,
        pen: float = 0.25,
        dash: float = 0,
    ) -> None:
        """A closed line through points."""

    def box(self, x: float, y: float, width: float, height: float, **look: object) -> None:
        """A rectangle by its top left corner."""

    def line(self, start: Point, end: Point, *, color: Color = ..., pen: float = 0.25, dash: float = 0) -> None:
        """A straight line."""
