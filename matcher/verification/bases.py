"""Foam of two sheets, the lower one of a contrasting color: a missing piece is seen at once; R18."""

from __future__ import annotations

from collections.abc import Iterator

from matcher.records import Layout, show_mm
from matcher.verification.hard_rules import Violation
from matcher.verification.scene import Scene


def base_shows(scene: Scene) -> Iterator[Violation]:
    """R18: every pocket and notch is cut through the top sheet, and leaves the floor however thin the sheets are.

    Depths count from the top, so both sheets' tolerances are lost under a pocket. Foam has the base that the house
    says, none where it says none.
    """
    rules = scene.house.pocket
    for seat in scene.seats:
        layout = seat.placement.layout
        if layout is None or seat.cased or not (rules.base or layout.base):
            continue
        depths = [pocket.depth for pocket in layout.pockets] + [notch.depth for notch in layout.notches]
        left = layout.thickness - max(depths, default=0) - 2 * rules.stock_tolerance
        lacks = (
            (abs(rules.base - layout.base), "has another base than the house's"),
            (_top(layout) - min(depths, default=_top(layout)), "has a pocket that ends above its base"),
            (rules.floor - left, "leaves too little floor in the thinnest sheets"),
        )
        for lack, words in lacks:
            if lack > 0:
                yield Violation("R18", seat.group.name, lack, f"{seat.group.name}: foam {words}, by {show_mm(lack)}")


def _top(layout: Layout) -> int:
    return layout.thickness - layout.base
