"""The order in which a person reads drawers."""

from __future__ import annotations

from matcher.records import Cabinet, Drawer


def in_order(cabinet: Cabinet) -> list[Drawer]:
    """Drawers as a person reads a front: row by row, then from the left."""
    return sorted(cabinet.drawers, key=lambda drawer: (drawer.row, drawer.bank, drawer.name))
