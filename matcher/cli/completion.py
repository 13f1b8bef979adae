"""Names that a shell completes: sets and cabinets of the catalogue typed before them."""

from __future__ import annotations

from pathlib import Path

import typer


def set_names(ctx: typer.Context, incomplete: str) -> list[str]:
    """Sets of the catalogue that begin as typed."""
    return _names(ctx, "set", ("tools", "organizers"), incomplete)


def cabinet_names(ctx: typer.Context, incomplete: str) -> list[str]:
    """Cabinets of the catalogue that begin as typed."""
    return _names(ctx, "cabinet", ("drawers",), incomplete)


def _names(ctx: typer.Context, column: str, sources: tuple[str, ...], incomplete: str) -> list[str]:
    """Texts of a column, each once; none while the catalogue cannot be read."""
    from matcher.catalogue import tables
    from matcher.records import MatcherError

    try:
        read = tables(Path(ctx.params["catalogue"]))
    except (KeyError, TypeError, MatcherError):
        return []
    frames = [read[name] for name in sources if name in read and column in read[name]]
    return sorted({name for frame in frames for name in frame[column] if name and name.startswith(incomplete)})
