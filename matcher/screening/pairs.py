"""What screening says of a pair: one set in one cabinet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from matcher.records import How, Reason, Scope, Verdict

Decider: TypeAlias = Literal["matching", "rows", "model", "fault"]
"""What decided a pair: a drawer for each group, groups in rows, or the full model.

``fault``: nothing did, because the program failed on the pair; its only reason tells how.
"""


@dataclass(frozen=True, slots=True)
class Figures:
    """A plan in figures. Lengths in 1/320 mm.

    ``fewest_free`` and the interval ``most_free`` to ``most_free_bound`` are over all plans; the rest is of the plan
    with the least work on the foam, then the snuggest, of those with a drawer for every group, else of the one found.
    ``tightest`` is its smallest spare inside size, ``load_use`` the largest share of a drawer's load rating.
    """

    fewest_free: int
    fewest_free_proved: bool
    most_free: int
    most_free_bound: int
    hows: tuple[tuple[How, int], ...]
    tightest: int
    load_use: float | None

    def count(self, how: How) -> int:
        """Placements that got in this way."""
        return dict(self.hows).get(how, 0)


@dataclass(frozen=True, slots=True)
class Pair:
    """One set in one cabinet: the verdict, then figures if it fits, else reasons.

    Of several reasons all have one scope, ``any layout`` or ``house layout``; blank if the pair is undecided.
    """

    set: str
    cabinet: str
    verdict: Verdict
    decided_by: Decider
    figures: Figures | None = None
    reasons: tuple[Reason, ...] = ()

    @property
    def scope(self) -> Scope:
        """Within which layouts a refusal is proved."""
        return self.reasons[0].scope if self.reasons else ""
