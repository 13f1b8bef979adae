"""Who does the work."""

from __future__ import annotations

import os
from dataclasses import dataclass

from matcher.records import MatcherError, UsageError

AHEAD = 4
"""Items a worker is given before the first of them is asked back: it never waits, and results do not pile up."""


class SpreadingError(MatcherError):
    """The workers could not be reached, do not run this version, or were all lost."""


@dataclass(frozen=True, slots=True)
class Crew:
    """Who does the work: ``workers`` processes started here, or those of the scheduler at ``scheduler``.

    One worker without a scheduler is this process itself.
    """

    workers: int = 1
    scheduler: str = ""

    @property
    def at_home(self) -> bool:
        """Whether the work stays in this process."""
        return self.workers == 1 and not self.scheduler


def crew_of(workers: int | None, scheduler: str = "") -> Crew:
    """A crew of so many workers (``None``: one for each core this process may use) or of a cluster's.

    Raises
    ------
    UsageError
        Both are given, or there would be no worker.
    """
    if scheduler and workers is not None:
        raise UsageError("workers and scheduler: give one of them; a cluster brings its own workers")
    if workers is not None and workers < 1:
        raise UsageError(f"workers {workers}: expected a whole number from 1")
    return Crew(1, scheduler) if scheduler else Crew(workers or _cores())


def _cores() -> int:
    """Cores that this process may use; all of the machine's where its system does not say."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
