"""Second plans: as good in every goal before re-cutting, but made to share more sizes with other pairs.

A plan is one of several that are optimal or nearly so. Where the size of a group that could go into the most cabinets
goes into another drawer but not into the one of this plan, the pair is planned again as if those sizes were ready-made:
its goal of least re-cutting then draws each group to a drawer that takes the shared size. The drawers so found are
pinned, and the pair is planned with the catalogue as it is, so that a second plan is a plan like any other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from matcher.house import House
from matcher.offer.bundles import PairName, Plans, bundles_of, drawers_of
from matcher.offer.needs import Need
from matcher.offer.sizes import OrganizerSize, Ways, goes_in, work_on
from matcher.offer.sizings import Sizing, sizings_of
from matcher.planning import Fits, Outcome, find_cabinet, plan
from matcher.records import Catalogue, Drawer, Fill, Organizer, Pin
from matcher.screening import ALONE, Hands, ToldName, telling


def seconds_of(
    catalogue: Catalogue,
    house: House,
    plans: Plans,
    fill: Fill | None = None,
    told: ToldName | None = None,
    hands: Hands = ALONE,
) -> dict[PairName, Outcome]:
    """Second plans of the pairs that may be offered and could share more; ``plans`` holds the first ones."""
    bundles = [bundle for bundle in bundles_of(catalogue, plans) if bundle.offerable]
    needs = [need for bundle in bundles for need in bundle.needs]
    wide = [_widest(catalogue, sizing, needs, house) for sizing in sizings_of(needs, house)]
    asked = _asked(wide, needs)
    items = [
        (plans[pair], tuple(one for of in wide if pair in of.reached for one in _ready(of, pair, needs)))
        for pair in asked
    ]
    results = hands.results(_second, (catalogue, house, fill), items)
    found = zip(asked, telling(results, [f"{name} in {cabinet}" for name, cabinet in asked], told), strict=True)
    return {pair: outcome for pair, outcome in found if outcome}


@dataclass(frozen=True, slots=True)
class _Wide:
    """The size of a group that goes into the most cabinets; ``reached`` are the pairs where it could, by any drawer.

    ``served`` are the needs of the first plans that it serves, ``needs`` all of the group's.
    """

    size: OrganizerSize
    reached: frozenset[PairName]
    served: frozenset[int]
    needs: tuple[int, ...]


def _widest(catalogue: Catalogue, sizing: Sizing, needs: Sequence[Need], house: House) -> _Wide:
    """Most pairs by any drawer, then most places of the first plans, then least work, then least foam."""
    drawers = {_pair(needs[n]): _kinds(catalogue, needs[n].cabinet) for n in sizing.needs}

    def tried(size: OrganizerSize, ways: Ways) -> _Wide:
        served = sizing.served(ways)
        reached = {pair for pair, boxes in drawers.items() if any(goes_in(size, box, house) for box in boxes)}
        return _Wide(size, frozenset(reached | {_pair(needs[n]) for n in served}), served, sizing.needs)

    every = [(tried(size, ways), work_on(ways)) for size, ways in zip(sizing.sizes, sizing.ways, strict=True)]
    return min(every, key=lambda one: (-len(one[0].reached), -len(one[0].served), one[1], one[0].size.shape))[0]


def _kinds(catalogue: Catalogue, cabinet: str) -> list[Drawer]:
    """Drawers for foam by what they take, alike ones once."""
    drawers = [one for one in find_cabinet(catalogue, cabinet).drawers if one.slot == "foam"]
    return list({replace(one, name="", bank=0, last_bank=0, row=0, above_ground=None): None for one in drawers})


def _pair(need: Need) -> PairName:
    return need.set, need.cabinet


def _asked(wide: Sequence[_Wide], needs: Sequence[Need]) -> list[PairName]:
    """Pairs with a place that the widest size does not serve though it goes into another drawer there.

    A split group's parts cannot be pinned.
    """
    split = {_pair(need) for need in needs if need.group.part_of}
    pairs = {
        _pair(needs[n]) for one in wide for n in one.needs if n not in one.served and _pair(needs[n]) in one.reached
    }
    return sorted(pairs - split)


def _ready(wide: _Wide, pair: PairName, needs: Sequence[Need]) -> list[Organizer]:
    """The size as if it were ready-made for the pair's set."""
    groups = {needs[n].group.name for n in wide.needs if _pair(needs[n]) == pair and not needs[n].group.organizer}
    made = wide.size.organizer
    return [] if wide.size.existing else [replace(made, set=pair[0], group=group) for group in sorted(groups)]


def _second(
    shared: tuple[Catalogue, House, Fill | None], item: tuple[Outcome, tuple[Organizer, ...]]
) -> Outcome | None:
    """The second plan of the pair of ``first``, or ``None`` where nothing moves or a goal would suffer."""
    (catalogue, house, fill), (first, ready) = shared, item
    extended = replace(catalogue, organizers=tuple(sorted((*catalogue.organizers, *ready))))
    drawn = drawers_of(plan(extended, house, first.set, first.cabinet, fill, turns=False))
    if drawn.keys() != drawers_of(first).keys() or drawn == drawers_of(first):
        return None
    pins = tuple(Pin("in", first.set, first.cabinet, group, drawer=drawer) for group, drawer in sorted(drawn.items()))
    second = plan(catalogue, house, first.set, first.cabinet, fill, pins, turns=False)
    if isinstance(second, Fits) and isinstance(first, Fits) and _as_good(second, first):
        return second
    return None


def _as_good(second: Fits, first: Fits) -> bool:
    """Whether no goal that comes before re-cutting is worse."""
    names = [goal.name for goal in first.goals]
    before = names[: names.index("recut")] if "recut" in names else names
    values = {goal.name: goal.value for goal in second.goals}
    return all(values[goal.name] <= goal.value for goal in first.goals if goal.name in before)
