"""Where the store lies: the user's cache folder, as each system has one."""

from __future__ import annotations

from pathlib import Path

from platformdirs import user_cache_path


def usual_folder() -> Path:
    """The folder of the store for this user; it need not exist, and without a home folder it may be one nobody made.

    On Linux it follows XDG_CACHE_HOME.
    """
    return user_cache_path("drawer-matcher", appauthor=False) / "arrays"
