"""What edits from one catalogue to another do: as lines for the terminal, as JSON and as rows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from rich.console import Group as Stack
from rich.text import Text

from matcher.records import counted
from matcher.report.grids import Grid
from matcher.studies import BundleChange, CatalogueChanges, Edit

SHOWN = 12
"""So many edits are told in the terminal; all of them stand in the files."""


def changes_document(found: CatalogueChanges) -> dict[str, Any]:
    """All edits, bundles and parts."""
    return {
        "edits": [asdict(edit) for edit in found.edits],
        "house_rules_differ": found.house,
        "bundles": [{**asdict(one), "changed": one.changed} for one in found.bundles],
        "parts": [asdict(one) for one in found.parts],
    }


def change_rows(found: CatalogueChanges) -> list[dict[str, Any]]:
    """A row a bundle that edits touch."""
    return [
        {
            "set": one.set,
            "cabinet": one.cabinet,
            "units": one.units,
            "before": one.before,
            "now": one.now,
            "moves": "; ".join(one.moves),
            "recut": "; ".join(one.recut),
            "cut": "; ".join(one.cut),
            "dropped": "; ".join(one.dropped),
        }
        for one in found.bundles
    ]


def changes_view(found: CatalogueChanges) -> Stack:
    """The edits, then the bundles that change, those of most demand first, then the parts at risk."""
    return Stack(*_lines(found))


def _lines(found: CatalogueChanges) -> Iterator[Text | Grid]:
    changed = [one for one in found.bundles if one.changed]
    rules = "; the house rules differ" if found.house else ""
    yield Text(
        f"{counted(len(found.edits), 'edit')}{rules}. They touch {counted(len(found.bundles), 'bundle')}, "
        f"of which {len(changed)} change."
    )
    for edit in found.edits[:SHOWN]:
        yield Text(f"  {_edit_words(edit)}")
    if len(found.edits) > SHOWN:
        yield Text(f"  and {counted(len(found.edits) - SHOWN, 'edit')} more: in the files of --out")
    if changed:
        yield Text("Bundles that change, those of most units a year first:")
        for one in changed:
            yield Text(f"  {one.set} in {one.cabinet} ({one.units:g} a year): {'; '.join(_bundle_words(one))}")
    if found.parts:
        table = Grid("part", "set", "~group", "~=what becomes of it", "*in stock", "~no longer as is in")
        for part in found.parts:
            row = (part.part, part.set, part.group, part.state, str(part.on_hand), ", ".join(part.bundles))
            table.add_row(*row)
        yield Text("Parts at risk, those of most stock first:")
        yield table


def _edit_words(edit: Edit) -> str:
    if not edit.column:
        return f"{edit.table}: {edit.row} is {edit.before or edit.now}"
    return f"{edit.table}: {edit.row}, {edit.column} {edit.now}, was {edit.before}"


def _bundle_words(one: BundleChange) -> Iterator[str]:
    if one.before != one.now:
        yield f"{one.now}, was: {one.before}"
    yield from one.moves
    for words, groups in (("cut anew", one.recut), ("new", one.cut), ("no longer made", one.dropped)):
        if groups:
            yield f"{words}: {', '.join(groups)}"
