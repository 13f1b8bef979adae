"""Plans that come back to the desk: a document that was written earlier, or a plan at hand; in memory only."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

from matcher.catalogue import is_released, read_earlier, read_released
from matcher.planning import Fits
from matcher.records import ReleasedPlan, Snapshot, UsageError
from matcher.report import json_text, plan_document

HELD_AS = "plan.json"


@dataclass(frozen=True, slots=True)
class EarlierPlan:
    """A plan and, before it, those that it was itself added to; ``released`` holds its organizers if they are made.

    ``key`` is that of its document, by which addresses name it.
    """

    key: str
    name: str = field(compare=False, repr=False)
    plans: tuple[Snapshot, ...] = field(compare=False, repr=False)
    released: ReleasedPlan | None = field(compare=False, repr=False)

    @property
    def plan(self) -> Snapshot:
        """The plan itself."""
        return self.plans[-1]


def read_plan(content: bytes, name: str) -> EarlierPlan:
    """The plan in a document's bytes. ``name`` is only ever shown: it is part of no path.

    Raises
    ------
    UsageError
        Nothing was sent, or it holds no plan.
    """
    if not content:
        raise UsageError("no file was chosen: expected the document of a plan (.json)")
    with tempfile.TemporaryDirectory(prefix="matcher-") as folder:
        held = Path(folder, HELD_AS)
        held.write_bytes(content)
        try:
            plans, released = read_earlier(held), read_released(held) if is_released(held) else None
        except UsageError as refused:
            raise UsageError(str(refused).replace(str(held), name)) from None
    return EarlierPlan(sha256(content).hexdigest()[:20], name, plans, released)


def plan_at_hand(outcome: Fits) -> EarlierPlan:
    """A plan of the desk as its own document would be read."""
    return read_plan(json_text(plan_document(outcome)).encode(), f"{outcome.set} in {outcome.cabinet}")
