"""Folders that are written whole or not at all."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory


@contextmanager
def whole_folder(path: Path) -> Iterator[Path]:
    """A folder to write into, which takes the place of ``path`` once all is in it; ``path`` is new or an empty folder.

    Until then it lies in a temporary folder beside that place, of which nothing is left if anything goes wrong.

    Raises
    ------
    OSError
        The place cannot be written, or is taken by then.
    """
    above = path.absolute().parent
    with TemporaryDirectory(prefix=f".{path.name[:100]}.", suffix=".part", dir=above) as temporary:
        made = Path(temporary) / "made"
        made.mkdir()
        yield made
        if path.is_dir():
            path.rmdir()
        made.replace(path)
