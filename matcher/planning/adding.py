"""Earlier plans that stay as they are: their drawers are taken for whatever is added, and their organizers weigh."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from matcher.records import Cabinet, Catalogue, KeptOrganizer, Organizer, Snapshot, UsageError, listed


def check_earlier(earlier: Iterable[Snapshot], cabinets: Sequence[Cabinet]) -> None:
    """Refuse earlier plans that are not of the cabinet, or that use drawers it does not have.

    Raises
    ------
    UsageError
        An earlier plan is of another cabinet, or one of its drawers is not there or is blocked.
    """
    for plan in earlier:
        for cabinet in cabinets:
            if plan.cabinet != cabinet.name:
                wanted = f"expected one in {cabinet.name!r}"
                raise UsageError(f"the earlier plan is of {plan.set!r} in {plan.cabinet!r}; {wanted}")
            usable = {drawer.name for drawer in cabinet.drawers if drawer.slot != "blocked"}
            gone = sorted({drawer for _, drawer in plan.drawers} - usable)
            if gone:
                told = f"the earlier plan of {plan.set!r} uses {listed(gone)}"
                raise UsageError(f"{told}; expected drawers of {cabinet.name!r} that are not blocked")


def taken_by(earlier: Iterable[Snapshot]) -> dict[str, tuple[str, ...]]:
    """The drawers of earlier plans with what lies in them, ``SET: group``, by name."""
    found: dict[str, list[str]] = {}
    for plan in earlier:
        for group, drawer in plan.drawers:
            found.setdefault(drawer, []).append(f"{plan.set}: {group}")
    return {drawer: tuple(found[drawer]) for drawer in sorted(found)}


def closed(cabinet: Cabinet, earlier: Iterable[Snapshot]) -> Cabinet:
    """The cabinet as it is left to what is added: a drawer that is taken holds no more, and is not free."""
    taken = taken_by(earlier)
    drawers = (replace(box, slot="blocked") if box.name in taken else box for box in cabinet.drawers)
    return replace(cabinet, drawers=tuple(drawers)) if taken else cabinet


def opened_again(cabinet: Cabinet, earlier: Iterable[Snapshot]) -> Cabinet:
    """The same cabinet as it stands: the drawers that are taken can be pulled out like all others."""
    taken = taken_by(earlier)
    drawers = (replace(box, slot="foam") if box.name in taken else box for box in cabinet.drawers)
    return replace(cabinet, drawers=tuple(drawers)) if taken else cabinet


def with_closed(catalogue: Catalogue, earlier: Sequence[Snapshot]) -> Catalogue:
    """The catalogue with the cabinets of the earlier plans closed where they are taken."""
    names = {plan.cabinet for plan in earlier}
    boxes = (closed(one, earlier) if one.name in names else one for one in catalogue.cabinets)
    return replace(catalogue, cabinets=tuple(boxes)) if earlier else catalogue


def organizers_in(earlier: Iterable[Snapshot]) -> tuple[KeptOrganizer, ...]:
    """All that lies in the drawers that are taken; what a plan does not describe has no known mass."""
    return tuple(one for plan in earlier for one in _organizers(plan))


def earlier_words(plan: Snapshot) -> str:
    """That a plan stays and where it lies, e.g. ``beside the plan of Oak, which stays in drawers A1 (pliers) ...``."""
    taken = {drawer: [told.partition(": ")[2] for told in held] for drawer, held in taken_by([plan]).items()}
    places = listed([f"{drawer} ({', '.join(groups)})" for drawer, groups in taken.items()])
    return f"beside the plan of {plan.set}, which stays in {'drawer' if len(taken) == 1 else 'drawers'} {places}"


def _organizers(plan: Snapshot) -> Iterable[KeptOrganizer]:
    known = {one.made.group: one for one in plan.organizers}
    return (known.get(group) or KeptOrganizer(drawer, Organizer("", group, 0, 0, 0)) for group, drawer in plan.drawers)
