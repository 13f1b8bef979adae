"""Reads a file that somebody else made: only one that is a file, and none larger than any that is meant to be read."""

from __future__ import annotations

import errno
import os
from pathlib import Path

LARGEST = 100_000_000
"""Bytes of a file of text, at most; own choice."""


def bounded_bytes(path: Path, most: int = LARGEST) -> bytes:
    """What a file holds.

    Raises
    ------
    OSError
        It cannot be read, is a device or a pipe, or has more than ``most`` bytes.
    """
    if path.exists() and not path.is_file() and not path.is_dir():
        raise OSError(errno.EINVAL, "no file of text", str(path))
    if path.is_file() and path.stat().st_size > most:
        raise OSError(errno.EFBIG, f"{os.strerror(errno.EFBIG)}, more than {most:,} bytes", str(path))
    return path.read_bytes()


def bounded_text(path: Path, most: int = LARGEST) -> str:
    """What a file of UTF-8 text holds, with or without its mark.

    Raises
    ------
    OSError
        As `bounded_bytes`.
    UnicodeDecodeError
        It is no UTF-8 text.
    """
    return bounded_bytes(path, most).decode("utf-8-sig")
