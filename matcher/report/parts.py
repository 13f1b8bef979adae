"""Finished blocks of a run, kept on the disk until its file is written, so that a run that was stopped goes on.

What all blocks stand on, a row for each group, is kept in the same way. Parts lie in a folder beside the file,
``FILE.parts``. Each begins with a line that says which block of which run it is and what its content's checksum is. A
part that begins with another line, as it was cut short, changed, or is one of another block or run, does not count: its
block is worked out anew. A folder in which anything else lies is left alone. Only one run at a time works on a file: it
holds a lock, which ends with it however it ends.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from hashlib import sha256
from io import BufferedWriter
from pathlib import Path
from secrets import token_hex
from typing import Any, TypeAlias

from matcher.records import UsageError

try:
    from fcntl import LOCK_EX, LOCK_NB, flock
except ImportError:  # a system without such locks: two runs there need two names
    LOCKS = False
else:
    LOCKS = True

PairRow: TypeAlias = Sequence[Any]
"""Texts, numbers, truths and, where there is nothing to say, ``None``."""

LOCK = "matcher-lock.part"
KNOWN = re.compile(r"matcher-(lock|(group-)?\d{6,})\.part|\.matcher-[0-9a-f]{8}\.part")
"""Names of parts, of the lock, and of the temporary files that become parts; nothing else is ever removed."""


class Parts:
    """The finished blocks, ``done``, of the run ``identity`` on their way to ``path``.

    Raises
    ------
    UsageError
        The folder cannot be made or written, something else lies there, or another run works on it.
    """

    def __init__(self, path: Path, identity: str, blocks: int):
        self.path = path
        self.folder = path.with_name(f"{path.name}.parts")
        self.identity = identity
        self.blocks = range(blocks)
        try:
            self._open()
            self._lock = self._locked()
        except OSError as refused:
            raise UsageError(f"--out {path}: cannot be written: {refused.strerror}") from refused
        self.done = frozenset(number for number in self.blocks if self._content(number) is not None)

    def _open(self) -> None:
        """Make the folder, or take up one that holds nothing but parts."""
        if self.path.is_dir():
            raise UsageError(f"--out {self.path}: this is a folder")
        if not os.path.lexists(self.folder):
            self.folder.mkdir()
            settle(self.path.absolute().parent)
        if self.folder.is_symlink() or not self.folder.is_dir():
            raise UsageError(f"--out {self.path}: {self.folder} is in the way: expected a folder of parts, or nothing")
        strange = sorted(path.name for path in self.folder.iterdir() if not _known(path))
        if strange:
            told = f"it holds {strange[0]!r}, which no run put there; move it, or give another name"
            raise UsageError(f"--out {self.path}: the folder {self.folder} is in the way: {told}")
        for path in self.folder.iterdir():
            if path.is_dir():
                path.rmdir()

    def _locked(self) -> BufferedWriter:
        """The lock, held until `close`, or as long as this process lives."""
        held = (self.folder / LOCK).open("wb")
        try:
            if LOCKS:
                flock(held, LOCK_EX | LOCK_NB)
        except BlockingIOError as refused:
            held.close()
            told = "another run is working on it; wait for its end, or give another name"
            raise UsageError(f"--out {self.path}: {told}") from refused
        return held

    def _part(self, number: int) -> Path:
        return self.folder / f"matcher-{number:06d}.part"

    def _head(self, number: int, content: bytes, what: str = "block") -> bytes:
        """The line that the part begins with."""
        return f"rows of {what} {number} of run {self.identity}, sha256 {sha256(content).hexdigest()}\n".encode()

    def _content(self, number: int) -> bytes | None:
        """What a sound part holds; nothing if it is not there or not sound."""
        return self._sound(self._part(number), number)

    def _sound(self, path: Path, number: int, what: str = "block") -> bytes | None:
        try:
            head, end, content = path.read_bytes().partition(b"\n")
        except OSError:
            return None
        return content if head + end == self._head(number, content, what) else None

    def add(self, number: int, rows: Sequence[PairRow]) -> None:
        """Keep the rows of a finished block."""
        content = json.dumps(rows).encode()
        renamed(self._part(number), lambda temporary: temporary.write_bytes(self._head(number, content) + content))

    def add_group(self, number: int, content: bytes) -> None:
        """Keep what was worked out for a group, if the disk lets it; it need not outlast a power cut."""
        temporary = self.folder / f".matcher-{token_hex(4)}.part"
        with suppress(OSError):
            try:
                with temporary.open("wb") as stream:
                    stream.write(self._head(number, content, "group") + content)
                temporary.replace(self._group(number))
            finally:
                temporary.unlink(missing_ok=True)

    def group(self, number: int) -> bytes | None:
        """What is kept for a group; nothing if nothing sound is."""
        return self._sound(self._group(number), number, "group")

    def _group(self, number: int) -> Path:
        return self.folder / f"matcher-group-{number:06d}.part"

    def rows(self) -> Iterator[list[PairRow]]:
        """The rows of each block in order, once all are done.

        Raises
        ------
        UsageError
            A part was changed or removed since.
        """
        for number in self.blocks:
            content = self._content(number)
            if content is None:
                raise UsageError(f"{self._part(number)}: changed or removed during the run; start it again to go on")
            yield json.loads(content)

    def remove(self) -> None:
        """Remove the parts and, unless somebody else put something into it, their folder; let go of the lock."""
        with suppress(OSError):
            for path in self.folder.iterdir():
                if _known(path):
                    path.unlink()
            self.folder.rmdir()
        self.close()

    def close(self) -> None:
        """Let go of the lock; what is kept stays."""
        self._lock.close()


def _known(path: Path) -> bool:
    """Whether it may be removed: what a run put there, or an empty folder in its place, with which nothing is lost."""
    empty = path.is_dir() and not any(path.iterdir())
    return bool(KNOWN.fullmatch(path.name)) and not path.is_symlink() and (path.is_file() or empty)


def renamed(path: Path, write: Callable[[Path], object]) -> None:
    """Write a temporary file, then rename it: the file is whole, also after a power cut, or not there.

    Raises
    ------
    UsageError
        It cannot be written there.
    """
    temporary = path.with_name(f".matcher-{token_hex(4)}.part")
    try:
        temporary.touch(exist_ok=False)
        write(temporary)
        settle(temporary)
        temporary.replace(path)
        settle(path.absolute().parent)
    except OSError as refused:
        raise UsageError(f"{path}: cannot be written: {refused.strerror or refused}") from refused
    finally:
        temporary.unlink(missing_ok=True)


def settle(path: Path) -> None:
    """Have a file's content, or a folder's names, written to the disk itself; some file systems cannot for folders."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:
        if not path.is_dir():
            raise
    finally:
        os.close(handle)
