"""From one catalogue to the next: bundles that the edits touch, what becomes of their plans, which parts are at risk.

A bundle is looked at if it is offered and an edit is about its set or its cabinet. Its new plan stays as near to the
old one as it can, so what moves or is cut anew does so because of the edits.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from matcher.house import House
from matcher.planning import NO_WISHES, Fits, Outcome, Question, answer, ask, differences, sets_of, snapshot
from matcher.records import Catalogue, Organizer, Placement, UnknownNameError, Verdict
from matcher.screening import ToldName
from matcher.studies.edits import WITHOUT_PLANS, Edit, edits

RuledCatalogue: TypeAlias = tuple[Catalogue, House]
"""A catalogue with its house rules."""
_Used: TypeAlias = tuple[str, str, str]
"""An organizer that a plan uses: set, group and part."""
BundleState: TypeAlias = Verdict | Literal["not in the catalogue"]
PartState: TypeAlias = Literal["gone", "other size", "no longer as is"]


@dataclass(frozen=True, slots=True)
class BundleChange:
    """A bundle that edits touch: its verdict before and now, what changes in its plan, which organizers are cut anew.

    ``units`` a year are what demand says of it now, or said before. ``recut`` are groups (or parts) of both plans whose
    organizer is another one, ``cut`` those that only the new plan has, ``dropped`` those that only the old one had.
    """

    set: str
    cabinet: str
    units: float
    before: BundleState
    now: BundleState
    moves: tuple[str, ...] = ()
    recut: tuple[str, ...] = ()
    cut: tuple[str, ...] = ()
    dropped: tuple[str, ...] = ()

    @property
    def changed(self) -> bool:
        """Whether the edits make any difference to it."""
        return self.before != self.now or bool(self.moves or self.recut or self.cut or self.dropped)


@dataclass(frozen=True, slots=True)
class PartChange:
    """A part whose organizer is gone or has another size, or that bundles no longer take as it is; stock at risk."""

    part: str
    set: str
    group: str
    state: PartState
    on_hand: int
    bundles: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CatalogueChanges:
    """All edits; the bundles they touch, those of most demand first; the parts at risk, those of most stock first."""

    edits: tuple[Edit, ...]
    house: bool
    bundles: tuple[BundleChange, ...]
    parts: tuple[PartChange, ...]


def changes_between(old: RuledCatalogue, new: RuledCatalogue, told: ToldName | None = None) -> CatalogueChanges:
    """What the edits from one catalogue to another do; ``house`` says whether the house rules differ as well.

    ``told`` hears of each bundle before it is planned.
    """
    found, house = edits(old[0], new[0]), old[1] != new[1]
    touching = [edit for edit in found if edit.table not in WITHOUT_PLANS]
    bundles: list[BundleChange] = []
    worse: dict[_Used, list[str]] = {}
    touched = [
        (set_name, cabinet, units)
        for set_name, cabinet, units in _offered(old[0], new[0])
        if house or any(edit.touches(set_name, cabinet) for edit in touching)
    ]
    for done, (set_name, cabinet, units) in enumerate(touched):
        if told:
            told(done, len(touched), f"{set_name} in {cabinet}")
        before = _asked(old, set_name, cabinet)
        now = _asked(new, set_name, cabinet, before)
        bundles.append(_bundle(set_name, cabinet, units, before, now))
        for group, part in _no_longer_as_is(before, now):
            worse.setdefault((set_name, group, part), []).append(f"{set_name} in {cabinet}")
    return CatalogueChanges(
        found,
        house,
        tuple(sorted(bundles, key=lambda one: (-one.units, one.set, one.cabinet))),
        tuple(sorted(_parts(old[0], new[0], worse), key=lambda one: (-one.on_hand, one.part))),
    )


def _offered(old: Catalogue, new: Catalogue) -> Iterator[tuple[str, str, float]]:
    """Bundles that either catalogue offers, with their units now or else before; without demand every pair."""
    if not (old.demand or new.demand):
        sets = sorted({name for known in (old, new) for name in sets_of(known)})
        names = sorted({cabinet.name for known in (old, new) for cabinet in known.cabinets})
        yield from ((set_name, name, 0.0) for set_name in sets for name in names)
        return
    offered = {(row.set, row.cabinet) for known in (old, new) for row in known.demand if row.offered != "no"}
    for pair in sorted(offered):
        said = [sum(row.units for row in known.demand if (row.set, row.cabinet) == pair) for known in (new, old)]
        yield *pair, next(filter(None, said), 0.0)


def _asked(book: RuledCatalogue, set_name: str, cabinet: str, before: Outcome | None = None) -> Outcome | None:
    """The answer, near to an earlier plan if there is one; nothing where the catalogue does not have both."""
    keep = snapshot(before) if isinstance(before, Fits) else None
    try:
        question: Question = ask(*book, set_name, cabinet, replace(NO_WISHES, keep=keep))
    except UnknownNameError:
        return None
    return answer(question, turns=False)


def _bundle(set_name: str, cabinet: str, units: float, before: Outcome | None, now: Outcome | None) -> BundleChange:
    found = BundleChange(set_name, cabinet, units, _state(before), _state(now))
    if not (isinstance(before, Fits) and isinstance(now, Fits)):
        return found
    was, after = _organizers(before), _organizers(now)
    return replace(
        found,
        moves=differences(snapshot(before), snapshot(now)),
        recut=tuple(name for name in sorted(was.keys() & after.keys()) if _foam(was[name]) != _foam(after[name])),
        cut=tuple(sorted(after.keys() - was.keys())),
        dropped=tuple(sorted(was.keys() - after.keys())),
    )


def _state(outcome: Outcome | None) -> BundleState:
    return "not in the catalogue" if outcome is None else outcome.verdict


def _organizers(outcome: Fits) -> dict[str, Placement]:
    """What lies in foam, by the name of its group or part."""
    return {placed.group: placed for placed in outcome.plan.placements if placed.how != "cased"}


def _foam(placed: Placement) -> tuple[object, ...]:
    """What makes an organizer another one: outside, pockets and how it is made."""
    return placed.width, placed.depth, placed.height, placed.layout, placed.how


def _no_longer_as_is(before: Outcome | None, now: Outcome | None) -> Iterator[tuple[str, str]]:
    """Groups and parts whose organizer went in as it is, or with a strip, and now has to be trimmed or cut anew."""
    if isinstance(before, Fits) and isinstance(now, Fits):
        after, made = _organizers(now), {group.name: group.organizer for group in before.plan.groups}
        for name, placed in _organizers(before).items():
            row = made[name]
            if placed.how in ("as is", "shim") and row and name in after and after[name].how not in ("as is", "shim"):
                yield name, row.part


def _parts(old: Catalogue, new: Catalogue, worse: dict[_Used, list[str]]) -> Iterator[PartChange]:
    """Parts of the old catalogue that are gone, have another size, or no longer go in as they are somewhere."""
    kept = dict(_rows(new))
    for key, row in _rows(old):
        bundles, state = tuple(worse.get((row.set, row.group, row.part), ())), _part_state(row, kept.get(key))
        if row.part and (state or bundles):
            yield PartChange(row.part, row.set, row.group, state or "no longer as is", row.on_hand or 0, bundles)


def _rows(known: Catalogue) -> Iterator[tuple[tuple[str, ...], Organizer]]:
    """Rows of organizers by what each is known by: those made for just so many tools by their parts, too."""
    yield from (((row.set, row.group), row) for row in known.organizers)
    for row in (kept.made for kept in known.parts):
        yield (row.set, row.group, row.cabinet, row.part), row


def _part_state(row: Organizer, now: Organizer | None) -> PartState | None:
    """What became of a part's row; nothing where it is what it was."""
    if now is None:
        return "gone"
    return "other size" if _sizes(now) != _sizes(row) else None


def _sizes(row: Organizer) -> tuple[object, ...]:
    return row.width, row.depth, row.height, row.field_width, row.field_depth, row.field_left, row.field_front


def worst_of(bundles: Iterable[BundleChange]) -> Verdict:
    """What became of the bundles that fitted before: all still fit, one does not or is gone, else one is undecided."""
    now = {one.now for one in bundles if one.before == "fits"}
    if now & {"does not fit", "not in the catalogue"}:
        return "does not fit"
    return "undecided" if "undecided" in now else "fits"
