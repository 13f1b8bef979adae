"""Names of what is kept: a hash of what it answers and of the program that worked it out."""

from __future__ import annotations

from functools import cache
from hashlib import blake2b
from importlib.metadata import version
from importlib.resources import files

ROOMS = ("house", "layout", "packing", "records", "tools")
"""The rooms whose code the arrays come from."""
LIBRARIES = ("numpy", "shapely")


def name_of(*words: str) -> str:
    """The name of an answer to a question in these words, as this version of the program gives it."""
    hashed = blake2b(_program(), digest_size=20)
    for word in words:
        hashed.update(word.encode("utf-8", "surrogatepass"))
        hashed.update(b"\0")
    return hashed.hexdigest()


@cache
def _program() -> bytes:
    """A hash of the code and tables in these rooms and of the versions of the libraries that they calculate with."""
    hashed = blake2b(digest_size=20)
    for library in LIBRARIES:
        hashed.update(f"{library} {version(library)}\n".encode())
    for room in ROOMS:
        own = files("matcher") / room
        for one in sorted(own.rglob("*") if hasattr(own, "rglob") else own.iterdir(), key=str):
            if one.is_file() and not one.name.endswith(".pyc"):
                hashed.update(one.name.encode())
                hashed.update(one.read_bytes())
    return hashed.digest()
