"""What the assignment is given and what it answers: plain numbers, no outlines, no house rules.

Groups and drawers come sorted (groups by tier, family, name; drawers by bank, row, name) and are named by their index.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, Protocol, TypeAlias

from matcher.house import WorkBudgets
from matcher.records import Fill, GoalName, System, Wish

Status: TypeAlias = Literal["found", "impossible", "open"]
Side: TypeAlias = Literal["yes", "no", "open"]
Places: TypeAlias = tuple[int, ...]
"""The drawer of each group, by index."""
Wished: TypeAlias = tuple[int, int, Wish, int]
"""Group, other group, wish, weight."""


AFTER_OPEN = 0.2
"""Share of its budget that a goal gets where it cannot be proved, whatever is found: it may still get better."""


@dataclass(frozen=True, slots=True)
class Node:
    """A group (or a part of one).

    ``area`` is a lower bound of the drawer area it takes in any drawer; 0 where none is known.
    """

    name: str
    tier: int
    family: str
    mass: int
    share: bool
    cased: bool
    system: System = ""
    part_of: str = ""
    area: int = 0


@dataclass(frozen=True, slots=True)
class Box:
    """A drawer. ``kind`` is equal for drawers equal in size, obstructions, slot and load.

    ``floor`` (1/320 mm, larger is higher) serves the order. ``area`` is an upper bound of what its groups take
    together; ``None`` where none is known.
    """

    name: str
    bank: int
    last_bank: int
    row: int
    floor: int
    load: int | None
    kind: int
    area: int | None = None


@dataclass(frozen=True, slots=True)
class Option:
    """What a group, alone, costs in a drawer: work on the foam, room left over, use lost to the height.

    ``area`` is the least it takes of this drawer, beside others or alone. ``empty`` grows faster than the room that it
    leaves of the drawer: of two plans with as much room left in all, the one costs less in which small groups lie in
    small drawers.
    """

    how_cost: int
    gap: int
    reach: int = 0
    area: int = 0
    empty: int = 0


class Together(Protocol):
    """Whether two or more groups go into one drawer side by side; a superset of a ``no`` is a ``no``."""

    def __call__(self, box: int, groups: frozenset[int], /) -> Side:
        """Answer for the drawer of index ``box``, the same for every drawer of its kind."""
        ...


@dataclass(frozen=True, slots=True)
class Problem:
    """One set in one cabinet. A pair that is not in ``options`` is forbidden; pins are already worked in.

    ``spare`` says (how many, drawers): at least so many of these drawers hold nothing. ``kept`` is the drawer of each
    group in a plan to keep, -1 where that drawer is no more; groups new since then are missing. ``passed_over`` are
    plans not to give again, nor with equal drawers exchanged. ``mixing`` is how many families beyond the first of a
    drawer all drawers together may hold, ``None`` any number.
    """

    nodes: tuple[Node, ...]
    boxes: tuple[Box, ...]
    options: Mapping[tuple[int, int], Option]
    together: Together
    relations: tuple[Wished, ...]
    apart: tuple[tuple[int, int], ...]
    kept_free: frozenset[int]
    swap: tuple[tuple[int, int], ...]
    level: int
    fill: Fill
    goals: tuple[GoalName, ...]
    work: WorkBudgets
    seed: int
    spare: tuple[tuple[int, frozenset[int]], ...] = ()
    kept: Mapping[int, int] = field(default_factory=dict)
    passed_over: tuple[Places, ...] = ()
    mixing: int | None = 0


@dataclass(frozen=True, slots=True)
class GoalValue:
    """A goal's value and the bound proved for it, given the values of the goals before it."""

    name: GoalName
    value: int
    bound: int
    proved: bool


@dataclass(frozen=True, slots=True)
class Assignment:
    """The answer. ``impossible`` is said only when proved; ``open`` means neither a plan nor a proof was found.

    ``places`` is empty unless ``found``. ``unique`` says that all goals are proved and the last tie-break was carried
    through: no other plan is as good and has a smaller list of drawers. ``undecided`` lists the sets of groups whose
    sharing of a drawer stayed open and was therefore not used: (kind of drawer, groups).
    """

    status: Status
    places: Places = ()
    goals: tuple[GoalValue, ...] = ()
    most_free: int | None = None
    fewest_free: int | None = None
    free_proved: tuple[bool, bool] = (False, False)
    unique: bool = False
    undecided: tuple[tuple[int, frozenset[int]], ...] = field(default=())
