"""The last resort: all pockets anywhere in the field, with no order kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from matcher.house import House
from matcher.layout.blocks import Spot
from matcher.layout.bounds import excluded_by
from matcher.layout.curves import layout_of
from matcher.layout.labels import labelled
from matcher.layout.nesting import nested
from matcher.layout.poses import Pose, Rules, poses, rules_for, sheets
from matcher.packing import Packing, PackStatus, pack
from matcher.records import Group, Layout, Rectangle, Scope

UNPROVED_SHARE = 0.1
"""Share of the work spent on boxes of pockets that are none: failing with them proves nothing."""


@dataclass(frozen=True, slots=True)
class FreeAnswer:
    """Whether the pockets go in without order: ``found`` with a layout, ``excluded`` with a scope, or ``open``.

    ``any layout`` means that no pockets of whatever outline go in, ``house layout`` that the boxes of the pockets do
    not, where the pockets are boxes; what does not go in as boxes but might by its true outlines stays ``open``.
    """

    status: PackStatus
    scope: Scope = ""
    layout: Layout | None = None


def free(
    group: Group, width: int, depth: int, height: int, house: House, blocked: Sequence[Rectangle] = ()
) -> FreeAnswer:
    """Lay the group's pockets out anywhere in a field, turned by 0 or 90 degrees, standing or lying as height allows.

    Parameters
    ----------
    width, depth : the pocket field, margins taken off
    height : the clear height, top clearance taken off
    blocked : (left, front, width, depth) in field coordinates where no pocket may be, margins included
    """
    if excluded_by(group, width, depth, height, house):
        return FreeAnswer("excluded", "any layout")
    answers = []
    for sheet in sheets(group.pieces, rules_for(group, house)):
        answers.append(_in_foam(group, width, depth, height, sheet, house, blocked))
        if answers[-1].status == "found":
            return answers[-1]
    return min(answers, key=lambda answer: answer.status != "open")


def _in_foam(
    group: Group, width: int, depth: int, height: int, sheet: Rules, house: House, blocked: Sequence[Rectangle]
) -> FreeAnswer:
    tools = [n for n, piece in enumerate(group.pieces) for _ in range(piece.piece.count)]
    choices = tuple(tuple(p.alone for p in poses(group.pieces[n], sheet) if p.rise <= height) for n in tools)
    if not tools:
        return FreeAnswer("found", layout=Layout(width, depth, 0, (), ordered=group.cased))
    boxes = all(pose.boxy for poses in choices for pose in poses)
    spots = None if boxes or blocked else nested(choices, width, depth)
    if spots is None:
        work = house.work.free_layout * (1 if boxes else UNPROVED_SHARE)
        status, spots = _spread(_Field(choices, width, depth, tuple(blocked)), work, house.work.seed)
        if status != "found":
            return FreeAnswer("excluded", "house layout") if status == "excluded" and boxes else FreeAnswer("open")
    layout = replace(layout_of(spots, tools, sheet), width=width, depth=depth, ordered=group.cased)
    return FreeAnswer("found", layout=labelled(layout, group.pieces, 0))


@dataclass(frozen=True, slots=True)
class _Field:
    """Room for pockets, each in one of its poses."""

    choices: tuple[tuple[Pose, ...], ...]
    width: int
    depth: int
    blocked: tuple[Rectangle, ...]

    @property
    def webs(self) -> tuple[int, ...]:
        """Webs of all poses, ascending."""
        return tuple(sorted({pose.web for choices in self.choices for pose in choices})) or (0,)

    @property
    def alike(self) -> bool:
        """Whether all webs are equal and no block is narrower than a web: then what is needed also suffices."""
        return len(self.webs) == 1 and all(min(wide, deep) > self.webs[0] for _, _, wide, deep in self.blocked)


@dataclass(frozen=True, slots=True)
class _Growth:
    """How much larger than the pocket its rectangle is, by the pocket's web; the field grows by ``room``.

    Half of it lies on either side. Blocks shrink by ``room``, since a pocket need not keep a web from them.
    """

    of: Callable[[int], int]
    room: int
    blocks: tuple[Rectangle, ...]


def _spread(field: _Field, work: float, seed: int) -> tuple[PackStatus, tuple[Spot, ...]]:
    """Whether the pockets go in, and where: by what is needed, else by what is enough."""
    needed = _needed(field)
    growths = (needed,) if field.alike else (needed, *_enough(field))
    for growth in growths:
        packing = _packed(field, growth, work / len(growths), seed)
        if packing.status == "excluded" and growth is needed:
            return "excluded", ()
        spots = _pushed(field, _spots(field, growth, packing))
        if packing.status == "found" and _sound(field, spots):
            return "found", spots
    return "open", ()


def _needed(field: _Field) -> _Growth:
    """Grown by half its own web all round, every pocket goes in: the wider of two webs is no less than both halves."""
    web = field.webs[-1]
    blocks = [Rectangle(left + web, front + web, wide - web, deep - web) for left, front, wide, deep in field.blocked]
    return _Growth(lambda own: own, web, tuple(block for block in blocks if min(block.width, block.depth) > 0))


def _enough(field: _Field) -> tuple[_Growth, ...]:
    """Two growths that keep every two pockets the wider of their webs apart.

    With own web less half the narrowest, two webs a and b and the narrowest n give a + b - n >= max(a, b). With half
    the widest for all there is no doubt.
    """
    narrowest, widest = field.webs[0], field.webs[-1]
    return (
        _Growth(lambda own: 2 * own - narrowest, narrowest, _shrunk(field.blocked, narrowest)),
        _Growth(lambda _: widest, widest, _shrunk(field.blocked, widest)),
    )


def _shrunk(blocks: Sequence[Rectangle], room: int) -> tuple[Rectangle, ...]:
    """Blocks in the grown field, ``room`` smaller along the axes where they are wider than that, else grown too."""

    def span(start: int, length: int) -> tuple[int, int]:
        return (start + room, length - room) if length > room else (start, length + room)

    spans = [(span(left, wide), span(front, deep)) for left, front, wide, deep in blocks]
    return tuple(Rectangle(x, y, wide, deep) for (x, wide), (y, deep) in spans)


def _packed(field: _Field, growth: _Growth, budget: float, seed: int) -> Packing:
    grown = [
        [(pose.width + growth.of(pose.web), pose.depth + growth.of(pose.web)) for pose in choices]
        for choices in field.choices
    ]
    width, depth = field.width + growth.room, field.depth + growth.room
    return pack(grown, width, depth, growth.blocks, work=budget, seed=seed)


def _spots(field: _Field, growth: _Growth, packing: Packing) -> tuple[Spot, ...]:
    """Pockets in the middle of their grown rectangles."""
    spots = []
    for choices, (choice, x, y) in zip(field.choices, packing.positions, strict=False):
        pose = choices[choice]
        aside = (growth.of(pose.web) - growth.room) // 2
        spots.append(Spot(pose, x + aside, y + aside))
    return tuple(spots)


def _pushed(field: _Field, spots: tuple[Spot, ...]) -> tuple[Spot, ...]:
    """The pockets pushed left and to the front as far as the webs to those on their left and in front allow.

    Every two stay apart along the axis on which they are further apart. What was packed by half webs thereby takes the
    whole ones where there is room.
    """
    boxes = [*map(_box, spots), *field.blocked]
    webs = [*(spot.pose.web for spot in spots), *(None for _ in field.blocked)]
    xs, ys = (_pushed_along(boxes, webs, axis) for axis in (0, 1))
    return tuple(Spot(spot.pose, x, y) for spot, x, y in zip(spots, xs, ys, strict=False))


def _pushed_along(boxes: Sequence[Rectangle], webs: Sequence[int | None], axis: int) -> list[int]:
    """Starts of boxes along an axis; those without a web stay where they are."""
    starts = [box[axis] for box in boxes]
    for n in sorted(range(len(boxes)), key=lambda n: boxes[n][axis]):
        if (own := webs[n]) is not None:
            starts[n] = max(
                (
                    starts[i] + box[axis + 2] + (0 if (web := webs[i]) is None else max(own, web))
                    for i, box in enumerate(boxes)
                    if _precedes(box, boxes[n], axis)
                ),
                default=0,
            )
    return starts


def _precedes(one: Rectangle, other: Rectangle, axis: int) -> bool:
    gaps = _gaps(one, other)
    return one[axis] < other[axis] and (gaps[0] >= gaps[1]) == (axis == 0)


def _sound(field: _Field, spots: Sequence[Spot]) -> bool:
    """Whether all pockets lie in the field, clear of its blocks and their webs apart."""
    inside = all(
        0 <= spot.x <= field.width - spot.pose.width and 0 <= spot.y <= field.depth - spot.pose.depth for spot in spots
    )
    clear = all(_apart(_box(spot), block, 0) for spot in spots for block in field.blocked)
    return (
        inside
        and clear
        and all(
            _apart(_box(one), _box(other), max(one.pose.web, other.pose.web)) for one, other in combinations(spots, 2)
        )
    )


def _box(spot: Spot) -> Rectangle:
    return Rectangle(spot.x, spot.y, spot.pose.width, spot.pose.depth)


def _apart(one: Rectangle, other: Rectangle, web: int) -> bool:
    return max(_gaps(one, other)) >= web


def _gaps(one: Rectangle, other: Rectangle) -> tuple[int, int]:
    """Distances along both axes, below 0 where the rectangles overlap."""
    across = max(other.left - one.right, one.left - other.right)
    return across, max(other.front - one.back, one.front - other.back)
