"""The square drives that a line tells: by the words beside them, or the only figure that can be one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from matcher.drafting.phrases import FigureRun, Said
from matcher.drafting.ranges import OpenError
from matcher.drafting.tokens import Figure
from matcher.tools import KINDS, SizingError, drive_name, parse_drive


def two_drives(said: Said, groups: Sequence[FigureRun]) -> tuple[str, str]:
    """Drive and size of an adapter: the square hole that is driven first, then the square that drives.

    Raises
    ------
    OpenError
        It does not say just two drives.
    """
    female, male, drives = said.figures("female"), said.figures("male"), said.figures("drive")
    loose = [end for run in groups for figure in run for end in (replace(figure, to=None), figure.to) if end]
    if female and male:
        pair = [female[0], male[0]]
    elif drives and (female or male):
        pair = [drives[0], male[0]] if male else [female[0], drives[0]]
    else:
        pair = [*female, *male, *loose] if female or male else loose
    names = [name for name in map(_drive_of, pair) if name]
    if len(names) != 2 or names[0] == names[1] or len(names) != len(pair):
        raise OpenError("which two square drives does it have, the driven one first?")
    others = [figure for figure in (*drives, *loose) if _drive_of(figure) not in names]
    if others:
        raise OpenError(f"what does {others[0].text} mean?")
    return names[0], names[1]


def _drive_of(figure: Figure) -> str:
    """Name of the square drive that a figure may be: by its fraction, its inches or its millimeters; else nothing."""
    if figure.to or len(figure.parts) > 1 or figure.unit not in ("", "in", "mm"):
        return ""
    try:
        return drive_name(parse_drive(f"{figure.parts[0]} {figure.unit}".strip()))
    except SizingError:
        return ""


def square_drive(said: Said, kind: str, groups: list[FigureRun]) -> tuple[str, list[FigureRun]]:
    """The square drive of a kind that has one, and the figures that are left."""
    told = said.figures("drive") + said.figures("female") + said.figures("male")
    if "drive" not in KINDS[kind].needs:
        if told and kind != "insert bit":
            raise OpenError(f"a {kind} has no square drive, but {told[0].text} is called one")
        return "", groups
    if not told:
        return _loose_drive(_apart(groups) if KINDS[kind].form in ("length", "text") else groups)
    names = {_drive_of(figure) for figure in told}
    if len(names) != 1 or "" in names:
        raise OpenError(f"which square drive is it: {' or '.join(figure.text for figure in told)}?")
    drive = names.pop()
    metric = any("." in figure.parts[0] for figure in told)
    return drive, [run for run in groups if not (len(run) == 1 and _again(run[0], drive, metric))]


def _again(figure: Figure, drive: str, metric: bool) -> bool:
    """Whether a figure only says the drive once more in the other unit: ``1/2 (12.5 mm)``."""
    return _drive_of(figure) == drive and ("." in figure.parts[0]) != metric and (metric or figure.unit != "in")


def _apart(groups: Sequence[FigureRun]) -> list[FigureRun]:
    """Drive and length of what has no other size, which an ``x`` joins: ``1/2 x 10 in``."""
    return [_two_of(run[0]) if len(run) == 1 and len(run[0].parts) == 2 else run for run in groups]


def _two_of(figure: Figure) -> FigureRun:
    first, last = figure.parts
    inches = first.endswith("in") or "/" in first
    return Figure((first.removesuffix("in"),), "in" if inches else ""), Figure((last,), figure.unit)


def _loose_drive(groups: list[FigureRun]) -> tuple[str, list[FigureRun]]:
    """A drive that no word names: the only inch fraction, which is one of the five drives."""
    inches = [(at, figure) for at, run in enumerate(groups) for figure in run if _is_inch(figure)]
    drives = [(at, figure) for at, figure in inches if _drive_of(figure) and not figure.to]
    fractions = [figure for _, figure in inches if "/" in figure.parts[0]]
    if not drives:
        raise OpenError("which square drive has it?")
    if len(drives) > 1 or len(fractions) > 1:
        raise OpenError(f"which of these is the square drive: {', '.join(figure.text for _, figure in inches)}?")
    at, drive = drives[0]
    rest = tuple(figure for figure in groups[at] if figure is not drive)
    left = [*groups[:at], *([rest] if rest else []), *groups[at + 1 :]]
    return _drive_of(drive), left


def _is_inch(figure: Figure) -> bool:
    return figure.unit == "in" or (not figure.unit and any("/" in part for part in figure.parts))
