"""The store that this process keeps its arrays in, if any: commands and the desk have one, the library has none."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from matcher.store.arrays import ArrayStore

_IN_FORCE: list[ArrayStore] = []


def keep_in(folder: Path | None) -> None:
    """From now on this process keeps arrays in the folder, or none beyond its own end."""
    _IN_FORCE[:] = [ArrayStore(folder)] if folder else []


def store_folder() -> Path | None:
    """Where this process keeps arrays, if it does."""
    return _IN_FORCE[0].folder if _IN_FORCE else None


def recalled_array(name: Callable[[], str], made: Callable[[], NDArray[np.int64]]) -> NDArray[np.int64]:
    """The array kept under a name, or else ``made`` and kept; without a store it is made."""
    if not _IN_FORCE:
        return made()
    store, known = _IN_FORCE[0], name()
    found = store.read(known)
    if found is None:
        found = made()
        store.write(known, found)
    return found
