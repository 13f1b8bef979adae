"""The demonstration catalogue, an invented scenario that comes with the package, as files of a planner's own."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from tempfile import TemporaryDirectory

from matcher.records import UsageError


def write_demo(folder: Path) -> None:
    """Write the demonstration catalogue to a new or empty ``folder``, whole or not at all.

    Raises
    ------
    UsageError
        There is a file of that name, the folder is not empty, or it cannot be written.
    """
    if folder.exists() and not (folder.is_dir() and not any(folder.iterdir())):
        raise UsageError(f"{folder} is there already; expected a new or empty folder")
    above = folder.absolute().parent
    if not above.is_dir():
        raise UsageError(f"{folder}: the folder {above} does not exist")
    try:
        with TemporaryDirectory(prefix=f".{folder.name}.", dir=above) as temporary:
            made = Path(temporary) / "demo"
            made.mkdir()
            for file in _packaged().iterdir():
                (made / file.name).write_bytes(file.read_bytes())
            made.replace(folder)
    except OSError as closed:
        raise UsageError(f"{folder} cannot be written: {closed.strerror}") from closed


def _packaged() -> Traversable:
    """The catalogue's place: in the package, or beside it in a checkout, where it lies once for all."""
    package = files("matcher")
    demo = package / "demo"
    return demo if demo.is_dir() else package.joinpath("..", "data", "workshop")
