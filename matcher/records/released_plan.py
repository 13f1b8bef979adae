"""A released plan as its document holds it: organizers with their parts and tools, and drawers as they were."""

from __future__ import annotations

from dataclasses import dataclass, replace

from matcher.records.answered import Placement
from matcher.records.given import Cabinet, Drawer, KeptOrganizer, Organizer, Snapshot, Wishes
from matcher.records.laid_out import SizedPiece
from matcher.records.words import Basis, How, System


@dataclass(frozen=True, slots=True)
class ReleasedTool:
    """Equal tools that an organizer was made for, with the sizes and masses that counted."""

    set: str
    tool: str
    kind: str
    count: int
    system: System
    size: str
    drive: str
    length: int
    width: int
    height: int
    mass_low: int
    mass_high: int
    basis: Basis

    @property
    def known_by(self) -> tuple[str, ...]:
        """What tells it from other tools, whatever its sizes are."""
        return self.set, self.tool, self.kind, self.system, self.size, self.drive


def released_tool(sized: SizedPiece) -> ReleasedTool:
    """A piece as an organizer was made for it."""
    piece = sized.piece
    return ReleasedTool(
        piece.set,
        piece.tool,
        piece.kind,
        piece.count,
        piece.system,
        piece.size,
        piece.drive,
        sized.length,
        sized.width,
        sized.height,
        sized.mass_low,
        sized.mass_high,
        sized.basis,
    )


@dataclass(frozen=True, slots=True)
class ReleasedOrganizer:
    """An organizer of a released plan, or cases, which have no ``row``.

    ``row`` is its row in the table of organizers and ``placement`` how it lies once it is made; ``planned`` is how the
    plan had it. ``new`` says that the release gave it its part, ``instead_of`` the part that its group had.
    """

    placement: Placement
    planned: How
    tools: tuple[ReleasedTool, ...]
    row: Organizer | None = None
    part_of: str = ""
    new: bool = False
    instead_of: str = ""

    @property
    def planned_for(self) -> str:
        """The group, part of one or groups joined that it is for."""
        return self.placement.group

    @property
    def group_meant(self) -> str:
        """The group that it is for, or for a part of."""
        return self.part_of or self.planned_for

    @property
    def tool_count(self) -> int:
        """How many tools it holds."""
        return sum(tool.count for tool in self.tools)


@dataclass(frozen=True, slots=True)
class ReleasedPlan:
    """A plan whose organizers have parts; ``drawers`` are those of its cabinet as they were, ``wishes`` what it was
    asked with, ``snapshot`` what another plan is compared with."""

    snapshot: Snapshot
    drawers: tuple[Drawer, ...]
    organizers: tuple[ReleasedOrganizer, ...]
    wishes: Wishes

    @property
    def cabinet_then(self) -> Cabinet:
        """Its cabinet as it was, as far as its drawers go."""
        return Cabinet(self.snapshot.cabinet, self.drawers)

    @property
    def made_rows(self) -> tuple[KeptOrganizer, ...]:
        """Its organizers as those of a catalogue that count in every cabinet."""
        return tuple(
            KeptOrganizer(
                one.placement.drawer,
                replace(one.row, set="", cabinet="", pieces=one.tool_count, part_of=one.part_of, group=one.planned_for),
                one.placement.left,
                one.placement.front,
                one.tool_count,
                one.part_of,
            )
            for one in self.organizers
            if one.row is not None
        )
