"""How many pairs of cabinets there are, and which of them were planned. Shows, never computes."""

from __future__ import annotations

from typing import Any

from rich.text import Text

from matcher.records import counted
from matcher.studies import CabinetPairs


def pairs_document(found: CabinetPairs) -> dict[str, Any]:
    """The counts: all pairs, those that lack area, those planned and those left."""
    return {"every": found.every, "lack_area": found.short, "planned": len(found.names), "left": found.left}


def pairs_line(found: CabinetPairs) -> Text:
    """The same in one line."""
    planned = counted(len(found.names), "pair")
    told = f"{planned} of {found.every} planned, side by side as one cabinet; {found.short} lack the area"
    left = f"; {found.left} larger or dearer ones are not planned" if found.left else ""
    return Text(f"{told}{left}. Cautions are of each cabinet by itself.")
