"""What a comparison holds: each cabinet's outcome with what it takes, and all of them in ranked order."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from matcher.cutting import Amounts
from matcher.planning import Fits, Outcome
from matcher.records import Fault, How

RankBy: TypeAlias = Literal["unused", "free", "recut", "cost", "price", "width"]
"""What counts first among cabinets that hold a set."""


@dataclass(frozen=True, slots=True)
class Variant:
    """One cabinet's outcome with its placements counted by how they got in, and what its plan takes to make.

    ``moved`` counts groups in another bank or row than in the comparison's model. ``amounts`` are there with a plan.
    """

    outcome: Outcome
    hows: tuple[tuple[How, int], ...]
    moved: int = 0
    amounts: Amounts | None = None

    def count(self, how: How) -> int:
        """Placements that got in this way."""
        return dict(self.hows)[how]

    @property
    def free(self) -> int:
        """Free drawers of the plan; 0 without one."""
        return len(self.outcome.plan.free_drawers) if isinstance(self.outcome, Fits) else 0

    @property
    def usable(self) -> int:
        """Drawers that may hold something."""
        return sum(drawer.slot != "blocked" for drawer in self.outcome.question.cabinet.drawers)

    @property
    def price(self) -> float | None:
        """Price of the cabinet, if it is given."""
        return self.outcome.question.cabinet.price

    @property
    def foam_cost(self) -> float | None:
        """Foam for the plan, by area; ``None`` without a plan, or where a price is not given."""
        return self.amounts.cost if self.amounts else None


@dataclass(frozen=True, slots=True)
class Comparison:
    """A set's variants in ranked order. ``model`` is the cabinet by whose places ties were broken, if any.

    ``faults`` are the cabinets on which the program failed. ``by`` is what counts first among those that hold the set.
    """

    set: str
    variants: tuple[Variant, ...]
    model: str = ""
    faults: tuple[Fault, ...] = ()
    by: RankBy = "unused"
