"""Writes results to files by suffix: to a temporary file first, then renamed, so nothing is ever half written.

Prints to standard output, too.
"""

from __future__ import annotations

import csv
import io
import json
import os
import tempfile
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import IO, Any, TypeAlias

from matcher.catalogue import is_table
from matcher.records import NothingToShowError, UsageError

Writers: TypeAlias = Mapping[str, Callable[[], str | bytes]]
"""What makes a file's text or bytes, by its suffix; called only where such a file is asked for.

One raises `NothingToShowError` where the answer has nothing for its file.
"""


def check_writers(
    paths: Iterable[Path] | None, suffixes: Sequence[str], option: str = "--out", sources: Iterable[Path | None] = ()
) -> None:
    """Refuse, before any work is done, a file whose suffix is none of ``suffixes`` or that would spoil a source.

    ``sources`` are the catalogues and files that are read; those not given are ``None``.

    Raises
    ------
    UsageError
        A suffix is unknown, a folder does not exist, a file is named twice, is a folder or cannot have that name, or
        one of ``sources`` would be read with the file in it.
    """
    read, named = [source for source in sources if source], set[Path]()
    for path in paths or ():
        if _true(path) in named:
            raise UsageError(f"{option} {path}: named twice; each file is written once")
        named.add(_true(path))
        if path.suffix.lower() not in suffixes:
            raise UsageError(f"{option} {path}: expected a name ending in one of {', '.join(suffixes)}")
        _check_place(path, option, read)
        if path.is_dir():
            raise UsageError(f"{option} {path}: cannot be written: it is a folder")


def check_copy(path: Path, source: Path) -> None:
    """Refuse, before any work is done, a copy of ``source`` that is neither a workbook nor in a folder of its own.

    Raises
    ------
    UsageError
        The name has another suffix, a folder holds files or does not exist, or the copy would replace its source.
    """
    taken = path.is_file() or (path.is_dir() and any(path.iterdir()))
    if path.suffix.lower() != ".xlsx" and (path.suffix or taken):
        raise UsageError(f"--out {path}: expected a name ending in .xlsx, or a new or empty folder")
    _check_place(path, "--out", [source])


def _check_place(path: Path, option: str, sources: Iterable[Path]) -> None:
    """Refuse a file in a folder that does not exist or under a name that no file can have, and one that a source would
    be read with from then on."""
    try:
        path.lstat()
    except FileNotFoundError:
        pass
    except OSError as wrong:
        raise UsageError(f"{option} {path}: cannot be written: {wrong.strerror}") from wrong
    if not path.absolute().parent.is_dir():
        raise UsageError(f"{option} {path}: the folder {path.absolute().parent} does not exist")
    for source in sources:
        if _read_with(_true(source), path):
            raise UsageError(f"{option} {path}: would be read as part of {source}; write results to another place")


def write(paths: Iterable[Path] | None, writers: Writers) -> list[str]:
    """Write every file by its suffix, all of them or none; returns a line for each that the answer has nothing for.

    All are made first, then written beside their places, then renamed.

    Raises
    ------
    UsageError
        A file cannot be written there.
    """
    lacking, made = [], {}
    for path in paths or ():
        try:
            made[path] = writers[path.suffix.lower()]()
        except NothingToShowError as nothing:
            lacking.append(f"{path}: {nothing}")
    with ExitStack() as unfinished:
        beside = {path: _beside(path, content, unfinished) for path, content in made.items()}
        for path, temporary in beside.items():
            try:
                temporary.replace(path)
            except OSError as closed:
                raise UsageError(f"{path}: cannot be written: {closed.strerror}") from closed
    return lacking


def print_out(text: str, stream: IO[str] | None) -> None:
    """Print to a stream at once; ``None`` is a standard output that is closed.

    Raises
    ------
    UsageError
        The stream is closed, or the disk that it goes to is full.
    """
    if stream is None:
        raise UsageError("standard output is closed: nothing can be printed")
    try:
        stream.write(text)
        stream.flush()
    except OSError as closed:
        drop_unwritten(stream)
        raise UsageError(f"standard output cannot be written: {closed.strerror}") from closed


def drop_unwritten(stream: IO[str] | None) -> None:
    """Drop what a stream cannot write; else the interpreter would try again at its end, and fail."""
    if stream is None:
        return
    try:
        stream.flush()
    except OSError:
        with Path(os.devnull).open("wb") as nowhere:
            os.dup2(nowhere.fileno(), stream.fileno())


def _read_with(source: Path, path: Path) -> bool:
    """Whether ``path`` is the source itself, or a table in the folder that the source is; links are followed."""
    places = (_true(path), _true(path.parent) / path.name)
    return source in (*places, *(place.parent for place in places if is_table(place)))


def _true(path: Path) -> Path:
    """Where a path leads, links followed as far as they lead anywhere."""
    return Path(os.path.realpath(path))


def json_text(document: Any) -> str:
    """A document as JSON with a final newline."""
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def csv_text(rows: Iterable[Mapping[str, Any]]) -> str:
    """Rows as CSV; the columns are those of the first row."""
    listed = list(rows)
    stream = io.StringIO()
    writer = csv.DictWriter(stream, fieldnames=list(listed[0]) if listed else [], lineterminator="\n")
    writer.writeheader()
    writer.writerows({name: cell(value) for name, value in row.items()} for row in listed)
    return stream.getvalue()


def in_one_cell(value: Any) -> Any:
    """A list as one text, separated by semicolons, of reasons and cautions their texts; any other value as it is."""
    if isinstance(value, list):
        return "; ".join(item["text"] if isinstance(item, Mapping) else str(item) for item in value)
    return value


def cell(value: Any) -> Any:
    """A list is joined; a text that a spreadsheet would run as a formula is kept a text."""
    value = in_one_cell(value)
    return f"'{value}" if isinstance(value, str) and value[:1] in ("=", "+", "-", "@") else value


def _beside(path: Path, made: str | bytes, unfinished: ExitStack) -> Path:
    """A temporary file beside a path with what is to stand there; ``unfinished`` removes it unless it is renamed."""
    try:
        handle, name = tempfile.mkstemp(dir=path.absolute().parent, prefix=f".{path.name[:100]}.", suffix=".part")
        temporary = Path(name)
        unfinished.callback(temporary.unlink, missing_ok=True)
        with os.fdopen(handle, "wb") as stream:
            stream.write(made.encode() if isinstance(made, str) else made)
        temporary.chmod(0o644)
    except OSError as closed:
        raise UsageError(f"{path}: cannot be written: {closed.strerror}") from closed
    return temporary
