"""What a plan needs made: one organizer per placement, and the room that its place leaves for another size."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from matcher.fitting import clear_rectangles, opening
from matcher.house import House
from matcher.planning import Fits, content_of
from matcher.records import Drawer, Footprint, Group, Placement, Plan, Rectangle, SizedPiece


@dataclass(frozen=True, slots=True)
class Need:
    """An organizer that a plan puts in a drawer. ``box`` is the room it has there, as a drawer of its own.

    ``second`` tells that the plan is the second one of its pair.
    """

    set: str
    cabinet: str
    group: Group
    placement: Placement
    box: Drawer
    second: bool = False

    @property
    def source(self) -> str:
        """The plan that the figures come from."""
        which = "second plan" if self.second else "plan"
        return f"{which} {self.set} in {self.cabinet}, drawer {self.placement.drawer}"

    @property
    def field(self) -> Footprint | None:
        """Pocket field and height of the plan's own layout; ``None`` where a ready-made organizer goes in."""
        layout = self.placement.layout
        return Footprint(layout.width, layout.depth, self.placement.height) if layout else None


@dataclass(frozen=True, slots=True)
class ToolContent:
    """What an organizer is for: a group's name and tools; ``maker`` is the set of one without tools."""

    name: str
    maker: str
    tools: frozenset[tuple[SizedPiece, int]]

    @property
    def count(self) -> int:
        """How many tools there are."""
        return sum(count for _, count in self.tools)

    def holds(self, other: ToolContent) -> bool:
        """Whether every tool of the other content has its pocket among those for this one."""
        own = dict(self.tools)
        alike = self.name == other.name and self.maker == other.maker
        return alike and all(own.get(tool, 0) >= count for tool, count in other.tools)


def organizer_content(group: Group) -> ToolContent:
    """Equal for groups whose organizers are alike; how rows are counted changes nothing."""
    if not group.pieces:
        return ToolContent(group.name, group.organizer.set if group.organizer else "", frozenset())
    tools: Counter[SizedPiece] = Counter()
    for piece in content_of(group).pieces:
        tools[replace(piece, piece=replace(piece.piece, count=1))] += piece.piece.count
    return ToolContent(group.name, "", frozenset(tools.items()))


def needs_of(outcome: Fits, *, second: bool = False) -> tuple[Need, ...]:
    """Organizers of a plan in the order of its placements; cased equipment needs none."""
    made, house = outcome.plan, outcome.question.house
    groups = {group.name: group for group in made.groups}
    boxes = {drawer.name: _boxes(drawer, _held(made, drawer), house) for drawer in outcome.question.cabinet.drawers}
    return tuple(
        Need(made.set, made.cabinet, groups[one.group], one, boxes[one.drawer][one.group], second)
        for one in made.placements
        if not groups[one.group].cased
    )


def _held(made: Plan, drawer: Drawer) -> list[Placement]:
    return sorted((one for one in made.placements if one.drawer == drawer.name), key=lambda one: (one.left, one.front))


def _boxes(drawer: Drawer, held: Sequence[Placement], house: House) -> dict[str, Drawer]:
    """Room of each placement: the whole drawer for one alone, else what the others leave, first come first served."""
    bare = Drawer("", "", 0, 0, 0, drawer.inside_width, drawer.inside_depth, drawer.clear_height)
    bare = replace(bare, liner=drawer.liner, corner_radius=drawer.corner_radius, slot=drawer.slot)
    if len(held) == 1:
        return {held[0].group: replace(bare, obstructions=drawer.obstructions)}
    side = house.clearance.side
    taken = {one.group: Rectangle(one.left - side, one.front - side, one.width, one.depth) for one in held}
    for group, own in taken.items():
        others = tuple(place for name, place in taken.items() if name != group)
        taken[group] = _grown(own, others, drawer, house)
    return {
        group: replace(bare, inside_width=place.width + 2 * side, inside_depth=place.depth + 2 * side)
        for group, place in taken.items()
    }


def _grown(own: Rectangle, others: tuple[Rectangle, ...], drawer: Drawer, house: House) -> Rectangle:
    """The largest clear rectangle round ``own`` that touches neither the others nor an obstruction."""
    space = opening(drawer, house)
    around = clear_rectangles(replace(space, blocked=(*space.blocked, *others)))
    return next((place for place in around if own.within(place)), own)
