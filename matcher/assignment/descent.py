"""Down the layers: several at once where that closes, else one by one; the next ones never make a result worse.

A later search may lower the value of a layer that is not proved best; no search raises it. A layer with joint variables
(``Layer.joint``) keeps its value. It stays in the objective as anchor, with the highest weight: fixed by a mere
constraint it would leave the relaxation of the layers after it too weak to close.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from matcher.assignment.board import Board
from matcher.assignment.layers import Layer, fits, one_number, weights
from matcher.assignment.problem import Places
from matcher.assignment.searching import search


@dataclass(frozen=True, slots=True)
class Settled:
    """A layer that was minimized: how to count its value in a plan, and the bound proved given the layers before it.

    The bound was proved for all plans in which the layers before it are no worse than they were then. It therefore
    still holds after a later search has bettered one of these. A plan whose value is the bound is proved best.
    """

    value: Callable[[Places], int]
    bound: int


class Descent:
    """Goes from plan to better plan on one board; ``places`` is the best so far.

    A better plan is worse in no layer that was minimized before it was found.

    The first search starts from ``hint``, if given, which need not be a plan of this board.
    """

    def __init__(self, board: Board, places: Places, hint: Places | None = None):
        self.board = board
        self.places = places
        self.spent = 0.0
        self._start = hint or places
        self._anchor: tuple[Layer, ...] = ()
        self._fixed: list[Layer] = []

    def settle(self, layers: Sequence[Layer], budgets: Sequence[float]) -> list[Settled]:
        """Minimize each layer given those before it; half of the budgets goes to trying several at once."""
        settled: list[Settled] = []
        for batch in self.batches(layers):
            own = budgets[len(settled) : len(settled) + len(batch)]
            if len(batch) > 1 and self.together(batch, sum(own) / 2):
                settled += [Settled(part.value, part.value(self.places)) for part in batch]
            else:
                share = 2 if len(batch) > 1 else 1
                settled += [self._alone(part, budget / share) for part, budget in zip(batch, own, strict=True)]
        return settled

    def batches(self, layers: Sequence[Layer]) -> Iterator[list[Layer]]:
        """The longest runs of layers that make one number, with the anchor before them."""
        batch: list[Layer] = []
        for part in layers:
            if batch and not fits([*self._anchor, *batch, part]):
                yield batch
                batch = []
            batch.append(part)
        if batch:
            yield batch

    def together(self, batch: Sequence[Layer], work: float) -> bool:
        """Minimize a batch as one number and fix it if that is proved best."""
        bound = self._minimize(batch, work)
        if bound is not None:
            return False
        for part in batch:
            self._fix(part, part.value(self.places))
        return True

    def _alone(self, part: Layer, work: float) -> Settled:
        bound = self._minimize([part], work)
        value = part.value(self.places)
        settled = Settled(part.value, value if bound is None else min(bound, value))
        self._fix(part, settled.bound)
        return settled

    def _minimize(self, batch: Sequence[Layer], work: float) -> int | None:
        """Better the plan; ``None`` if it is proved best, else the bound of the first layer."""
        stack = self._anchored(batch)
        found = search(self.board, one_number(stack), work, self._start)
        self.spent += found.work
        if found.places is not None and self._betters(found.places, batch):
            self._go_on_from(found.places)
        self._start = self.places
        if self._in_doubt or (found.bound is None and not found.proved):
            return 0
        return None if found.proved else self._first_bound(batch, found.bound or 0)

    def _betters(self, places: Places, batch: Sequence[Layer]) -> bool:
        """Whether a plan is better in a layer fixed before or in the batch, and worse in none of those fixed."""
        known, new = ([part.value(plan) for part in (*self._fixed, *batch)] for plan in (self.places, places))
        worse = any(part.value(places) > part.value(self.places) for part in self._fixed)
        return new < known and not worse

    def _go_on_from(self, places: Places) -> None:
        """Take a better plan, and keep later ones at the values of the fixed layers that it has lowered."""
        for part in self._fixed:
            if part.value(places) < part.value(self.places):
                self.board.model.add(one_number([part]) <= part.steps(part.value(places)))
        self.places = places

    def _anchored(self, batch: Sequence[Layer]) -> list[Layer]:
        """The batch after the anchor; where that makes too large a number, the anchor is fixed by a constraint."""
        if self._anchor and not fits([*self._anchor, *batch]):
            anchor = self._anchor[0]
            self.board.model.add(one_number([anchor]) <= anchor.steps(anchor.value(self.places)))
            self._anchor = ()
        return [*self._anchor, *batch]

    def _first_bound(self, batch: Sequence[Layer], bound: int) -> int:
        """What a bound on the whole number says about the batch's first layer, the anchor being fixed."""
        factors = weights([*self._anchor, *batch])
        for factor, anchor in zip(factors, self._anchor, strict=False):
            bound -= factor * anchor.steps(anchor.value(self.places))
        return batch[0].at(max(0, bound // factors[len(self._anchor)]))

    @property
    def _in_doubt(self) -> bool:
        """Whether undecided sharing was left out: then of the problem only 0 is known as a bound."""
        return not self.board.alone and bool(self.board.sharing.undecided)

    def _fix(self, part: Layer, bound: int) -> None:
        """Keep a layer at its value, or between its bound and its value where it is not proved and not an anchor."""
        self._fixed.append(part)
        steps = part.steps(part.value(self.places))
        if not part.terms:
            return
        if part.joint:
            self.board.model.add(one_number([part]) >= steps)
            self._anchor = (part,)
        else:
            self.board.model.add_linear_constraint(one_number([part]), part.steps(bound), steps)
