"""What one bundle of an offer comes down to: each organizer with its size, its work, its foam and its minutes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from matcher.cutting import BlankAmount, amounts
from matcher.offer.bundles import Bundle
from matcher.offer.choosing import Posed, SizeUse
from matcher.planning import Fits


@dataclass(frozen=True, slots=True)
class TracedOrganizer:
    """One organizer of a bundle. ``use`` is ``None`` where the bundle is not offered, ``name`` that of a new size.

    ``area`` is what is cut for it, by the outside of its size, 0 where an existing one goes in; ``cost`` what foam of
    that area costs, ``minutes`` those of the plan's own layout at the machine, ``None`` where they are not known.
    """

    group: str
    drawer: str
    name: str
    use: SizeUse | None
    area: int
    cost: float | None
    minutes: float | None


@dataclass(frozen=True, slots=True)
class BundleTrace:
    """A bundle's organizers one by one; sums are of one unit, but for ``work``: cents a year."""

    lines: tuple[TracedOrganizer, ...]

    @property
    def work(self) -> int:
        """Trimming and re-cutting."""
        return sum(line.use.cost for line in self.lines if line.use)

    @property
    def area(self) -> int:
        """Foam to cut."""
        return sum(line.area for line in self.lines)

    @property
    def cost(self) -> float | None:
        """Foam to cut, in money."""
        return _sum([line.cost for line in self.lines if line.area])

    @property
    def minutes(self) -> float | None:
        """At the machine."""
        return _sum([line.minutes for line in self.lines if line.area])


def trace(case: Posed, bundle: Bundle, uses: Sequence[SizeUse], names: Mapping[int, str]) -> BundleTrace | None:
    """The lines of a bundle, ``None`` without a plan; ``names`` of new sizes by need, no ``uses`` if not offered."""
    if not isinstance(bundle.outcome, Fits):
        return None
    b = next(b for b, one in enumerate(case.bundles) if one is bundle)
    blanks = {blank.group: blank for blank in amounts(bundle.outcome).blanks}
    by_need = {use.need: use for use in uses}
    return BundleTrace(
        tuple(
            _line(case, n, blanks, by_need.get(n), names.get(n, "")) for n, owner in enumerate(case.owner) if owner == b
        )
    )


def _line(case: Posed, n: int, blanks: Mapping[str, BlankAmount], use: SizeUse | None, name: str) -> TracedOrganizer:
    placed = case.needs[n].placement
    blank = blanks.get(placed.group)
    ready = use.size.existing if use else blank is None
    outside = (use.size.organizer.width * use.size.organizer.depth) if use else blank.area if blank else 0
    per_area = blank.cost / blank.area if blank and blank.cost is not None else None
    return TracedOrganizer(
        group=placed.group,
        drawer=placed.drawer,
        name=name,
        use=use,
        area=0 if ready else outside,
        cost=None if ready or per_area is None else outside * per_area,
        minutes=None if ready or blank is None else blank.minutes,
    )


def _sum(parts: Sequence[float | None]) -> float | None:
    known = [part for part in parts if part is not None]
    return sum(known) if len(known) == len(parts) else None
