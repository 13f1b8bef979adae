"""Facings: how near the tools of a series come to each other in one stance, worked out once for all patterns."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from matcher.layout.poses import Pose
from matcher.layout.profiles import STRIP, Profile, Reach, Shape, pitch, profile, reach
from matcher.layout.styles import Stance
from matcher.packing import Lengths


class Facing:
    """A *facing*: all tools of a series in one stance, each as it is and turned by 180 degrees, seen along their line.

    ``poses`` has one pose for each tool, ``None`` if it has none in this stance. Lines run from left to right, or from
    front to back if ``upright``. In every method ``turned`` says whether the tool is turned by 180 degrees.
    """

    def __init__(self, poses: Sequence[Pose | None], upright: bool = False) -> None:
        self.poses = tuple(poses)
        self.upright = upright
        self.way: Stance = next(pose.way for pose in poses if pose)
        self._profiles: dict[tuple[int, bool, int], Profile] = {}
        self._reaches: dict[tuple[int, bool, int, int], Reach] = {}
        self._pitches: dict[tuple[int, bool, int, int, bool, int], int] = {}

    def pose(self, n: int, turned: bool) -> Pose | None:
        """The pose of tool number ``n``."""
        return self._both_ends[turned][n]

    @cached_property
    def sizes(self) -> list[tuple[int, int]]:
        """The length of each tool along a line and across it."""
        return [(0, 0) if pose is None else size_of(pose, self.upright) for pose in self.poses]

    @cached_property
    def boxy(self) -> list[bool]:
        """Which tools count as their boxes; see `Pose.boxy`."""
        return [pose is not None and pose.boxy for pose in self.poses]

    @cached_property
    def webs(self) -> Lengths:
        """The web between every two tools."""
        webs: Lengths = np.array([pose.web if pose else 0 for pose in self.poses])
        both: Lengths = np.maximum(webs[:, None], webs)
        return both

    def pitch(self, one: tuple[int, bool, int], other: tuple[int, bool, int]) -> int:
        """How far along the line ``other`` must begin behind the beginning of ``one`` so that they are a web apart.

        Each of the two is given as the tool's number, whether it is turned, and how far across the line its box begins.
        """
        (i, turned, offset), (j, other_turned, other_offset) = one, other
        rest = offset % STRIP
        key = i, turned, rest, j, other_turned, other_offset - offset
        if key not in self._pitches:
            left = self._reach(i, turned, rest, int(self.webs[i, j]))
            self._pitches[key] = pitch(left, self._profile(j, other_turned, rest + other_offset - offset))
        return self._pitches[key]

    def _profile(self, n: int, turned: bool, offset: int) -> Profile:
        strips, rest = divmod(offset, STRIP)
        if (n, turned, rest) not in self._profiles:
            self._profiles[n, turned, rest] = profile(self.shape(n, turned), rest)
        own = self._profiles[n, turned, rest]
        return Profile(own.first + strips, own.left, own.right)

    def _reach(self, n: int, turned: bool, offset: int, web: int) -> Reach:
        if (n, turned, offset, web) not in self._reaches:
            self._reaches[n, turned, offset, web] = reach(self.shape(n, turned), offset, web)
        return self._reaches[n, turned, offset, web]

    def shape(self, n: int, turned: bool) -> Shape:
        """What is cut out for tool number ``n``, as if its line ran from left to right."""
        return self._shapes[turned][n]

    @cached_property
    def _shapes(self) -> tuple[tuple[Shape, ...], ...]:
        return tuple(tuple(shape_of(pose, self.upright) if pose else () for pose in poses) for poses in self._both_ends)

    @cached_property
    def _both_ends(self) -> tuple[tuple[Pose | None, ...], tuple[Pose | None, ...]]:
        return self.poses, tuple(pose.turned if pose else None for pose in self.poses)


def size_of(pose: Pose, upright: bool) -> tuple[int, int]:
    """Length of a pose along a line and across it."""
    return (pose.depth, pose.width) if upright else (pose.width, pose.depth)


def shape_of(pose: Pose, upright: bool) -> Shape:
    """What is cut out for a pose, as if its line ran from left to right."""
    return tuple(tuple((y, x) for x, y in ring) for ring in pose.shape) if upright else pose.shape
