"""A folder of arrays by name: each file is written whole or not at all, checked when read, and bounded in all.

A file that cannot be read, or does not hold what was written, counts as none. A folder that cannot be written, or a
full disk, means that nothing is kept. Two runs may use one folder: a file is put in its place in one step.
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

import numpy as np
from numpy.typing import NDArray

MOST_BYTES = 300_000_000
"""More than this is not kept: then those go that were not asked for the longest, until a fifth is free again."""
KEPT_SHARE = 0.8
ONCE_IN = 500
"""The size of the folder is looked at once in so many writes, and at the first."""
DIGEST = 16
DAY = 86400.0


@dataclass(frozen=True, slots=True)
class StoreSize:
    """How many arrays a store holds, and how many bytes they take."""

    arrays: int
    bytes: int


@dataclass(slots=True)
class ArrayStore:
    """A store in a folder, which is made once something is kept."""

    folder: Path
    most_bytes: int = MOST_BYTES
    _written: int = field(default=0)

    def read(self, name: str) -> NDArray[np.int64] | None:
        """The rows of three whole numbers kept under a name; nothing where there are none, or broken ones."""
        path = self._path(name)
        try:
            held = path.read_bytes()
            if time.time() - path.stat().st_mtime > DAY:
                os.utime(path)
        except OSError:
            return None
        digest, payload = held[:DIGEST], held[DIGEST:]
        if digest != _digest(name, payload) or len(payload) % 12:
            return None
        return np.frombuffer(payload, dtype="<i4").reshape(-1, 3).astype(np.int64)

    def write(self, name: str, rows: NDArray[np.int64]) -> None:
        """Keep rows of three whole numbers below 2**31 under a name, if the folder lets it."""
        payload = np.ascontiguousarray(rows, dtype="<i4").tobytes()
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

    def size(self) -> StoreSize:
        """What the store holds."""
        sizes = [size for _, size, _ in self._files()]
        return StoreSize(len(sizes), sum(sizes))

    def empty(self) -> StoreSize:
        """Delete all that the store holds; what that was."""
        before = self.size()
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
