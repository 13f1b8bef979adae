"""What every arrangement of consecutive tools of a series answers: a single line, or some rows together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from matcher.layout.blocks import BlockSize, LineNotch
from matcher.layout.poses import Pose
from matcher.layout.styles import Stance
from matcher.packing import Lengths


@dataclass(frozen=True, slots=True)
class Laid:
    """A tool in its course: pose as turned, and how far along the course and across it its box begins."""

    pose: Pose
    along: int
    across: int


class Course(Protocol):
    """Consecutive tools of a series laid together, from every first tool a to every last tool j, all of them one way.

    A course runs from left to right, or from front to back if ``upright``. ``length[a, j]`` and ``depth[a, j]`` are its
    size along and across, ``rise[a, j]`` its height; ``FAR`` where there is none.
    """

    upright: bool
    way: Stance
    row: list[Pose | None]

    @property
    def length(self) -> Lengths:
        """See the class."""
        ...

    @property
    def depth(self) -> Lengths:
        """See the class."""
        ...

    @property
    def rise(self) -> Lengths:
        """See the class."""
        ...

    def abreast(self, count: int) -> int:
        """How many of so many tools lie one behind another along the course."""
        ...

    def laid(self, first: int, end: int, room: BlockSize) -> tuple[list[Laid], LineNotch | None]:
        """Tools from ``first`` to before ``end``, spread over a ``room`` along and across that they go into, and the
        notch through them, in distances along and across too."""
        ...
