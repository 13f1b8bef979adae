"""What the store of earlier runs holds, as a sentence and as a document."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from matcher.records import StoreSize, counted

MB = 1_000_000


def store_line(folder: Path, held: StoreSize, gone: StoreSize | None) -> str:
    """Where the store is and what it holds, or what was deleted from it."""
    if gone is not None:
        return f"{folder}: {_told(gone)} deleted"
    return f"{folder}: {_told(held)}; --empty deletes it, and runs with --no-store leave it alone"


def store_document(folder: Path, held: StoreSize, gone: StoreSize | None) -> dict[str, Any]:
    """The same as one document."""
    deleted = {"deleted_answers": gone.answers, "deleted_bytes": gone.bytes} if gone is not None else {}
    return {"folder": str(folder), "answers": held.answers, "bytes": held.bytes, **deleted}


def _told(size: StoreSize) -> str:
    return f"{counted(size.answers, 'answer')}, {size.bytes / MB:.1f} MB"
