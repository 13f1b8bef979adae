"""How much room a plan has: what each used drawer must at least measure, what it has beyond that, how full it is."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace

from matcher.fitting import carried, least_trimmed
from matcher.house import House
from matcher.layout import taken_area
from matcher.planning.question import Question
from matcher.records import Drawer, Group, Margin, Placement, Plan


def margins(question: Question, plan: Plan) -> tuple[Margin, ...]:
    """Margins of all used drawers, tightest first: the drawers a buyer must measure first."""
    found = []
    for drawer in question.cabinet.drawers:
        held = [placement for placement in plan.placements if placement.drawer == drawer.name]
        if held:
            found.append(_margin(drawer, held, plan, question.house))
    return tuple(sorted(found, key=lambda margin: (margin.tightest, margin.drawer)))


def _margin(drawer: Drawer, held: list[Placement], plan: Plan, house: House) -> Margin:
    groups = {group.name: group for group in plan.groups}
    right = max(placement.left + _least(placement, groups, house)[0] for placement in held)
    back = max(placement.front + _least(placement, groups, house)[1] for placement in held)
    height = max(placement.height for placement in held) + house.clearance.top + drawer.liner
    if len(held) == 1 and not drawer.obstructions:
        width, depth = _least_inside(drawer, held[0], groups, house)
    else:
        width, depth = right + house.clearance.side, back + house.clearance.side
    load = sum(groups[placement.group].mass_high for placement in held)
    return Margin(
        drawer=drawer.name,
        groups=tuple(placement.group for placement in held),
        least_width=width,
        least_depth=depth,
        least_height=height,
        spare_width=drawer.inside_width - width,
        spare_depth=drawer.inside_depth - depth,
        spare_height=drawer.clear_height - height,
        load=load,
        load_left=None if drawer.load_rating is None else drawer.load_rating - load,
        fill=_fill(drawer, held, groups, house),
    )


def _fill(drawer: Drawer, held: list[Placement], groups: dict[str, Group], house: House) -> float:
    """Share of a drawer's area, less what is built in, under tools and their webs; to a thousandth."""
    room = drawer.inside_width * drawer.inside_depth - sum(block.width * block.depth for block in drawer.obstructions)
    return round(sum(_taken(placement, groups[placement.group], house) for placement in held) / room, 3)


def _taken(placement: Placement, group: Group, house: House) -> int:
    """Area under the tools of an organizer with their webs; where its pockets are not known, under their field."""
    if group.cased:
        return placement.width * placement.depth
    if placement.layout:
        return taken_area(placement.layout, house)
    ready = group.organizer
    width, depth = (ready.field_width, ready.field_depth) if ready else (None, None)
    return (width or placement.width) * (depth or placement.depth)


def _least_inside(drawer: Drawer, placed: Placement, groups: dict[str, Group], house: House) -> tuple[int, int]:
    """Least inside width of a drawer that holds one organizer, and with that width its least inside depth."""
    width, depth = (size + 2 * house.clearance.side for size in _least(placed, groups, house))
    made = groups[placed.group].organizer
    if made is None or placed.layout or drawer.corner_radius <= house.clearance.side:
        return width, depth

    def takes(wide: int, deep: int) -> bool:
        return carried(made, replace(drawer, inside_width=wide, inside_depth=deep), house).how != "re-cut"

    widths, depths = range(width, drawer.inside_width), range(depth, drawer.inside_depth)
    width += bisect_left(widths, True, key=lambda wide: takes(wide, drawer.inside_depth))
    return width, depth + bisect_left(depths, True, key=lambda deep: takes(width, deep))


def _least(placement: Placement, groups: dict[str, Group], house: House) -> tuple[int, int]:
    """Smallest outside the placement may be trimmed to, or foam cut for a drawer laid out in."""
    group = groups[placement.group]
    if placement.layout and not group.cased:
        return placement.width - placement.gap_width, placement.depth - placement.gap_depth
    if group.cased or group.organizer is None:
        return placement.width, placement.depth
    return least_trimmed(group.organizer, house)
