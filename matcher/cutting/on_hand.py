"""Ready-made organizers of a plan against the batch: how many are in stock, and how many of them are lacking."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from matcher.records import How, Plan

READY: tuple[How, ...] = ("as is", "shim", "trim")
"""Ways into a drawer that use an organizer on hand."""


@dataclass(frozen=True, slots=True)
class InStock:
    """A ready-made organizer that the batch takes ``wanted`` of; ``stock`` is how many the catalogue says there are,
    ``None`` where it does not say."""

    group: str
    drawer: str
    part: str
    stock: int | None
    wanted: int

    @property
    def lacking(self) -> int:
        """How many more it takes than there are known to be; 0 where the stock is not known."""
        return 0 if self.stock is None else max(self.wanted - self.stock, 0)


def in_stock(plan: Plan, batch: int) -> tuple[InStock, ...]:
    """Every ready-made organizer of the plan, in the order of its placements."""
    return tuple(_ready(plan, batch))


def _ready(plan: Plan, batch: int) -> Iterator[InStock]:
    made = {group.name: group.organizer for group in plan.groups}
    for placement in plan.placements:
        ready = made[placement.group]
        if placement.how in READY and ready is not None:
            yield InStock(placement.group, placement.drawer, ready.part, ready.on_hand, batch)
