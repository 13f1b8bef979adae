"""Which organizer size serves which placement: as is, with a shim, or trimmed once, by the rules of admission.

A ready-made organizer serves wherever admission takes it. New foam is not drawn to be filled up: a filler wider than
`wide_gap_share` of the drawer, which earns a caution, does not count as serving.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import TypeAlias

from matcher.fitting import GoesIn, admit, effort_of, organizer_of
from matcher.house import House
from matcher.layout import curve
from matcher.offer.needs import Need, organizer_content
from matcher.records import Drawer, Footprint, Group, How, Organizer, mm

Ways: TypeAlias = tuple[How | None, ...]
"""How a size gets into the place of each need; ``None`` where it does not."""


@dataclass(frozen=True, slots=True)
class OrganizerSize:
    """An organizer size, ready-made or to be drawn, and the plan or table that each of its figures comes from.

    ``pockets`` is how many tools it has pockets for; 0 where only its outside is known.
    """

    organizer: Organizer
    existing: bool
    width_from: str
    depth_from: str
    pockets_from: str
    pockets: int = 0

    @property
    def shape(self) -> tuple[int, int, int, int, int]:
        """Outside width, depth, height needed, pocket field width and depth."""
        made = self.organizer
        return made.width, made.depth, made.height, made.field_width or made.width, made.field_depth or made.depth


def way_in(size: OrganizerSize, need: Need, house: House) -> How | None:
    """How ``size`` gets into the place of ``need``, or ``None``; a plan's own organizer is already known to go in."""
    if _is_own(size, need):
        return need.placement.how if size.existing else "as is"
    return goes_in(size, need.box, house)


def goes_in(size: OrganizerSize, drawer: Drawer, house: House) -> How | None:
    """How ``size`` gets into a drawer by itself, or ``None``."""
    fit = admit(_group_of(size.organizer), drawer, house)
    if not isinstance(fit, GoesIn) or (not size.existing and _is_wide(fit, drawer, house)):
        return None
    return fit.alone.how


def _is_wide(fit: GoesIn, box: Drawer, house: House) -> bool:
    """Whether a filler strip would be too wide a share of the drawer to draw new foam for it."""
    share = house.clearance.wide_gap_share
    return fit.gap_width > share * box.inside_width or fit.gap_depth > share * box.inside_depth


def ways_of(size: OrganizerSize, needs: Iterable[Need], house: House) -> Ways:
    """How the size gets into the place of each need."""
    return tuple(way_in(size, need, house) for need in needs)


def _is_own(size: OrganizerSize, need: Need) -> bool:
    placement, field = need.placement, need.field
    if size.existing or field is None:
        return size.existing and field is None and need.group.organizer == size.organizer
    return size.shape == (placement.width, placement.depth, field.height, field.width, field.depth)


def _group_of(organizer: Organizer) -> Group:
    """A group that consists of a ready-made organizer; loads were settled by the plan."""
    return Group("", "", 1, "", share=True, split=False, cased=False, pieces=(), organizer=organizer, mass_low=0,
                 mass_high=0, use=None)  # fmt: skip


def existing(needs: Iterable[Need]) -> list[OrganizerSize]:
    """Ready-made organizers of these groups, those on hand first."""
    found = {need.group.organizer: organizer_content(need.group).count for need in needs if need.group.organizer}
    ready = [
        _of_one_source(one, f"organizers, {one.part or one.group} of {one.set}", count, existing=True)
        for one, count in found.items()
    ]
    return sorted(ready, key=lambda size: (not size.organizer.on_hand, size.organizer.set, size.organizer.part))


# ---------------------------------------------------------------------------------------------------- to be drawn


def drawn(own: Sequence[Need], lesser: Sequence[Need], house: House) -> list[OrganizerSize]:
    """Sizes worth drawing for the content of ``own``, to serve those and needs of ``lesser`` content.

    Every plan's own, and the pockets that serve most with each outside the plans ask for. What is outside larger than a
    place is trimmed to it, so with the largest outside the pockets alone decide which places a size serves; of the
    pockets that serve the same places one is enough, and each outside gets its turn.
    """
    pockets, needs = organizer_content(own[0].group).count, (*own, *lesser)
    sizes = [_own_size(need) for need in own if need.field]
    sizes += [
        size
        for covered, field, told in _worthwhile(own, lesser, house)
        for size in _outsides([needs[n] for n in sorted(covered)], field, told, house)
    ]
    return [replace(size, pockets=pockets) for size in sizes]


def _own_size(need: Need) -> OrganizerSize:
    """The plan's own organizer, of no set and no group."""
    return _of_one_source(replace(organizer_of(need.placement, need.group), group=""), need.source)


def _of_one_source(organizer: Organizer, source: str, pockets: int = 0, *, existing: bool = False) -> OrganizerSize:
    return OrganizerSize(organizer, existing, source, source, source, pockets)


def _size(width: int, depth: int, field: Footprint, told: tuple[str, str, str]) -> OrganizerSize:
    organizer = Organizer("", "", width, depth, field.height, field_width=field.width, field_depth=field.depth)
    return OrganizerSize(organizer, False, *told)


def _outsides(needs: Sequence[Need], field: Footprint, told: str, house: House) -> list[OrganizerSize]:
    """The field within every width and depth of these places that leaves it its margin."""
    margins = 2 * house.pocket.margin
    widths = {need.placement.width: need.source for need in reversed(needs)}
    depths = {need.placement.depth: need.source for need in reversed(needs)}
    return [
        _size(width, depth, field, (widths[width], depths[depth], told))
        for width, depth in product(sorted(widths), sorted(depths))
        if field.width + margins <= width and field.depth + margins <= depth
    ]


def _worthwhile(
    own: Sequence[Need], lesser: Sequence[Need], house: House
) -> list[tuple[frozenset[int], Footprint, str]]:
    """Pocket fields with the needs they serve: one for each largest set, a plan's own before the shape curve's."""
    best: dict[frozenset[int], tuple[Footprint, str]] = {}
    for field, told in _fields(own, house).items():
        best.setdefault(_served_by(field, own, lesser, house), (field, told))
    return [(covered, *best[covered]) for covered in sorted(_largest(best), key=sorted)]


def _largest(sets: Iterable[frozenset[int]]) -> list[frozenset[int]]:
    found = [one for one in sets if one]
    return [one for one in found if not any(one < other for other in found)]


def _fields(own: Sequence[Need], house: House) -> dict[Footprint, str]:
    """Pocket fields and where they come from: of the plans, then all of the group's shape curve, lowest first."""
    fields = {field: need.source for need in reversed(own) if (field := need.field)}
    for need in own[:1]:
        points = curve(need.group, house) if need.group.pieces else ()
        for point in sorted(points, key=lambda point: (point.height, point.width * point.depth, point.width)):
            fields.setdefault(point, f"shape curve of {need.group.name}")
    return fields


def _served_by(field: Footprint, own: Sequence[Need], lesser: Sequence[Need], house: House) -> frozenset[int]:
    """Needs that the field serves in the largest outside that any of them asks for, first those of ``own``."""
    margins, needs = 2 * house.pocket.margin, (*own, *lesser)
    width, depth = max(need.placement.width for need in needs), max(need.placement.depth for need in needs)
    theirs = {n for n, need in enumerate(own) if need.field == field}
    if field.width + margins > width or field.depth + margins > depth:
        return frozenset(theirs)
    largest = _size(width, depth, field, ("", "", ""))
    by_box = {need.box: way_in(largest, need, house) is not None for need in needs}
    return frozenset(n for n, need in enumerate(needs) if by_box[need.box] or n in theirs)


def least_foam(size: OrganizerSize) -> tuple[int, int, int, tuple[int, ...]]:
    """What sorts sizes by the foam they take, the last of it for a unique order."""
    width, depth, height, *_ = size.shape
    return width * depth, height, width, size.shape


def foam_of(size: OrganizerSize) -> int:
    """Outside area in square centimeters, rounded up: what breaks ties between sizes of equal work."""
    return -(-size.organizer.width * size.organizer.depth // mm(10) ** 2)


def work_on(ways: Ways) -> int:
    """Work that these ways mean, by the efforts of admission."""
    return sum(effort_of(way) for way in ways if way)
