"""A released plan to take away: a workbook of the catalogue with its new parts, and the plan's document."""

from __future__ import annotations

import tempfile
from pathlib import Path

from matcher.catalogue import read_catalogue, write_release
from matcher.desk.following import PartsOfPlan
from matcher.desk.uploads import HELD_AS, Source
from matcher.records import UsageError
from matcher.report import json_text, release_document
from matcher.studies import new_rows

BOOK = "released.xlsx"
CHANGED = "the files of this catalogue were changed since the desk read them: end the desk and start it anew"


def released_plan(made: PartsOfPlan) -> str:
    """The document of a released plan."""
    return json_text(release_document(made.outcome, made.plan))


def released_book(made: PartsOfPlan, source: Source) -> bytes:
    """The workbook of the catalogue with the rows of the release.

    Raises
    ------
    UsageError
        There is no plan, or the catalogue is not what it was when it was planned.
    """
    if made.plan is None:
        raise UsageError("nothing is released: there is no plan")
    with tempfile.TemporaryDirectory(prefix="matcher-") as folder:
        held = source if isinstance(source, Path) else Path(folder, HELD_AS)
        if isinstance(source, bytes):
            held.write_bytes(source)
        if read_catalogue(held).digest != made.outcome.run.digest:
            raise UsageError(CHANGED)
        book = Path(folder, BOOK)
        write_release(held, book, new_rows(made.plan), released_plan(made))
        return book.read_bytes()
