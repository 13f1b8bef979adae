"""Cabinets that look alike: documents and lines. Shows, never computes."""

from __future__ import annotations

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.records import show_mm, to_mm
from matcher.report.document import Document
from matcher.report.measuring_views import reading_document
from matcher.studies import ONE_AT_A_TIME, Branch, Identity, Lookalike, Tree


def identity_document(found: Identity) -> Document:
    """Which look-alikes are possible, and the readings that tell them apart."""
    return {
        "cabinet": found.cabinet,
        "readings": [reading_document(reading) for reading in found.readings],
        "lookalikes": [_lookalike(one) for one in found.lookalikes],
        "tree": _tree(found.tree),
        "caution": ONE_AT_A_TIME,
    }


def identity_view(found: Identity) -> RenderableType:
    """Look-alikes with what excludes them, then the next readings as a tree of questions."""
    lines = [Text(f"Look-alikes of {found.cabinet}; readings so far: {len(found.readings)}")]
    lines += [Text(f"  {one.cabinet}: {_excluded(one)}") for one in found.lookalikes]
    return Stack(*lines, *map(Text, tree_lines(found.tree)), Text(f"! {ONE_AT_A_TIME}", "yellow"))


def tree_lines(tree: Tree, indent: str = "") -> list[str]:
    """A tree of readings as indented sentences, e.g. ``drawer A3, inside width: under 472.0 mm: Dune-27N``."""
    if not tree.branches:
        return [f"{indent}{_end(tree)}"]
    lines = [f"{indent}drawer {tree.drawer}, {tree.dimension}:"]
    for branch in tree.branches:
        if branch.tree.branches:
            lines += [f"{indent}  {_range(branch)}:", *tree_lines(branch.tree, f"{indent}    ")]
        else:
            lines.append(f"{indent}  {_range(branch)}: {_end(branch.tree)}")
    return lines


def _range(branch: Branch) -> str:
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
    how = f"by eye: {'; '.join(tree.differ)}" if tree.differ else "equal in all that is known of them"
    return f"{' or '.join(tree.cabinets)}, not to be told apart by tape ({how})"


def _excluded(one: Lookalike) -> str:
    if one.possible:
        return "possible"
    told = [f"no drawer {drawer}" for drawer in one.lacking]
    told += [
        f"{reading.drawer} {reading.dimension} {show_mm(reading.nominal)}, read {show_mm(reading.value)}"
        for reading in one.against
    ]
    return f"no: {'; '.join(told)}"


def _lookalike(one: Lookalike) -> Document:
    return {
        "cabinet": one.cabinet,
        "possible": one.possible,
        "against": [reading_document(reading) for reading in one.against],
        "lacking": list(one.lacking),
    }


def _tree(tree: Tree) -> Document:
    return {
        "cabinets": list(tree.cabinets),
        "drawer": tree.drawer or None,
        "dimension": tree.dimension,
        "differ": list(tree.differ),
        "branches": [
            {
                "from_mm": None if branch.start is None else to_mm(branch.start),
                "under_mm": None if branch.end is None else to_mm(branch.end),
                "tree": _tree(branch.tree),
            }
            for branch in tree.branches
        ],
    }
