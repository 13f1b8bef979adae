"""What is answered: a plan, or why there is none, and what is told beside it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from matcher.records.given import Wishes
from matcher.records.laid_out import Group, Layout, SizedPiece
from matcher.records.words import Basis, DrawerSize, Fill, GoalName, HandReach, How, Level, Scope, Slot


@dataclass(frozen=True, slots=True)
class Placement:
    """One organizer in one drawer: ``left`` and ``front`` from the inside walls, outside ``width`` x ``depth``.

    ``height`` is the clear height needed before top clearance. ``gap_width`` and ``gap_depth`` are what is left of the
    drawer beyond the side clearances; of foam cut for it, what the roomiest layout would leave. The layout's field
    begins ``field_left`` and ``field_front`` from the organizer's own front left corner.
    """

    group: str
    drawer: str
    how: How
    how_width: How
    how_depth: How
    left: int
    front: int
    width: int
    depth: int
    height: int
    gap_width: int
    gap_depth: int
    layout: Layout | None = None
    field_left: int = 0
    field_front: int = 0


@dataclass(frozen=True, slots=True)
class Plan:
    """Which organizer goes in which drawer of one cabinet. ``groups`` are those planned, split parts included."""

    set: str
    cabinet: str
    fill: Fill
    groups: tuple[Group, ...]
    placements: tuple[Placement, ...]
    free_drawers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Margin:
    """A used drawer: the least inside sizes its contents need as planned, and what it has beyond them.

    ``fill`` is the share of its area, less what is built in, that lies under tools and their webs.
    """

    drawer: str
    groups: tuple[str, ...]
    least_width: int
    least_depth: int
    least_height: int
    spare_width: int
    spare_depth: int
    spare_height: int
    load: int
    load_left: int | None
    fill: float

    @property
    def tightest(self) -> int:
        """The smallest of the three spares."""
        return min(self.spare_width, self.spare_depth, self.spare_height)


@dataclass(frozen=True, slots=True)
class FreeDrawer:
    """A drawer left for the buyer, by its clear sizes.

    ``size`` is its size beside the other drawers of the cabinet, ``reach`` where the hand is that reaches its floor,
    blank where ``above_ground``, the height of that floor, is not known.
    """

    drawer: str
    width: int
    depth: int
    height: int
    slot: Slot
    load_left: int | None
    above_ground: int | None
    size: DrawerSize
    reach: HandReach


@dataclass(frozen=True, slots=True)
class Goal:
    """A goal's value, the bound the search proved, and whether they meet given the goals before it.

    ``told`` and ``bound_told`` are value and bound in words.
    """

    name: GoalName
    value: int
    bound: int
    proved: bool
    contributions: tuple[str, ...] = ()
    told: str = ""
    bound_told: str = ""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why there is no plan, or what stays undecided."""

    code: str
    text: str
    scope: Scope = ""
    groups: tuple[str, ...] = ()
    drawers: tuple[str, ...] = ()
    short: int | None = None


@dataclass(frozen=True, slots=True)
class FoamAsked:
    """Area of foam, in 1/320 mm squared: what a set asks for at least and laid out in order, what the cabinet has.

    ``missing`` is about how many more of its drawers it would take at the usual density, 0 where the area is enough.
    """

    least: int
    usual: int
    there: int
    missing: int


@dataclass(frozen=True, slots=True)
class LeftOut:
    """Pieces of a group that stay outside, or, with a blank ``tool``, its ready-made organizer; ``whole`` if all of the
    group does."""

    group: str
    tool: str
    count: int
    whole: bool


@dataclass(frozen=True, slots=True)
class TriedChange:
    """A change that was tried and gives a plan, in words; where a wish of another run says it, that wish.

    ``without`` are groups or pieces to leave out, ``cabinet`` is another one of the catalogue.
    """

    text: str
    without: tuple[str, ...] = ()
    cabinet: str = ""


@dataclass(frozen=True, slots=True)
class Outside:
    """What the best part found of a set leaves outside: a group with the pieces of it that do; ``whole`` if all do.

    ``lacks`` says in words what no drawer has for them; blank where no room was found beside the rest. ``area`` is what
    they ask for at least, in 1/320 mm squared.
    """

    group: Group
    whole: bool
    lacks: str
    area: int

    @property
    def tools(self) -> int:
        """How many tools it is; a ready-made organizer whose pieces are not listed counts as one."""
        return max(1, self.group.tools)


@dataclass(frozen=True, slots=True)
class Caution:
    """Something a person should know before trusting or loading a plan."""

    code: str
    level: Level
    text: str


@dataclass(frozen=True, slots=True)
class PieceCounts:
    """On what the verdict rests: pieces by the basis of their dimensions."""

    measured: int = 0
    standard: int = 0
    estimated: int = 0

    @property
    def total(self) -> int:
        """All pieces."""
        return self.measured + self.standard + self.estimated


def basis_counts(pieces: Iterable[SizedPiece]) -> PieceCounts:
    """Pieces with their counts by the basis of their dimensions."""
    counts: Counter[Basis] = Counter()
    for piece in pieces:
        counts[piece.basis] += piece.piece.count
    return PieceCounts(counts["measured"], counts["from standard"], counts["estimated"])


@dataclass(frozen=True, slots=True)
class Run:
    """What is needed to get the same answer again."""

    version: str
    solver: str
    seed: int
    digest: str
    budgets: tuple[tuple[str, float], ...]
    wishes: Wishes = field(default_factory=Wishes)
    stopped: bool = False
    """A person stopped the search: another run may find more."""


@dataclass(frozen=True, slots=True)
class Stranded:
    """Organizers of an earlier plan that no longer go into their drawer as they were; ``lacks`` is blank, and ``short``
    0, where the drawer is no more."""

    groups: tuple[str, ...]
    drawer: str
    lacks: str = ""
    short: int = 0


@dataclass(frozen=True, slots=True)
class Changes:
    """What changes from one plan to another: (group, drawer before, now), free drawers, (goal, value before, now).

    ``divided`` are groups that fall into other parts: the tools in each before and now.
    """

    moved: tuple[tuple[str, str, str], ...]
    lost: tuple[str, ...]
    new: tuple[str, ...]
    free: tuple[int, int]
    goals: tuple[tuple[GoalName, int, int], ...]
    divided: tuple[tuple[str, tuple[int, ...], tuple[int, ...]], ...] = ()


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another plan, what changes from the best one to it, and the goals that are worse."""

    plan: Plan
    goals: tuple[Goal, ...]
    changes: Changes
    gives_up: tuple[GoalName, ...]
