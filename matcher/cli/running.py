"""What every command does round its one call: reads the catalogue, tells progress, prints, ends with the verdict."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

from matcher.records import Fill

if TYPE_CHECKING:
    from matcher.house import House
    from matcher.records import Catalogue, Wishes

YES, NO, OPEN = 0, 1, 3
EXITS = {"fits": YES, "does not fit": NO, "undecided": OPEN}
"""Exit code of a command by the verdict it found."""


def load(path: Path, house: Path | None) -> tuple[Catalogue, House]:
    """The catalogue and the house rules: those named, else the folder's, else the defaults."""
    from matcher.catalogue import read_catalogue
    from matcher.house import default_house, read_house

    own = path / "house.toml"
    chosen = house or (own if own.is_file() else None)
    rules = read_house(chosen) if chosen else default_house()
    return read_catalogue(path), rules


def filling(word: str | None) -> Fill | None:
    """The fill that --fill names."""
    if word in (None, "spread", "pack"):
        return word  # type: ignore[return-value]
    raise typer.BadParameter(f"{word!r}: expected spread or pack", param_hint="--fill")


def wishes_of(
    fill: str | None,
    pins: Iterable[str] | None,
    keep_free: Iterable[str] | None,
    tier: str,
    goals: str,
    off: Iterable[str] | None,
    keep: Path | None = None,
    alternatives: int = 0,
) -> Wishes:
    """What the options ask of this run."""
    from matcher.catalogue.kept import read_kept
    from matcher.pins import parse_keep_free, parse_pin
    from matcher.records import Wishes
    from matcher.wishes import parse_goals, parse_names, parse_off

    return Wishes(
        fill=filling(fill),
        pins=(*map(parse_pin, pins or ()), *map(parse_keep_free, keep_free or ())),
        tiers=parse_names(tier),
        goals=parse_goals(goals),
        off=parse_off(off or ()),
        keep=read_kept(keep) if keep else None,
        alternatives=alternatives,
    )


def show(document: Any, view: Callable[[], Any], json: bool) -> None:
    """Print the document as JSON, or else the view."""
    from matcher.report.files import json_text
    from matcher.report.terminal import show as shown

    if json:
        sys.stdout.write(json_text(document))
    else:
        shown(view())


def progress(json: bool) -> Callable[[int, int, str], None] | None:
    """A line on standard error that names what is being planned; nothing where nobody watches."""

    def told(done: int, total: int, name: str) -> None:
        _status("" if done == total else f"{done + 1} of {total}: {name}")

    return None if json or not sys.stderr.isatty() else told


def goal_progress(json: bool) -> Callable[[str, int, int], None] | None:
    """A line on standard error with the goal just solved, its value and its bound."""

    def told(name: str, value: int, bound: int) -> None:
        _status(f"goal {name}: {value}, bound {bound}" if name else "")

    return None if json or not sys.stderr.isatty() else told


def _status(text: str) -> None:
    sys.stderr.write(f"\r\x1b[K{text}")
    sys.stderr.flush()
