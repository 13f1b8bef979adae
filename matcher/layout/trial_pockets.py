"""The pocket of one tool several times, each with another clearance, side by side to be tried in a strip of foam."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate

from matcher.house import House
from matcher.layout.blocks import Spot
from matcher.layout.curves import layout_of
from matcher.layout.poses import pose_cut, rules_for
from matcher.layout.styles import Stance
from matcher.records import Group, Layout, Pocket


def trial_pockets(group: Group, layout: Layout, pocket: Pocket, house: House, fits: Sequence[int], cell: int) -> Layout:
    """A pocket of a group's layout again for each of the clearances ``fits``, from left to right.

    All else is as in the layout: stance, depth, foam. Each pocket has its own notch if it needs one, and stands in the
    middle of a cell no narrower than ``cell``; between the cells there is the web.
    """
    rules = replace(rules_for(group, house), thickness=layout.thickness)
    way: Stance = "standing" if pocket.standing else "along"
    found = [
        pose_cut(
            group.pieces[pocket.piece],
            replace(rules, pocket=replace(rules.pocket, fit=fit)),
            way,
            pocket.depth,
            pocket.rise,
        ).alone
        for fit in fits
    ]
    widths = [max(pose.width, cell) for pose in found]
    web = max(pose.web for pose in found)
    lefts = list(accumulate((width + web for width in widths), initial=0))
    spots = [
        Spot(pose, left + (width - pose.width) // 2, 0) for pose, left, width in zip(found, lefts, widths, strict=False)
    ]
    return replace(layout_of(spots, [pocket.piece] * len(found), rules), width=lefts[-1] - web, base=layout.base)
