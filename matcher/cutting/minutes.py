"""Machine minutes: clearing pockets line by line, following the outline; without tool change, loading and cleaning."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely import Polygon, union_all

from matcher.house import CutRules, Cutter
from matcher.records import PER_MM, Layout, to_mm


@dataclass(frozen=True, slots=True)
class Minutes:
    """Minutes of cutting one organizer."""

    pockets: float
    profile: float

    @property
    def total(self) -> float:
        """Both together."""
        return self.pockets + self.profile


def pocket_minutes(area: float, depth: float, stepover: float, feed: float, pass_depth: float) -> float:
    """Minutes to clear a pocket: A / stepover / feed * passes (trade practice).

    Area, stepover and feed share a unit of length, depth and pass another.
    """
    return area / stepover / feed * passes(depth, pass_depth)


def profile_minutes(length: float, depth: float, feed: float, pass_depth: float) -> float:
    """Minutes to cut through along an outline: length * passes / feed (trade practice); units as for pockets."""
    return length * passes(depth, pass_depth) / feed


def passes(depth: float, pass_depth: float) -> int:
    """Passes down to a depth, none for no depth."""
    return int(-(-depth // pass_depth))


def cutter_for(depth: int, cutters: Iterable[Cutter]) -> Cutter | None:
    """The finest cutter that reaches down, for which pockets are drawn; else the one that reaches furthest."""
    known = sorted(cutters, key=lambda cutter: (cutter.diameter, -cutter.reach))
    deep = [cutter for cutter in known if cutter.reach >= depth]
    return deep[0] if deep else max(known, key=lambda cutter: cutter.reach, default=None)


def organizer_minutes(
    layout: Layout, outline: float, thickness: int, rules: CutRules, cutters: Sequence[Cutter]
) -> Minutes:
    """Minutes for pockets, notches where they are not in a pocket, and an outline of so many millimeters.

    A pocket is cleared at a stepover of half its cutter's diameter (common practice). Without cutters only the outline
    counts.
    """
    whole = union_all([Polygon(pocket.ring) for pocket in layout.pockets])
    areas = [(Polygon(pocket.ring).area, pocket.depth) for pocket in layout.pockets]
    areas += [(Polygon(notch.ring).difference(whole).area, notch.depth) for notch in layout.notches]
    cleared = sum(_cleared(area, depth, rules, cutters) for area, depth in areas)
    profile = profile_minutes(outline, thickness, rules.feed_mm_min, rules.pass_depth)
    return Minutes(cleared, profile)


def _cleared(area: float, depth: int, rules: CutRules, cutters: Sequence[Cutter]) -> float:
    cutter = cutter_for(depth, cutters)
    if cutter is None:
        return 0.0
    stepover = to_mm(cutter.diameter) / 2
    return pocket_minutes(area / PER_MM**2, depth, stepover, rules.feed_mm_min, rules.pass_depth)
