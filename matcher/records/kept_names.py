"""Names of what a store keeps: hashes of what was asked and of the program that answered."""

from __future__ import annotations

from functools import cache
from hashlib import blake2b
from importlib.metadata import version
from importlib.resources import files
from importlib.resources.abc import Traversable


def kept_name(program: bytes, *words: str) -> str:
    """The name of an answer of a program to what these words ask, in hexadecimal digits."""
    hashed = blake2b(program, digest_size=20)
    for word in words:
        hashed.update(word.encode("utf-8", "surrogatepass"))
        hashed.update(b"\0")
    return hashed.hexdigest()


@cache
def program_hash(rooms: tuple[str, ...], libraries: tuple[str, ...]) -> bytes:
    """A hash of the code and tables in these rooms, and of the versions of the libraries that they stand on."""
    hashed = blake2b(digest_size=20)
    for library in libraries:
        hashed.update(f"{library} {version(library)}\n".encode())
    for room in rooms:
        _add(hashed, files("matcher") / room)
    return hashed.digest()


def _add(hashed: blake2b, place: Traversable) -> None:
    """Add all files in a folder and in those within it, by name."""
    for one in sorted(place.iterdir(), key=lambda one: one.name):
        if one.is_dir():
            _add(hashed, one)
        elif not one.name.endswith(".pyc"):
            hashed.update(one.name.encode())
            hashed.update(one.read_bytes())
