"""What a drawer says of a group: it takes it and how, it does not, or neither is known; how much work a way in is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from matcher.fitting.shortfalls import Shortfall
from matcher.records import HOWS, Footprint, How, Layout, Rectangle


@dataclass(frozen=True, slots=True)
class OutsideSize:
    """One outside size a group may take in a drawer, how, and the least footprint for it if it is laid out."""

    width: int
    depth: int
    height: int
    how_width: How
    how_depth: How
    footprint: Footprint | None = None

    @property
    def how(self) -> How:
        """The worse of the two axes."""
        return max(self.how_width, self.how_depth, key=work_of)


@dataclass(frozen=True, slots=True)
class GoesIn:
    """A drawer takes a group: ``alone`` at ``place``, or in any of ``sizes`` beside others.

    ``place`` is in the coordinates of the drawer's opening. ``layout`` is set only where it takes all of the opening,
    foam cut round what stands in it: where it is unordered, then ``shortfall`` says what an ordered layout lacks, and
    where it is ordered, then its field begins at ``field`` of the place.
    """

    alone: OutsideSize
    place: Rectangle
    sizes: tuple[OutsideSize, ...] = ()
    gap_width: int = 0
    gap_depth: int = 0
    layout: Layout | None = None
    shortfall: Shortfall | None = None
    field: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class StaysOut:
    """A drawer does not take a group, proved within the scope of the shortfall."""

    shortfall: Shortfall


@dataclass(frozen=True, slots=True)
class Open:
    """Neither a layout for this drawer nor a proof that there is none was found."""

    shortfall: Shortfall


Fit: TypeAlias = GoesIn | StaysOut | Open


def work_of(how: How) -> int:
    """Rank of a way in by the work it means; cased equipment means none."""
    return HOWS.index(how) if how in HOWS else 0


def effort_of(how: How) -> int:
    """What a way in costs the goal of least re-cutting; foam that has to be cut anyway costs nothing more."""
    return {"as is": 0, "shim": 1, "trim": 2, "re-cut": 3, "unordered": 4}.get(how, 0)
