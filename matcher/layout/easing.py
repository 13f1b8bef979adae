"""Makes pockets shallower so that even a sheet as thin as its tolerance allows keeps the floor below them."""

from __future__ import annotations

from dataclasses import replace

from matcher.house import PocketRules
from matcher.records import Layout


def eased(layout: Layout, rules: PocketRules, height: int) -> Layout:
    """The layout with its deepest pockets made shallower, so that the thinnest sheet within its tolerance has a floor.

    The pieces in them rise by as much more. If one would then rise above ``height``, the layout stays as it is, and
    only a sheet of full thickness has the whole floor. So does a layout in foam that is not from stock, or that has a
    base: there the tolerances are allowed for already.
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
