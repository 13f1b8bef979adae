"""Which groups go into one drawer together, side by side (R6), and where each of them lies.

Any places without overlap count, with the sides of the organizers parallel to those of the drawer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from matcher.fitting import Fit, GoesIn, Opening, OutsideSize, corner_inset, opening
from matcher.packing import Packing, pack
from matcher.planning.homes import place_of
from matcher.planning.posing import Case
from matcher.records import Rectangle, remembered

TogetherAnswer: TypeAlias = Literal["yes", "no", "open"]
"""Whether a drawer takes groups together."""
OrganizerSizes: TypeAlias = tuple[tuple[tuple[int, int], ...], ...]
"""For each organizer the outside sizes it may take."""


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Groups in one drawer: per group its size (index into the fit's sizes), left and front; all of them keep
    ``inset`` from the opening's edges."""

    positions: tuple[tuple[int, int, int], ...]
    inset: int = 0


@dataclass(frozen=True, slots=True)
class NotTogether:
    """It is proved that the groups do not go into the drawer together in the sizes they may take."""


@dataclass(frozen=True, slots=True)
class MaybeTogether:
    """The packing search found neither places for the groups nor a proof that there are none."""


Shared: TypeAlias = SideBySide | NotTogether | MaybeTogether


def share(case: Case, drawer: int, groups: Iterable[int], work: float | None = None) -> Shared:
    """Pack the organizers of ``groups`` (sorted) into a drawer; exact up to the work budget, the house's if not given.

    Those that were all made for this drawer lie where they lay.
    Ready-made ones are trimmed only where they do not all go in as they are, and re-cut only where not even that does.
    """
    members = tuple(sorted(groups))
    if all((g, drawer) in case.homes for g in members):
        own = [place_of(case.homes[g, drawer], case.house) for g in members]
        return SideBySide(tuple((0, place.left, place.front) for place in own))
    sizes = [_sizes(case.fits[g, drawer]) for g in members]
    if not all(sizes):
        return MaybeTogether()
    space = opening(case.drawers[drawer], case.house)
    inset = max(corner_inset(case.groups[g], space, case.house) for g in members)
    every = tuple(tuple((size.width, size.depth) for size in own) for own in sizes)
    found: Shared = MaybeTogether()
    for choices in dict.fromkeys((_first(every, map(_whole, sizes)), _first(every, map(_uncut, sizes)), every)):
        found = _packed_clear(
            space, inset, choices, case.house.work.free_layout if work is None else work, case.house.work.seed
        )
        if isinstance(found, SideBySide):
            break
    return found


def _first(choices: OrganizerSizes, numbers: Iterable[int]) -> OrganizerSizes:
    """Only so many of the sizes of each organizer."""
    return tuple(own[:number] for own, number in zip(choices, numbers, strict=True))


def _whole(sizes: Sequence[OutsideSize]) -> int:
    """How many sizes leave a ready-made organizer as it is; where none does, how many leave it uncut."""
    return 1 if sizes[0].how == "as is" else _uncut(sizes)


def _sizes(fit: Fit) -> tuple[OutsideSize, ...]:
    """The outside sizes in which a group may lie beside others; none where they are not known."""
    return fit.sizes if isinstance(fit, GoesIn) else ()


def _uncut(sizes: Sequence[OutsideSize]) -> int:
    """How many of the sizes, which come first, leave a ready-made organizer uncut; all of them if none does."""
    if sizes[-1].how != "re-cut":
        return len(sizes)
    return next(n for n, size in enumerate(sizes) if size.how == "re-cut") or len(sizes)


def _packed_clear(space: Opening, inset: int, choices: OrganizerSizes, work: float, seed: int) -> Shared:
    """Pack into the opening, ``inset`` from its walls if that is what its corners ask for."""
    whole = _within(space, 0, choices, work, seed)
    if not isinstance(whole, SideBySide) or not inset:
        return whole
    inner = _within(space, inset, choices, work, seed)
    return inner if isinstance(inner, SideBySide) else MaybeTogether()


def _within(space: Opening, inset: int, choices: OrganizerSizes, work: float, seed: int) -> Shared:
    """Pack into the opening less ``inset`` at every wall."""
    width, depth = space.width - 2 * inset, space.depth - 2 * inset
    blocked = tuple(block.moved(-inset, -inset) for block in space.blocked)
    found = _packed(choices, width, depth, blocked, work, seed)
    if found.status == "found":
        return SideBySide(tuple((n, left + inset, front + inset) for n, left, front in found.positions), inset)
    return NotTogether() if found.status == "excluded" else MaybeTogether()


@remembered(100_000)
def _packed(
    choices: OrganizerSizes, width: int, depth: int, blocked: tuple[Rectangle, ...], work: float, seed: int
) -> Packing:
    return pack(choices, width, depth, blocked, work=work, seed=seed)


def sharing(case: Case, work: float | None = None) -> Callable[[int, frozenset[int]], TogetherAnswer]:
    """Whether a drawer takes several groups together."""

    def together(drawer: int, groups: frozenset[int]) -> TogetherAnswer:
        found = share(case, drawer, groups, work)
        return "yes" if isinstance(found, SideBySide) else "no" if isinstance(found, NotTogether) else "open"

    return together
