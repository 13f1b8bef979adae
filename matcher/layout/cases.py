"""Cases that stand on a drawer's floor: without foam, in no order, with any side to the front."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from matcher.layout.blocks import Block, BlockSize, Room, Spot
from matcher.layout.series import Tools, series
from matcher.packing import EMPTY, MOST, Curves, Staircase, places, slicing_curves, staircase_of


@dataclass(frozen=True, eq=False)
class Cases:
    """A few cases as one block, in all arrangements that straight cuts from side to side take apart."""

    tools: Tools

    @cached_property
    def heights(self) -> tuple[int, ...]:
        """The height of the tallest case."""
        return (max(pose.rise for tool in self.tools for pose in tool),)

    @property
    def webs(self) -> tuple[int, ...]:
        """Cases stand side by side without foam."""
        return (0,)

    def curve(self, height: int, web: int) -> Staircase:
        """See `Block.curve`."""
        return self._curves[self._whole] if height >= self.heights[0] and web >= 0 else EMPTY

    def spots(self, height: int, web: int, size: BlockSize, room: Room) -> list[Spot]:
        """See `Block.spots`; cases are not spread out but stand toward the front left corner of the room."""
        if not self.curve(height, web).holds(*size):
            raise ValueError("the block does not go into this field")
        found = places(self._curves, self._whole, size, (room.x, room.y))
        return [
            Spot(
                next(pose for pose in tool if pose.width <= found[n][1][0] and pose.depth <= found[n][1][1]),
                *found[n][0],
            )
            for n, tool in enumerate(self.tools)
        ]

    @cached_property
    def _curves(self) -> Curves:
        return slicing_curves([staircase_of((pose.width, pose.depth) for pose in tool) for tool in self.tools])

    @cached_property
    def _whole(self) -> frozenset[int]:
        return frozenset(range(len(self.tools)))


def cases(tools: Tools) -> Block:
    """Cases as a block: exact up to three, in side-to-side cuts up to six, and in lines beyond that."""
    return Cases(tools) if len(tools) <= MOST else series(tools)
