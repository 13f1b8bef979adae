"""Courses: ways to lay consecutive tools of a series, as a single row or as a few staggered rows.

*Along* a course is the direction that it runs in, *across* it is the other one.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from matcher.layout.blocks import BlockSize, LineNotch
from matcher.layout.poses import Pose
from matcher.layout.styles import Stance
from matcher.packing import Lengths


@dataclass(frozen=True, slots=True)
class Laid:
    """A tool laid in a line: its pose, turned if need be, and how far along the line and across it its box begins."""

    pose: Pose
    along: int
    across: int


class Course(Protocol):
    """One way to lay any consecutive tools of a series as a line, all of them in the stance ``way``.

    Lines of a course run from left to right, or from front to back if the course is ``upright``. ``poses`` has one pose
    for each tool of the series, ``None`` if it has none in this stance. The tables ``length``, ``depth`` and ``rise``
    have an entry [a, j] for the line from tool a to tool j: its size along and across and how high its tools rise,
    ``FAR`` where such a line is not possible.
    """

    upright: bool
    way: Stance
    poses: list[Pose | None]

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
        """How many of the ``count`` tools of a line follow each other along it: all, or those of one staggered row."""
        ...

    def laid(self, first: int, end: int, room: BlockSize) -> tuple[list[Laid], LineNotch | None]:
        """The line of the tools from ``first`` to before ``end``, spread over a room, and its line notch if it has one.

        ``room`` is the size of the room along and across, into which the line must go. All places are given along and
        across, too, as if the line ran from left to right.
        """
        ...
