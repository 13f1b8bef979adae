"""One color a family of groups, the same in every picture, whatever set or cabinet it shows.

A picture never tells a family by color alone: the group's name stands beside it. No color means a drive, a system or a
make. Colors are light enough for dark words on them and neutral enough for no meaning of their own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from matcher.planning import Outcome, Question, drawn, part_of
from matcher.records import Group

COLORS = (
    "#ccedfb", "#cdbe98", "#f6e3b9", "#adc1ae", "#dad8d6", "#beb3c2", "#90e1fa", "#83b1e2",
    "#b8dbbb", "#c1a490", "#e9cb97", "#a2ab78", "#a7cafe", "#9ea2be", "#e0b5e0", "#88a79d",
)  # fmt: skip
"""Found by a search for the largest least distance between any two, as seen in full color and by people who are blind
to red, to green or to blue; ordered so that one is lighter or darker than the next (own choice). A test measures it."""


def family_colors(question: Question) -> Mapping[str, str]:
    """A color for every family, as ``#rrggbb``: those of the house by name, then the others of the catalogue by name.

    So a family keeps its color for every set and cabinet of a catalogue, and one of the house in any catalogue. With
    more than 16 families the colors begin again.
    """
    rules, organizers = question.catalogue.group_rules, question.catalogue.organizers
    housed = {rule.family for rule in rules if rule.house}
    others = {rule.family for rule in rules} | {ready.family for ready in organizers}
    others |= {group.family for group in question.groups}
    ordered = [*sorted(housed - {""}), *sorted(others - housed - {""})]
    return {family: COLORS[position % len(COLORS)] for position, family in enumerate(ordered)}


def families_shown(outcome: Outcome) -> Mapping[str, str]:
    """The families in an answer's picture with their colors, in the order of their groups; none without a plan."""
    colors, shown, part = family_colors(outcome.question), drawn(outcome), part_of(outcome)
    inside = shown.plan.groups if shown else ()
    groups = (*inside, *(one.group for one in (part.outside if part else ())))
    return {group.family: colors[group.family] for group in groups}


def colors_of(groups: Iterable[Group], colors: Mapping[str, str]) -> tuple[str, ...]:
    """The colors of groups that lie side by side, each family's once, in their order."""
    return tuple(dict.fromkeys(colors[group.family] for group in groups))
