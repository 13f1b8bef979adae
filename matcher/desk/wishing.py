"""Wishes at the desk: each an entry of one field and its words, as they stand in an address, in the order asked.

A later wish takes the place of an earlier one about the same: a group goes in one drawer, there is one order from the
top. The earlier one stays in the list, so that undoing the last entry brings it back. An entry ``pins`` holds several
pins, a line each, that are asked and undone together.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import chain
from typing import TypeAlias

from matcher.planning import (
    parse_goals,
    parse_keep_free,
    parse_names,
    parse_off,
    parse_pin,
    parse_together,
    pin_words,
    wish_words,
)
from matcher.records import Fill, Pin, Snapshot, UsageError, Wishes

Entry: TypeAlias = tuple[str, str]
"""A field of `KINDS` and the wish in words."""
KINDS = ("pin", "pins", "without", "by_drive", "by_system", "tiers", "goals", "off")
MOST = 100
"""Entries that are taken."""


def wishes_of(
    entries: Iterable[Entry],
    fill: Fill | None,
    alternatives: int = 0,
    keep: Snapshot | None = None,
    add_to: tuple[Snapshot, ...] = (),
) -> Wishes:
    """The wishes in force of a list of entries.

    Raises
    ------
    UsageError
        The words of an entry are none that its field takes.
    """
    said: dict[str, list[str]] = {kind: [] for kind in KINDS}
    for kind, words in in_force(entries):
        said[kind].append(words)
    return Wishes(
        fill=fill,
        pins=tuple(map(parse_pin, said["pin"])),
        without=tuple(said["without"]),
        by_drive=tuple(said["by_drive"]),
        by_system=tuple(said["by_system"]),
        tiers=parse_names(", ".join(said["tiers"])),
        goals=parse_goals(", ".join(said["goals"])),
        off=parse_off(said["off"]),
        alternatives=alternatives,
        keep=keep,
        add_to=add_to,
    )


def words_of(entry: Entry) -> str:
    """An entry as a planner would say it."""
    return ", ".join(wish_words(wishes_of([entry], None)))


def pins_entry(words: Sequence[str]) -> Entry:
    """One entry of one or several pins."""
    return ("pin", words[0]) if len(words) == 1 else ("pins", "\n".join(words))


def in_force(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The wishes that no later one takes the place of, each an entry of its own."""
    last: dict[Entry, Entry] = {}
    for wish in chain.from_iterable(map(_each, entries)):
        last.pop(_about(wish), None)
        last[_about(wish)] = wish
    return tuple(last.values())


def with_entry(entries: Sequence[Entry], added: Entry) -> tuple[Entry, ...]:
    """The entries and one more, but for one whose wishes are in force already."""
    return tuple(entries) if {*_each(added)} <= {*in_force(entries)} else (*entries, added)


def dropped(entries: Sequence[Entry], wish: Entry) -> tuple[Entry, ...]:
    """The entries without a wish and what it took the place of."""
    rest = ([one for one in _each(entry) if _about(one) != _about(wish)] for entry in entries)
    return tuple(own[0] if len(own) == 1 else pins_entry([words for _, words in own]) for own in rest if own)


def _each(entry: Entry) -> tuple[Entry, ...]:
    """The wishes of an entry."""
    kind, words = entry
    return tuple(("pin", line) for line in words.splitlines()) if kind == "pins" else (entry,)


def _about(entry: Entry) -> Entry:
    """What a wish is about: two about the same cannot both be in force."""
    kind, words = entry
    if kind in ("tiers", "goals"):
        return kind, ""
    if kind == "pin" and (pin := parse_pin(words)).rule == "in":
        return "in", pin.group
    return entry


def read_entries(fields: Iterable[tuple[str, str]]) -> tuple[Entry, ...]:
    """The entries among fields, in their order.

    Raises
    ------
    UsageError
        There are too many, or the words of one are none that its field takes.
    """
    found = [(name, words.strip()) for name, words in fields if name in KINDS and words.strip()]
    if len(found) > MOST:
        raise UsageError(f"{len(found)} wishes: expected at most {MOST}")
    entries: tuple[Entry, ...] = ()
    for kind, words in found:
        pins = [pin_words(parse_pin(line)) for line in words.splitlines()] if kind in ("pin", "pins") else ()
        entries = with_entry(entries, pins_entry(pins) if pins else (kind, words))
    return entries


# ------------------------------------------------------------------------------------- what a button or form means


def goes_in(group: str, drawer: str) -> str:
    """The words of the pin that puts a group into a drawer."""
    return pin_words(Pin("in", group=group, drawer=drawer))


def stays_out(group: str, drawer: str) -> str:
    """The words of the pin that keeps a group out of a drawer."""
    return pin_words(Pin("not in", group=group, drawer=drawer))


def stays_free(drawer: str) -> str:
    """The words of the pin that keeps a drawer free."""
    return pin_words(Pin("keep free", drawer=drawer))


def said_in_a_form(add: str, fields: Mapping[str, str]) -> tuple[Entry, ...]:
    """The entries that the fields of one of the forms mean; none where all is left blank.

    Raises
    ------
    UsageError
        Something that belongs to it was not chosen.
    """
    if add not in _READERS:
        raise UsageError(f"wish {add!r}: expected one of {', '.join(_READERS)}")
    return tuple(_READERS[add](fields))


def _placed(fields: Mapping[str, str]) -> Iterator[Entry]:
    group, drawer = _chosen(fields, "group"), _chosen(fields, "drawer")
    if fields.get("rule") not in ("in", "not in"):
        raise UsageError("a group in a drawer: choose whether it goes in or stays out")
    yield "pin", goes_in(group, drawer) if fields["rule"] == "in" else stays_out(group, drawer)


def _apart(fields: Mapping[str, str]) -> Iterator[Entry]:
    yield _pin(Pin("apart", group=_chosen(fields, "group"), other=_chosen(fields, "other")))


def _together(fields: Mapping[str, str]) -> Iterator[Entry]:
    yield from map(_pin, parse_together(f"{_chosen(fields, 'group')} with {_chosen(fields, 'other')}"))


def _free(fields: Mapping[str, str]) -> Iterator[Entry]:
    place, count, height = (fields.get(name, "") for name in ("place", "count", "height"))
    if place:
        yield _pin(parse_pin(f"keep {place} free"))
    if count:
        least = f" of {height} {fields.get('height_unit', 'mm')}" if height else ""
        yield _pin(parse_keep_free(f"{count}{least}"))
    if not place and not count:
        raise UsageError("keep free: choose a place or type how many drawers")


def _ordered(fields: Mapping[str, str]) -> Iterator[Entry]:
    names = [fields[name] for name in ("first", "second", "third") if fields.get(name)]
    if not names:
        raise UsageError("order: choose what comes first from the top")
    yield "tiers", ", ".join(names)


def _named(kind: str) -> Callable[[Mapping[str, str]], Iterator[Entry]]:
    def read(fields: Mapping[str, str]) -> Iterator[Entry]:
        yield kind, _chosen(fields, "name")

    return read


_READERS: Mapping[str, Callable[[Mapping[str, str]], Iterator[Entry]]] = {
    "place": _placed,
    "apart": _apart,
    "together": _together,
    "free": _free,
    "order": _ordered,
    **{kind: _named(kind) for kind in ("without", "by_drive", "by_system", "goals", "off")},
}


def _pin(pin: Pin) -> Entry:
    return "pin", pin_words(pin)


def _chosen(fields: Mapping[str, str], name: str) -> str:
    if not fields.get(name):
        raise UsageError(f"{name}: nothing was chosen")
    return fields[name]
