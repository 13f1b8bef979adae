"""Packages that only some of the work needs: asked for where that work begins, and named where they are missing."""

from __future__ import annotations

from importlib.util import find_spec

from matcher.records.errors import MissingExtraError

EXTRAS = {
    "cluster": ("distributed",),
    "desk": ("starlette", "uvicorn", "python_multipart"),
    "parquet": ("pyarrow",),
}
"""What each extra of the distribution installs, by the names under which it is imported."""


def need(extra: str, what: str) -> None:
    """Make sure that all packages of an extra are there before work begins that needs them.

    Raises
    ------
    MissingExtraError
        Some are not installed; the error names them, ``what`` needs them and how to install them.
    """
    missing = [name.replace("_", "-") for name in EXTRAS[extra] if find_spec(name) is None]
    if missing:
        how = f"in the project's folder, pip install -e '.[{extra}]'"
        raise MissingExtraError(f"{what} needs what is not installed here: {', '.join(missing)}; {how}")
