"""Free layouts: pockets anywhere in the field and in no order. They are the last resort."""

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
from matcher.layout.slants import slanted
from matcher.packing import Packing, PackStatus, pack
from matcher.records import Group, Layout, Rectangle, Scope

UNPROVED_SHARE = 0.1
"""Share of the work spent on packing boxes round pockets that do not fill them: not to find any proves nothing."""


@dataclass(frozen=True, slots=True)
class FreeAnswer:
    """Whether the pockets go in without order: ``found`` with a layout, ``excluded`` with a scope, or ``open``.

    The scope ``any layout`` means that no pockets of whatever outline go in. ``house layout`` means that the pockets
    the house asks for do not, and that all of these fill their boxes. Pockets that do not fill them may go in by their
    true outlines even if their boxes do not; then the status is ``open``.
    """

    status: PackStatus
    scope: Scope = ""
    layout: Layout | None = None


def free(
    group: Group, width: int, depth: int, height: int, house: House, blocked: Sequence[Rectangle] = ()
) -> FreeAnswer:
    """Lay the group's pockets out anywhere in a field, turned by multiples of 90 degrees, standing or lying by height.

    A tool that goes in neither along nor across lies at an angle.

    Parameters
    ----------
    width, depth : the pocket field, margins taken off
    height : the clear height, top clearance taken off
    blocked : rectangles of the field where no pocket may be, with the margin round obstructions included
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
    """The answer for one foam."""
    tools = [n for n, piece in enumerate(group.pieces) for _ in range(piece.piece.count)]
    choices = tuple(_choices(poses(group.pieces[n], sheet), width, depth, height) for n in tools)
    if not tools:
        return FreeAnswer("found", layout=Layout(width, depth, 0, (), ordered=group.cased))
    boxes = all(pose.boxy for poses in choices for pose in poses)
    spots = None if boxes else nested(choices, width, depth, blocked)
    if spots is None:
        work = house.work.free_layout * (1 if boxes else UNPROVED_SHARE)
        status, spots = _spread(_Field(choices, width, depth, tuple(blocked)), work, house.work.seed)
        if status != "found":
            return FreeAnswer("excluded", "house layout") if status == "excluded" and boxes else FreeAnswer("open")
    layout = replace(layout_of(spots, tools, sheet), width=width, depth=depth, ordered=group.cased)
    return FreeAnswer("found", layout=labelled(layout, group.pieces, 0, blocked))


def _choices(known: Sequence[Pose], width: int, depth: int, height: int) -> tuple[Pose, ...]:
    """The poses that a tool may take in a field: square to it if one of them goes in, else also at an angle."""
    low = [pose.alone for pose in known if pose.rise <= height]
    if any(pose.width <= width and pose.depth <= depth for pose in low):
        return tuple(low)
    return (*low, *(turned for pose in low[:1] for turned in slanted(pose, width, depth)))


@dataclass(frozen=True, slots=True)
class _Field:
    """A pocket field, and for each tool that is to lie in it the poses it may take."""

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
        """Whether all webs are equal and blocked rectangles are larger both ways: then what is needed is enough."""
        return len(self.webs) == 1 and all(min(wide, deep) > self.webs[0] for _, _, wide, deep in self.blocked)


@dataclass(frozen=True, slots=True)
class _Growth:
    """How webs are turned into sizes, so that rectangles that do not overlap have their webs between them.

    The box of a pocket with web w grows by ``of(w)`` along both axes, half of it on either side, and the field by
    ``field``. ``blocked`` are the blocked rectangles as they are in the grown field: smaller by as much, since a pocket
    need not keep a web from them.
    """

    of: Callable[[int], int]
    field: int
    blocked: tuple[Rectangle, ...]


def _spread(field: _Field, work: float, seed: int) -> tuple[PackStatus, tuple[Spot, ...]]:
    """Whether the pockets go in, and where: as a growth that is needed says, or else growths that are enough."""
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
    """The growth of every box by half its own web all round.

    Where the pockets go in, their boxes go in grown so, since the wider of two webs is no less than half of each. So
    where the grown boxes do not go in, neither do the pockets.
    """
    web = field.webs[-1]
    less = [Rectangle(left + web, front + web, wide - web, deep - web) for left, front, wide, deep in field.blocked]
    return _Growth(lambda own: own, web, tuple(taken for taken in less if min(taken.width, taken.depth) > 0))


def _enough(field: _Field) -> tuple[_Growth, ...]:
    """Two growths with which every two pockets are at least the wider of their webs apart.

    In the first each box grows all round by its own web less half the narrowest: with webs a and b and the narrowest n,
    two pockets are a + b - n >= max(a, b) apart. In the second all boxes grow by half the widest web.
    """
    narrowest, widest = field.webs[0], field.webs[-1]
    return (
        _Growth(lambda own: 2 * own - narrowest, narrowest, _shrunk(field.blocked, narrowest)),
        _Growth(lambda _: widest, widest, _shrunk(field.blocked, widest)),
    )


def _shrunk(blocked: Sequence[Rectangle], growth: int) -> tuple[Rectangle, ...]:
    """Blocked rectangles as they are in a field grown by ``growth``: smaller by as much along both axes.

    Along an axis along which one is no larger than ``growth``, it becomes larger by as much instead: that is enough.
    """

    def span(start: int, length: int) -> tuple[int, int]:
        return (start + growth, length - growth) if length > growth else (start, length + growth)

    spans = [(span(left, wide), span(front, deep)) for left, front, wide, deep in blocked]
    return tuple(Rectangle(x, y, wide, deep) for (x, wide), (y, deep) in spans)


def _packed(field: _Field, growth: _Growth, budget: float, seed: int) -> Packing:
    grown = [
        [(pose.width + growth.of(pose.web), pose.depth + growth.of(pose.web)) for pose in choices]
        for choices in field.choices
    ]
    width, depth = field.width + growth.field, field.depth + growth.field
    return pack(grown, width, depth, growth.blocked, work=budget, seed=seed)


def _spots(field: _Field, growth: _Growth, packing: Packing) -> tuple[Spot, ...]:
    """The pockets, each in the middle of its grown box; no pockets without positions."""
    spots = []
    for choices, (choice, x, y) in zip(field.choices, packing.positions, strict=False):
        pose = choices[choice]
        aside = (growth.of(pose.web) - growth.field) // 2
        spots.append(Spot(pose, x + aside, y + aside))
    return tuple(spots)


def _pushed(field: _Field, spots: tuple[Spot, ...]) -> tuple[Spot, ...]:
    """The pockets pushed to the left and the front as far as the webs to those on their left and in front allow.

    Every two stay apart along the axis along which they are further apart. Pockets packed with half their webs may so
    get whole webs between them if there is room; `_sound` says whether they did.
    """
    boxes = [*map(_box, spots), *field.blocked]
    webs = [*(spot.pose.web for spot in spots), *(None for _ in field.blocked)]
    xs, ys = (_pushed_along(boxes, webs, axis) for axis in (0, 1))
    return tuple(Spot(spot.pose, x, y) for spot, x, y in zip(spots, xs, ys, strict=False))


def _pushed_along(boxes: Sequence[Rectangle], webs: Sequence[int | None], axis: int) -> list[int]:
    """Where boxes begin along an axis once they are pushed; those without a web are blocked and stay."""
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
    """Whether ``one`` comes before ``other`` along the axis along which the two are further apart."""
    gaps = _gaps(one, other)
    return one[axis] < other[axis] and (gaps[0] >= gaps[1]) == (axis == 0)


def _sound(field: _Field, spots: Sequence[Spot]) -> bool:
    """Whether all pockets lie in the field, clear of what is blocked, and every two the wider of their webs apart."""
    inside = all(
        0 <= spot.x <= field.width - spot.pose.width and 0 <= spot.y <= field.depth - spot.pose.depth for spot in spots
    )
    clear = all(_apart(_box(spot), taken, 0) for spot in spots for taken in field.blocked)
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
    """Distances of two rectangles along both axes, below 0 along an axis along which they overlap."""
    across = max(other.left - one.right, one.left - other.right)
    return across, max(other.front - one.back, one.front - other.back)
