"""Packs rectangles into a rectangle, exactly, and runs CP-SAT models under a work budget.

Reading order, from what is called first to what it stands on: `rectangles`, `search`, `slicing`, `wheels`, `corners`,
`proofs`, `problem`, `solving`, `staircases`.
"""

from matcher.packing.problem import Packing, PackStatus, Position, Size
from matcher.packing.rectangles import pack
from matcher.packing.slicing import MOST, Curves, places, slicing_curves
from matcher.packing.solving import AbandonedError, Solved, Stop, abandon, ending, solve, stoppable, stopped
from matcher.packing.staircases import (
    EMPTY,
    NEVER,
    Lengths,
    Staircase,
    behind,
    beside,
    least_depths,
    merged,
    staircase,
    staircase_of,
    thinned,
)

__all__ = [
    "EMPTY",
    "MOST",
    "NEVER",
    "AbandonedError",
    "Curves",
    "Lengths",
    "PackStatus",
    "Packing",
    "Position",
    "Size",
    "Solved",
    "Staircase",
    "Stop",
    "abandon",
    "behind",
    "beside",
    "ending",
    "least_depths",
    "merged",
    "pack",
    "places",
    "slicing_curves",
    "solve",
    "staircase",
    "staircase_of",
    "stoppable",
    "stopped",
    "thinned",
]
