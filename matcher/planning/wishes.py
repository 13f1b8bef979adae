"""What a planner asks of one run: read from words, checked, and worked into the catalogue and the house rules."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from matcher.house import House
from matcher.planning.adding import check_earlier, earlier_words
from matcher.planning.grouping import groups_of, member_sets
from matcher.planning.pins import matches, pin_words
from matcher.planning.shaping import shaped
from matcher.records import (
    Cabinet,
    Catalogue,
    Fill,
    GoalName,
    Group,
    GroupRule,
    Pin,
    Snapshot,
    UnknownNameError,
    UsageError,
    Wishes,
)

REORDERED: tuple[GoalName, ...] = ("order", "neighbors", "recut", "reach")
"""The goals that may change places."""
SWITCHED: tuple[GoalName, ...] = ("drawers", *REORDERED)
"""The goals that may be off."""
FILLS: Mapping[Fill, str] = {
    "spread": "as few unused drawers as possible",
    "pack": "as many free drawers as possible",
}

# ------------------------------------------------------------------------------------------------------------- words


def parse_goals(text: str) -> tuple[GoalName, ...]:
    """Goals in the order wished, e.g. ``reach, order``.

    Raises
    ------
    UsageError
        A name is none of a goal that may change places, or stands there twice.
    """
    return _goal_names("goals", parse_names(text), REORDERED)


def parse_off(names: Iterable[str]) -> tuple[GoalName, ...]:
    """Goals that are off.

    Raises
    ------
    UsageError
        A name is none of a goal, or stands there twice.
    """
    return _goal_names("off", names, SWITCHED)


def parse_names(text: str) -> tuple[str, ...]:
    """Names between commas."""
    return tuple(" ".join(part.split()) for part in text.split(",")) if text.strip() else ()


def _goal_names(wish: str, names: Iterable[str], known: tuple[GoalName, ...]) -> tuple[GoalName, ...]:
    found = {str(name): name for name in known}
    chosen = []
    for name in names:
        if name not in found or found[name] in chosen:
            fault = "is there twice" if name in found else "is no such goal"
            also = "; drawers always comes first" if name == "drawers" else ""
            raise UsageError(f"{wish}: {name!r} {fault}; expected, each once, {', '.join(known)}{also}")
        chosen.append(found[name])
    return tuple(chosen)


def wish_words(wishes: Wishes) -> tuple[str, ...]:
    """What was asked beside alternatives, as a planner would say it."""
    told = [earlier_words(plan) for plan in wishes.add_to]
    told += [FILLS[wishes.fill]] if wishes.fill else []
    told += [pin_words(pin) for pin in wishes.pins]
    told += [f"{name} by drive" for name in wishes.by_drive]
    told += [f"{name} by system" for name in wishes.by_system]
    told += [f"without {name}" for name in wishes.without]
    told += [f"from the top down {', then '.join(wishes.tiers)}"] if wishes.tiers else []
    told += [f"of the goals first {', then '.join(wishes.goals)}"] if wishes.goals else []
    told += [f"goal {name} off" for name in wishes.off]
    return (*told, "as near as possible to the plan given") if wishes.keep else tuple(told)


# ------------------------------------------------------------------------------------------------------------ checks


def check_wishes(wishes: Wishes, catalogue: Catalogue, set_name: str, cabinets: Sequence[Cabinet]) -> None:
    """Refuse wishes about things that are not there and wishes that contradict each other.

    A place need be in one of the cabinets only.

    Raises
    ------
    UnknownNameError
        A group, piece, family or place is not there.
    UsageError
        A group or goal is asked for twice, a group cannot be divided as asked, nothing is left of a set, or the plan to
        keep is of another set or cabinet.
    """
    groups = groups_of(shaped(catalogue, set_name, wishes).catalogue, set_name)
    _check_pins(wishes.pins, groups, cabinets)
    _named_tiers(wishes.tiers, groups)
    for name in wishes.goals:
        if name in wishes.off:
            raise UsageError(f"goal {name} cannot be both off and in the order of the goals")
    check_earlier(wishes.add_to, cabinets)
    if wishes.keep:
        _check_kept(wishes.keep, "+".join(member_sets(catalogue, set_name)), cabinets)


def _check_pins(pins: Iterable[Pin], groups: Iterable[Group], cabinets: Sequence[Cabinet]) -> None:
    known = {name for group in groups for name in (group.name, *group.also)}
    for pin in pins:
        for name in (pin.group, pin.other):
            if name and name not in known:
                raise UnknownNameError(
                    f"pin {pin_words(pin)!r}: no group {name!r}; the set has: {', '.join(sorted(known))}"
                )
        if pin.rule in ("together", "apart") and pin.group == pin.other:
            raise UsageError(f"pin {pin_words(pin)!r}: expected two groups")
        placed = pin.rule not in ("apart", "together") and pin.count is None
        if placed and not any(matches(pin, drawer) for cabinet in cabinets for drawer in cabinet.drawers):
            names = ", ".join(dict.fromkeys(drawer.name for cabinet in cabinets for drawer in cabinet.drawers))
            raise UnknownNameError(f"pin {pin_words(pin)!r}: no such place; the drawers are: {names}")


def _check_kept(keep: Snapshot, set_name: str, cabinets: Sequence[Cabinet]) -> None:
    for cabinet in cabinets:
        if (keep.set, keep.cabinet) != (set_name, cabinet.name):
            wanted = f"expected one of {set_name!r} in {cabinet.name!r}"
            raise UsageError(f"the plan to keep is of {keep.set!r} in {keep.cabinet!r}; {wanted}")


# --------------------------------------------------------------------------------------------------------- worked in


def worked_in(catalogue: Catalogue, house: House, set_name: str, wishes: Wishes) -> tuple[Catalogue, House]:
    """The catalogue with the set, the pins and the tiers asked for, and the house rules with the fill and the goals."""
    catalogue = shaped(catalogue, set_name, wishes).catalogue
    named = dict.fromkeys(wishes.goals)
    goals = replace(
        house.goals,
        fill=wishes.fill or house.goals.fill,
        order=_goal_order(wishes.goals, house.goals.order),
        off=tuple(dict.fromkeys([*(name for name in house.goals.off if name not in named), *wishes.off])),
    )
    shift = len(wishes.tiers)
    swap = tuple((first + shift, second + shift) for first, second in house.order.swap)
    pinned = replace(catalogue, pins=(*catalogue.pins, *wishes.pins))
    tiers = _tiers(wishes.tiers, groups_of(catalogue, set_name)) if wishes.tiers else {}
    return _with_tiers(pinned, tiers), replace(house, goals=goals, order=replace(house.order, swap=swap))


def _goal_order(wished: tuple[GoalName, ...], usual: tuple[GoalName, ...]) -> tuple[GoalName, ...]:
    """``together`` and ``drawers``, then the goals wished, then the others as usual."""
    return tuple(dict.fromkeys([*usual[:2], *wished, *usual]))


def _tiers(wished: tuple[str, ...], groups: tuple[Group, ...]) -> dict[str, int]:
    """The tier of every group by its plain name: those wished come first, the others keep their order below them."""
    named = _named_tiers(wished, groups)
    return {_plain(group): named.get(_plain(group), group.tier + len(wished)) for group in groups}


def _named_tiers(wished: tuple[str, ...], groups: tuple[Group, ...]) -> dict[str, int]:
    """The tier of every group named, by itself or by its family."""
    found: dict[str, int] = {}
    for tier, name in enumerate(wished, 1):
        meant = dict.fromkeys(_plain(group) for group in groups if name in (_plain(group), group.family))
        if not meant:
            known = sorted({_plain(group) for group in groups} | {group.family for group in groups})
            raise UnknownNameError(f"tiers: no group or family {name!r}; the set has: {', '.join(known)}")
        for group_name in meant:
            if group_name in found:
                raise UsageError(f"tiers: {group_name} is named twice, by itself or by its family")
            found[group_name] = tier
    return found


def _plain(group: Group) -> str:
    """The name under which tables speak of the group."""
    return group.organizer.group if group.organizer else group.name


def _with_tiers(catalogue: Catalogue, tiers: Mapping[str, int]) -> Catalogue:
    """The catalogue with these tiers in every row that may state one, and a row for groups that have none."""
    stated = {rule.group for rule in catalogue.group_rules}
    added = tuple(GroupRule(name, tier=tier) for name, tier in sorted(tiers.items()) if name not in stated)
    rules = (replace(rule, tier=tiers.get(rule.group, rule.tier)) for rule in catalogue.group_rules)
    made = (replace(row, tier=tiers.get(row.group, row.tier)) for row in catalogue.organizers)
    return replace(catalogue, group_rules=(*rules, *added), organizers=tuple(made))
