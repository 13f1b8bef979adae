"""Writes results to files by suffix: to a temporary file first, then renamed, so nothing is ever half written."""

from __future__ import annotations

import csv
import io
import json
import os
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from matcher.errors import UsageError

SUFFIXES = (".json", ".csv")


def check_suffixes(paths: Iterable[Path], more: Iterable[str] = ()) -> None:
    """Refuse, before any work is done, a file whose suffix is none of `SUFFIXES` and ``more``.

    Raises
    ------
    UsageError
        A suffix is unknown or a folder does not exist.
    """
    for path in paths:
        if path.suffix.lower() not in (*SUFFIXES, *more):
            raise UsageError(f"--out {path}: expected a name ending in one of {', '.join((*SUFFIXES, *more))}")
        if not path.absolute().parent.is_dir():
            raise UsageError(f"--out {path}: the folder {path.absolute().parent} does not exist")


def write(path: Path, document: Any, rows: Iterable[Mapping[str, Any]], drawing: str = "") -> None:
    """Write ``document`` as .json, ``rows`` as .csv or ``drawing`` as .svg."""
    suffix = path.suffix.lower()
    if suffix == ".svg":
        write_text(path, drawing)
    else:
        write_text(path, json_text(document) if suffix == ".json" else _csv_text(rows))


def json_text(document: Any) -> str:
    """A document as JSON with a final newline."""
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def write_text(path: Path, text: str) -> None:
    """Write ``text`` to ``path`` whole or not at all."""
    handle, name = tempfile.mkstemp(dir=path.absolute().parent, prefix=f".{path.name}.", suffix=".part")
    temporary = Path(name)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as stream:
            stream.write(text)
        temporary.chmod(0o644)
        temporary.replace(path)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise


def _csv_text(rows: Iterable[Mapping[str, Any]]) -> str:
    listed = list(rows)
    stream = io.StringIO()
    writer = csv.DictWriter(stream, fieldnames=list(listed[0]) if listed else [], lineterminator="\n")
    writer.writeheader()
    writer.writerows({name: _cell(value) for name, value in row.items()} for row in listed)
    return stream.getvalue()


def _cell(value: Any) -> Any:
    """Lists are joined; a text that a spreadsheet would run as a formula is kept a text."""
    if isinstance(value, list):
        value = "; ".join(item["text"] if isinstance(item, dict) and "text" in item else str(item) for item in value)
    return f"'{value}" if isinstance(value, str) and value[:1] in ("=", "+", "-", "@") else value
