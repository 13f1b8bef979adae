"""Pockets cut no deeper than a thin sheet's floor allows, where the drawer is high enough for it."""

from __future__ import annotations

from dataclasses import replace

from matcher.house import PocketRules
from matcher.records import Layout


def eased(layout: Layout, rules: PocketRules, height: int) -> Layout:
    """The layout with its pockets so deep at most that the floor holds in the thinnest sheet within its tolerance.

    Their pieces rise by as much more; where one would then rise above ``height`` all stays as it is, and the floor
    holds in a sheet of full thickness only. Foam with a base has its tolerances allowed for already.
    """
    if layout.base or layout.thickness not in rules.stock:
        return layout
    deepest = layout.thickness - rules.stock_tolerance - rules.floor
    pockets = tuple(
        replace(pocket, depth=min(pocket.depth, deepest), rise=pocket.rise + max(pocket.depth - deepest, 0))
        for pocket in layout.pockets
    )
    highest = max([layout.height, *(pocket.rise for pocket in pockets)])
    if highest > height:
        return layout
    notches = tuple(replace(notch, depth=min(notch.depth, deepest)) for notch in layout.notches)
    return replace(layout, height=highest, pockets=pockets, notches=notches)
