"""Nests: tools of the kinds that the house says lie freely by their outlines, the large behind the small.

A *section* of a nest is the tools of one kind, or those of one drive. A nest grows from the back to the front. Each
tool goes as far back as the tools there let it, in the pose in which it reaches least far to the front, near another
tool of its section, and not behind a larger one of its kind. A few sequences of the sections are tried at a few widths;
each found is a layout that exists, and nothing is proved of others. What the trade asks of such kinds, that they lie
together and the large ones at the back, is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from random import Random
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from matcher.layout.blocks import BlockSize, Memo, Room, Spot, heights_of, least_web, recalled_curve
from matcher.layout.poses import Pose
from matcher.layout.profiles import STRIP, profile, reach
from matcher.packing import Lengths, Staircase, staircase_of
from matcher.records import remembered

COARSE = 6
"""So many strips of `matcher.layout.profiles` count as one here: tools begin at multiples of 3 mm from the left."""
STEP = COARSE * STRIP
AT_ONCE = 64
"""So many places are looked at together for whether they are near another tool."""
BEYOND = 1 << 28
"""Further than anything, and still small enough to be added up."""
Steps: TypeAlias = NDArray[np.int32]
"""Lengths in 1/320 mm, one for each step from left to right."""
NestSection: TypeAlias = tuple[tuple[int, tuple[int, ...]], ...]
"""The tools of a section in the sequence in which they are laid: a number for the kind, and the tools of one size.

Those of a kind come from the largest on.
"""


@dataclass(frozen=True, slots=True)
class NestSearch:
    """How long a nest is looked for.

    At most so many ``widths`` are searched, each ``ratio`` times the one before, and at each so many ``sequences`` of
    the sections more than the first, each a change of the best one so far. What a place is judged by is how far back a
    tool begins, and a share of its own depth; each of ``shares`` is tried first. Between two widths the best sequence
    is taken as it is at so many widths ``more``.
    """

    widths: int
    ratio: float
    sequences: int
    shares: tuple[float, ...]
    more: int


THOROUGH = NestSearch(40, 1.05, 12, (1.0, 0.5, 0.0), 1)
QUICK = NestSearch(20, 1.12, 2, (1.0, 0.5), 0)


@dataclass(frozen=True, eq=False)
class _Outline:
    """A pose seen from above, in steps from left to right: how near to the back it begins, and how far it keeps others.

    ``low`` is where it begins in each step; ``high`` how far it and a web round it reach, from step ``first`` on.
    ``pocket`` is the rectangle round its pocket alone: left, near end, right and far end.
    """

    pose: Pose
    low: Steps
    first: int
    high: Steps
    pocket: tuple[int, int, int, int]


@dataclass(frozen=True, slots=True)
class _NestFound:
    """A nest found: its size, and for each tool its pose and where that begins from the right and from the back."""

    width: int
    depth: int
    places: tuple[tuple[Pose, int, int], ...]


@dataclass(frozen=True, eq=False)
class KindNest:
    """Tools in one nest, a block of an organizer; ``near`` is how far one lies at most from another of its section."""

    tools: tuple[tuple[Pose, ...], ...]
    sections: tuple[NestSection, ...]
    near: int
    search: NestSearch
    memo: Memo = field(default_factory=dict)
    known: dict[int, tuple[_NestFound, ...]] = field(default_factory=dict)

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """See `Block.heights`."""
        return heights_of(self.tools)

    @property
    def webs(self) -> tuple[int, ...]:
        """See `Block.webs`: the widest of all is kept between any two."""
        return (max(pose.web for tool in self.tools for pose in tool),)

    def curve(self, height: int, web: int) -> Staircase:
        """See `Block.curve`."""
        return recalled_curve(self.memo, self, height, web, self._curve_at)

    def spots(self, height: int, web: int, size: BlockSize, room: Room) -> list[Spot]:
        """See `Block.spots`; the nest lies in the middle of the room, no wider spread than it is."""
        least_web(self, height, web, size)
        for level in (level for level in self.heights[::-1] if level <= height):
            for nest in self._found(level):
                if nest.width <= size[0] and nest.depth <= size[1]:
                    return list(_placed(nest, room))
        raise ValueError("the block does not go into this field")

    def _curve_at(self, height: int, _gap: int) -> Staircase:
        return staircase_of((nest.width, nest.depth) for nest in self._found(height))

    def _found(self, height: int) -> tuple[_NestFound, ...]:
        """The nests found in which nothing rises above ``height``, the smallest first."""
        if height not in self.known:
            outlines = [self._outlines(tool, height) for tool in self.tools]
            found = sorted(
                _searched(outlines, self.sections, self.near, self.search), key=lambda nest: nest.width * nest.depth
            )
            self.known[height] = tuple(found)
        return self.known[height]

    def _outlines(self, tool: Sequence[Pose], height: int) -> tuple[_Outline, ...]:
        """The outlines that a tool may have, each end foremost."""
        turns = dict.fromkeys(turn for pose in tool if pose.rise <= height for turn in (pose, pose.turned))
        return tuple(_outline(turn, self.webs[0]) for turn in turns)


def nest(
    tools: tuple[tuple[Pose, ...], ...], sections: tuple[NestSection, ...], near: int, *, thorough: bool
) -> KindNest:
    """The nest of these tools; equal ones share what was worked out. Each tool that needs a notch has one of its own.

    Parameters
    ----------
    tools : the poses of each tool
    sections : the numbers of their tools
    near : how far a tool lies at most from another one of its section, in 1/320 mm
    thorough : whether to look for long
    """
    return _nest(
        tuple(tuple(pose.alone for pose in tool) for tool in tools), sections, near, THOROUGH if thorough else QUICK
    )


@remembered(2048)
def _nest(
    tools: tuple[tuple[Pose, ...], ...], sections: tuple[NestSection, ...], near: int, search: NestSearch
) -> KindNest:
    return KindNest(tools, sections, near, search)


@remembered(16384)
def _outline(pose: Pose, web: int) -> _Outline:
    swapped = tuple(tuple((y, x) for x, y in ring) for ring in pose.shape)
    own = profile(swapped, 0)
    begin, low = _coarse(own.first, -own.left)
    first, high = _coarse(*reach(swapped, 0, web))
    xs, ys = zip(*pose.pocket, strict=True)
    padded = np.concatenate((np.full(begin, BEYOND, dtype=np.int32), -low))
    return _Outline(pose, padded, first, high, (min(xs), min(ys), max(xs), max(ys)))


def _coarse(first: int, values: Lengths) -> tuple[int, Steps]:
    """The greatest value in each step, and the number of the first step, of values from strip number ``first`` on."""
    begin = first // COARSE
    before = first - begin * COARSE
    after = -(before + len(values)) % COARSE
    padded = np.pad(np.maximum(values, -BEYOND), (before, after), constant_values=-BEYOND)
    return begin, padded.reshape(-1, COARSE).max(axis=1).astype(np.int32)


def _searched(
    outlines: Sequence[tuple[_Outline, ...]], sections: tuple[NestSection, ...], near: int, search: NestSearch
) -> Iterator[_NestFound]:
    """The best nest at each of a few widths; the sequence of sections is bettered from one width to the next."""

    def largest(section: NestSection) -> int:
        return max(_area(outlines[tool][0]) for _, size in section for tool in size)

    draws = Random(len(outlines))
    best, best_share = tuple(sorted(sections, key=largest, reverse=True)), search.shares[0]
    for number, width in enumerate(_widths(outlines, search)):
        if number % (search.more + 1):
            yield from _grown(outlines, best, width, near, best_share)
            continue
        grown = [(ground, share) for share in search.shares for ground in _grown(outlines, best, width, near, share)]
        if not grown:
            continue
        found, best_share = min(grown, key=lambda one: one[0].depth)
        for _ in range(search.sequences if len(sections) > 1 else 0):
            varied = _varied(best, draws)
            for nested in _grown(outlines, varied, width, near, best_share):
                if nested.depth <= found.depth:
                    found, best = nested, varied
        yield found


def _area(outline: _Outline) -> int:
    return outline.pose.width * outline.pose.depth


def _varied(sequence: tuple[NestSection, ...], draws: Random) -> tuple[NestSection, ...]:
    """The sequence with one section at another place."""
    varied = list(sequence)
    section = varied.pop(int(draws.random() * len(varied)))
    varied.insert(int(draws.random() * (len(varied) + 1)), section)
    return tuple(varied)


def _widths(outlines: Sequence[tuple[_Outline, ...]], search: NestSearch) -> list[int]:
    """Widths to try: from what the widest tool needs to about what all need in one row, and those between."""
    sides = [min(one.pose.width for one in own) for own in outlines]
    area = sum(_area(own[0]) for own in outlines)
    least, most = max(sides), max(*sides, area // max(min(own[0].pose.width, own[0].pose.depth) for own in outlines))
    count = min(search.widths, 1 + int(np.ceil(np.log(most / least) / np.log(search.ratio))))
    return [int(width) for width in np.geomspace(least, most, (count - 1) * (search.more + 1) + 1)]


def _grown(
    outlines: Sequence[tuple[_Outline, ...]], sequence: tuple[NestSection, ...], width: int, near: int, greed: float
) -> Iterator[_NestFound]:
    """The nest of this width with the sections in this sequence, if all tools find a place."""
    ground = _Ground(width, near, greed)
    if all(ground.takes(section, outlines) for section in sequence):
        yield ground.nested(len(outlines))


class _Ground:
    """What lies in a nest so far; tools are seen from the back, so that less is further back."""

    def __init__(self, width: int, near: int, greed: float) -> None:
        self.width, self.near, self.greed = width, near, greed
        self.taken: Steps = np.zeros(width // STEP + 2, dtype=np.int32)
        self.places: dict[int, tuple[Pose, int, int]] = {}

    def takes(self, section: NestSection, outlines: Sequence[tuple[_Outline, ...]]) -> bool:
        """Whether all tools of a section find a place; then they lie there."""
        boxes: list[tuple[int, int, int, int]] = []
        larger: dict[int, int] = {}
        for kind, size in section:
            middles = [larger.get(kind, 0)]
            for tool in size:
                box = self._put(tool, outlines[tool], boxes, middles[0])
                if box is None:
                    return False
                boxes.append(box)
                middles.append(box[1] + box[3])
            larger[kind] = max(middles)
        return True

    def _put(
        self, tool: int, choices: Sequence[_Outline], boxes: Sequence[tuple[int, int, int, int]], larger: int
    ) -> tuple[int, int, int, int] | None:
        """The rectangle round a tool's pocket at its place, with its middle no further back than half ``larger``."""
        known = np.array(boxes, dtype=np.int64)
        found = [(*place, number) for number, one in enumerate(choices) for place in self._best(one, known, larger)]
        if not found:
            return None
        _, step, back, number = min(found)
        one = choices[number]
        begin, end = max(step + one.first, 0), min(step + one.first + len(one.high), len(self.taken))
        reached = back + one.high[begin - step - one.first : end - step - one.first]
        np.maximum(self.taken[begin:end], reached, out=self.taken[begin:end])
        self.places[tool] = one.pose, step * STEP, back
        left, low, right, high = one.pocket
        return step * STEP + left, back + low, step * STEP + right, back + high

    def _best(self, one: _Outline, boxes: Lengths, larger: int) -> Iterator[tuple[float, int, int]]:
        """How good the best place of an outline is (less is better), at which step it is, and how far from the back."""
        places = min((self.width - one.pose.width) // STEP + 1, len(self.taken) - len(one.low) + 1)
        if places <= 0:
            return
        ground: Steps = np.ndarray((places, len(one.low)), np.int32, self.taken, strides=(4, 4))
        _, low, _, high = one.pocket
        back = np.maximum((ground - one.low).max(axis=1), max(0, -(-(larger - low - high) // 2)))
        step = self._first_near(one, back, boxes) if len(boxes) else int(back.argmin())
        if step is not None:
            yield int(back[step]) + self.greed * one.pose.depth, step, int(back[step])

    def _first_near(self, one: _Outline, back: Steps, boxes: Lengths) -> int | None:
        """Of the steps at which an outline so far back is near a box, by the box round its pocket, the furthest back.

        Boxes have a row each: left, far, right and near end.
        """
        left, low, right, high = one.pocket
        x0, y0, x1, y1 = boxes.T[:, :, None]
        furthest = back.argsort(kind="stable")
        for begin in range(0, len(back), AT_ONCE):
            steps = furthest[begin : begin + AT_ONCE]
            x, y = steps * STEP, back[steps].astype(np.int64)
            aside = np.maximum(np.maximum(x0 - right - x, x + (left - x1)), 0)
            away = np.maximum(np.maximum(y0 - high - y, y + (low - y1)), 0)
            near = (aside * aside + away * away <= self.near * self.near).any(axis=0)
            if near.any():
                return int(steps[near.argmax()])
        return None

    def nested(self, count: int) -> _NestFound:
        """What was found, as small as it is."""
        width = max(x + pose.width for pose, x, _ in self.places.values())
        depth = max(y + pose.depth for pose, _, y in self.places.values())
        return _NestFound(width, depth, tuple(self.places[tool] for tool in range(count)))


def _placed(found: _NestFound, room: Room) -> Iterator[Spot]:
    """The spots of a nest in the middle of a room, turned round so that it grows from the back."""
    aside, front = room.x + (room.width - found.width) // 2, room.y + (room.depth - found.depth) // 2
    for pose, x, y in found.places:
        yield Spot(pose.turned, aside + found.width - x - pose.width, front + found.depth - y - pose.depth)
