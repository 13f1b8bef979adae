"""Which organizers of a plan to keep no longer go into their drawers, as they were cut there, and what is short."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

from matcher.fitting import block_of, carried
from matcher.house import House
from matcher.planning.question import Question
from matcher.records import Drawer, KeptOrganizer, LengthUnit, Snapshot, Stranded


def stranded(question: Question) -> tuple[Stranded, ...]:
    """Of the plan to keep the organizers that do not even go in trimmed; none without a plan to keep, or where only
    its drawers are known."""
    return tuple(_stranded(question.keep, question)) if question.keep else ()


def _stranded(keep: Snapshot, question: Question) -> Iterator[Stranded]:
    drawers = {drawer.name: drawer for drawer in question.cabinet.drawers}
    held: dict[str, list[KeptOrganizer]] = defaultdict(list)
    for kept in keep.organizers:
        held[kept.drawer].append(kept)
    for name, own in held.items():
        drawer = drawers.get(name)
        if drawer is None or drawer.slot == "blocked":
            yield Stranded(_names(own), name)
        else:
            yield from _out_of(drawer, own, question.house)


def _out_of(drawer: Drawer, held: Sequence[KeptOrganizer], house: House) -> Iterator[Stranded]:
    """Organizers that do not go in each by itself; where all do, all of them if they do not go in together.

    Blocks in the drawer are left out of account: foam may have been cut round them.
    """
    bare, out = replace(drawer, obstructions=()), []
    for kept in held:
        fit = carried(kept.made, bare, house)
        if fit.how == "re-cut":
            out.append(Stranded(_names([kept]), drawer.name, fit.lacks or "", fit.short))
    block = carried(block_of(held, house), bare, house)
    if not out and block.how == "re-cut":
        out = [Stranded(_names(held), drawer.name, block.lacks or "", block.short)]
    yield from out


def _names(held: Sequence[KeptOrganizer]) -> tuple[str, ...]:
    return tuple(kept.made.group for kept in held)


def stranded_words(one: Stranded, unit: LengthUnit) -> str:
    """What no longer goes in, e.g. ``hex keys no longer go into drawer B3 as planned: 4.0 mm short in height``."""
    names = " and ".join(one.groups)
    if not one.lacks:
        return f"{names}: drawer {one.drawer} is no longer there"
    together = " together" if len(one.groups) > 1 else ""
    return (
        f"{names} no longer go into drawer {one.drawer}{together} as planned: {unit.needed(one.short)} short in "
        f"{one.lacks}"
    )
