"""What earlier runs worked out, in files of one folder: plain bytes by name, never code.

Each file is written whole or not at all, checked when it is read, and bounded in all. A file that cannot be read, or
does not hold what was written, counts as none. A folder that cannot be written, or a full disk, means that nothing is
kept. Two runs may use one folder: a file is put in its place in one step.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import blake2b
from pathlib import Path
from tempfile import NamedTemporaryFile

MOST_BYTES = 300_000_000
"""More than this is not kept: then those go that were not asked for the longest, until a fifth is free again."""
KEPT_SHARE = 0.8
ONCE_IN = 500
"""The size of the folder is looked at once in so many writes, and at the first."""
DIGEST = 16
DAY = 86400.0


@dataclass(frozen=True, slots=True)
class StoreSize:
    """How many answers a store holds, and how many bytes they take."""

    answers: int
    bytes: int


@dataclass(slots=True)
class Store:
    """A store in a folder, which is made once something is kept."""

    folder: Path
    most_bytes: int = MOST_BYTES
    _written: int = field(default=0)

    def read(self, name: str) -> bytes | None:
        """What is kept under a name; nothing where there is nothing, or something broken."""
        path = self._path(name)
        try:
            held = path.read_bytes()
            if time.time() - path.stat().st_mtime > DAY:
                os.utime(path)
        except OSError:
            return None
        digest, payload = held[:DIGEST], held[DIGEST:]
        return payload if digest == _digest(name, payload) else None

    def write(self, name: str, payload: bytes) -> None:
        """Keep bytes under a name of hexadecimal digits, if the folder lets it."""
        path = self._path(name)
        with suppress(OSError):
            path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            made = NamedTemporaryFile(dir=path.parent, prefix=".", delete=False)  # noqa: SIM115  closed below
            try:
                with made:
                    made.write(_digest(name, payload) + payload)
                Path(made.name).replace(path)
            except BaseException:
                with suppress(OSError):
                    Path(made.name).unlink()
                raise
        if self._written % ONCE_IN == 0:
            self.prune()
        self._written += 1

    def extent(self) -> StoreSize:
        """What the store holds."""
        sizes = [size for _, size, _ in self._files()]
        return StoreSize(len(sizes), sum(sizes))

    def empty(self) -> StoreSize:
        """Delete all that the store holds; what that was."""
        before = self.extent()
        for _, _, path in self._files():
            with suppress(OSError):
                path.unlink()
        return before

    def prune(self) -> None:
        """Delete what was not asked for the longest, if the store holds more than it may."""
        held = sorted(self._files())
        whole = sum(size for _, size, _ in held)
        if whole <= self.most_bytes:
            return
        for _, size, path in held:
            if whole <= KEPT_SHARE * self.most_bytes:
                return
            with suppress(OSError):
                path.unlink()
            whole -= size

    def _path(self, name: str) -> Path:
        return self.folder / name[:2] / name[2:]

    def _files(self) -> Iterator[tuple[float, int, Path]]:
        """When each file was last asked for, its size, and where it is; only files that a store writes."""
        for path in self.folder.glob("[0-9a-f][0-9a-f]/*"):
            with suppress(OSError):
                if path.is_file() and not path.is_symlink():
                    told = path.stat()
                    yield told.st_mtime, told.st_size, path


def _digest(name: str, payload: bytes) -> bytes:
    return blake2b(payload, digest_size=DIGEST, key=name.encode()).digest()


_IN_FORCE: list[Store] = []


def keep_in(folder: Path | None) -> None:
    """From now on this process keeps answers in the folder, or none beyond its own end, as it does at first."""
    _IN_FORCE[:] = [Store(folder)] if folder else []


def store_in_force() -> Store | None:
    """The store of this process, if it has one: commands have, the library has none unless it is told."""
    return _IN_FORCE[0] if _IN_FORCE else None
