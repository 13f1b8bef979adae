"""What became of the tools that released organizers were made for: gone, new, more, fewer, of other sizes or groups."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from matcher.planning.existing_foam import organizers_of
from matcher.records import (
    Group,
    LengthUnit,
    ReleasedPlan,
    ReleasedTool,
    SizedPiece,
    counted,
    listed,
    released_tool,
)

SHOWN = 4
"""So many tools are named, then the rest is counted."""
SIZES = ("length", "width", "height")


@dataclass(frozen=True, slots=True)
class ToolChanges:
    """What is said of a group's tools: ``breaking`` leaves a tool without pocket or a pocket without tool."""

    breaking: tuple[str, ...] = ()
    other: tuple[str, ...] = ()


@dataclass(slots=True)
class _Today:
    """The tools of today's groups by what tells them apart."""

    group: dict[tuple[str, ...], str] = field(default_factory=dict)
    piece: dict[tuple[str, ...], SizedPiece] = field(default_factory=dict)
    count: Counter[tuple[str, ...]] = field(default_factory=Counter)


def tool_changes(plan: ReleasedPlan, groups: Iterable[Group], unit: LengthUnit) -> Mapping[str, ToolChanges]:
    """What is said of the tools of each released group, by its name; groups that the plan does not have, too."""
    today, of_group = _today(groups), defaultdict(list)
    for key, name in today.group.items():
        of_group[name].append(key)
    made = list(dict.fromkeys(one.group_meant for one in plan.organizers))
    names = [*made, *(name for name in of_group if name not in made)]
    told = {tool.known_by for one in plan.organizers for tool in one.tools}
    return {
        name: _changes(
            [t for one in organizers_of(plan, name) for t in one.tools], name, today, of_group[name], told, unit
        )
        for name in names
    }


def _today(groups: Iterable[Group]) -> _Today:
    found = _Today()
    for group in groups:
        for piece in group.pieces:
            key = released_tool(piece).known_by
            found.group[key] = group.name
            found.piece.setdefault(key, piece)
            found.count[key] += piece.piece.count
    return found


def _changes(
    tools: list[ReleasedTool],
    name: str,
    today: _Today,
    here: list[tuple[str, ...]],
    told: set[tuple[str, ...]],
    unit: LengthUnit,
) -> ToolChanges:
    counts: Counter[tuple[str, ...]] = Counter()
    for tool in tools:
        counts[tool.known_by] += tool.count
    first = {tool.known_by: tool for tool in reversed(tools)}
    gone = [first[key].tool for key in counts if key not in today.group]
    new = [today.piece[key].piece.tool for key in here if key not in told]
    moved = Counter(today.group[key] for key in counts if today.group.get(key, name) != name)
    amounts = [
        f"{first[key].tool}: {today.count[key]} in the set, {number} when released"
        for key, number in counts.items()
        if key in today.group and today.count[key] != number and today.group[key] == name
    ]
    breaking = [
        *([f"no longer in the set: {_named(gone)}"] if gone else []),
        *([f"new and without a pocket: {_named(new)}"] if new else []),
        *(f"now in the group {other!r}: {counted(number, 'kind')} of its tools" for other, number in moved.items()),
        *amounts,
    ]
    both = [(first[key], today.piece[key]) for key in counts if key in today.group]
    return ToolChanges(tuple(breaking), tuple(words for one, now in both for words in _sizes(one, now, unit)))


def _sizes(was: ReleasedTool, now: SizedPiece, unit: LengthUnit) -> Iterator[str]:
    for side in SIZES:
        before, after = getattr(was, side), getattr(now, side)
        if before != after:
            word = "larger" if after > before else "smaller"
            yield f"{was.tool} is {word} in {side}: {unit.show(after)}, was {unit.show(before)}"


def _named(tools: list[str]) -> str:
    rest = len(tools) - SHOWN
    return listed([*tools[:SHOWN], *([f"{rest} more"] if rest > 0 else [])])
