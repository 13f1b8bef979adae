"""Cabinets that look alike: documents and lines. Shows, never computes."""

from __future__ import annotations

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.records import listed, show_mm, to_mm
from matcher.report.document import Document
from matcher.report.measuring_views import counted_where, reading_document
from matcher.studies import (
    ONE_AT_A_TIME,
    Branch,
    Counted,
    Identity,
    Lookalike,
    Narrowing,
    SizeDifference,
    ToldReading,
    Tree,
)


def identity_document(found: Identity) -> Document:
    """Which look-alikes are possible, and the readings that tell them apart."""
    return {
        "cabinet": found.cabinet,
        "readings": [reading_document(reading) for reading in found.readings],
        "narrowing": [_narrowing(one) for one in found.narrowing],
        "lookalikes": [_lookalike(one) for one in found.lookalikes],
        "tree": _tree(found.tree),
        "caution": ONE_AT_A_TIME,
    }


def identity_view(found: Identity) -> RenderableType:
    """What each count and reading excludes, the look-alikes beside them, then what to take next as a tree."""
    possible = sum(one.possible for one in found.lookalikes)
    lines = [f"Look-alikes of {found.cabinet}: {possible} of {len(found.lookalikes)} possible"]
    lines += [f"  {_told(one.told)}: {_excludes(one)}" for one in found.narrowing]
    lines += [f"  {one.cabinet}: {_beside(one, len(found.narrowing))}" for one in found.lookalikes]
    lone = [_told(one.told) for one in found.narrowing if one.lone]
    hint = f"each of these alone stands against all the rest, check it first: {'; '.join(lone)}"
    lines += [hint] if lone else []
    return Stack(*map(Text, [*lines, *tree_lines(found.tree)]), Text(f"! {ONE_AT_A_TIME}", "yellow"))


def tree_lines(tree: Tree, indent: str = "") -> list[str]:
    """A tree of counts and readings as indented sentences, e.g. ``drawer A3, inside width: under 472.0 mm: a``."""
    if not tree.branches:
        return [f"{indent}{_end(tree)}"]
    asked = f"count the {counted_where(tree.counted)}" if tree.counted else f"drawer {tree.drawer}, {tree.dimension}"
    lines = [f"{indent}{asked}:"]
    for branch in tree.branches:
        if branch.tree.branches:
            lines += [f"{indent}  {_range(branch)}:", *tree_lines(branch.tree, f"{indent}    ")]
        else:
            lines.append(f"{indent}  {_range(branch)}: {_end(branch.tree)}")
    return lines


def _range(branch: Branch) -> str:
    if branch.number is not None:
        return str(branch.number)
    if branch.start is None:
        return "no such drawer"
    if branch.end is None:
        return f"{show_mm(branch.start)} and more"
    return f"{show_mm(branch.start)} to under {show_mm(branch.end)}" if branch.start else f"under {show_mm(branch.end)}"


def _end(tree: Tree) -> str:
    if not tree.cabinets:
        return "none of them"
    if len(tree.cabinets) == 1:
        return tree.cabinets[0]
    nearly = [f"the nearer size is the likelier: {'; '.join(map(_nearly, tree.nearly))}"] if tree.nearly else []
    eye = [f"by eye: {'; '.join(tree.differ)}"] if tree.differ else []
    how = "; ".join([*nearly, *eye]) or "equal in all that is known of them"
    sure = "surely " if tree.nearly else ""
    return f"{' or '.join(tree.cabinets)}, not to be told apart {sure}by tape ({how})"


def _nearly(one: SizeDifference) -> str:
    sizes = [f"{show_mm(size)} in {listed(cabinets)}" for size, cabinets in one.sizes]
    return f"{one.dimension} of drawer{'s' if len(one.drawers) > 1 else ''} {listed(one.drawers)} {', '.join(sizes)}"


def _told(told: ToldReading) -> str:
    if isinstance(told, Counted):
        return f"{told.what} counted {told.number}"
    return f"{told.drawer} {told.dimension} read {show_mm(told.value)}"


def _excludes(one: Narrowing) -> str:
    if not one.excludes:
        return "excludes none"
    return "excludes " + listed([f"{cabinet} ({_instead(one.told, own)})" for cabinet, own in one.excludes])


def _instead(told: ToldReading, own: int | None) -> str:
    if own is None:
        return "no such drawer"
    return str(own) if isinstance(told, Counted) else show_mm(own)


def _beside(one: Lookalike, known: int) -> str:
    """Whether a cabinet is possible; what speaks against it stands with the counts and readings themselves."""
    if not known:
        return "possible"
    if one.possible:
        return f"possible, no reading further than {show_mm(one.off)} from its sizes"
    return f"no, {one.contradictions} of {known} speak against it"


def _narrowing(one: Narrowing) -> Document:
    counted = isinstance(one.told, Counted)
    told = (
        {"counted": one.told.what, "number": one.told.number}
        if isinstance(one.told, Counted)
        else {"drawer": one.told.drawer, "dimension": one.told.dimension, "value_mm": to_mm(one.told.value)}
    )
    instead = "has" if counted else "has_mm"
    excludes = [
        {"cabinet": cabinet, instead: own if counted or own is None else to_mm(own)} for cabinet, own in one.excludes
    ]
    return {**told, "excludes": excludes, "against_all_others": one.lone}


def _lookalike(one: Lookalike) -> Document:
    return {
        "cabinet": one.cabinet,
        "possible": one.possible,
        "off_mm": to_mm(one.off),
        "miscounted": [{"counted": count.what, "number": count.number, "has": own} for count, own in one.miscounted],
        "against": [reading_document(reading) for reading in one.against],
        "lacking": list(one.lacking),
    }


def _tree(tree: Tree) -> Document:
    return {
        "cabinets": list(tree.cabinets),
        "count": tree.counted,
        "drawer": tree.drawer or None,
        "dimension": tree.dimension,
        "nearly": [
            {
                "dimension": one.dimension,
                "drawers": list(one.drawers),
                "sizes": [{"size_mm": to_mm(size), "cabinets": list(names)} for size, names in one.sizes],
            }
            for one in tree.nearly
        ],
        "differ": list(tree.differ),
        "branches": [
            {
                "number": branch.number,
                "from_mm": None if branch.start is None else to_mm(branch.start),
                "under_mm": None if branch.end is None else to_mm(branch.end),
                "tree": _tree(branch.tree),
            }
            for branch in tree.branches
        ],
    }
