"""Drive, sizes and length of the tools of a line, from the figures it has; what is open is asked, never chosen."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from matcher.drafting.figures import Figure, value
from matcher.drafting.kind_choice import tip_letters
from matcher.drafting.phrases import Run, Said
from matcher.drafting.ranges import OpenError, expanded
from matcher.drafting.vocabulary import Vocabulary
from matcher.records import System, inch, mm
from matcher.tools import KINDS, SizingError, drive_name, parse_drive, parse_size

SHORTEST = 20
"""Millimeters from which on a figure may be a length, such as that of a blade; common practice, no source."""
_METRIC = {"mm": Fraction(1), "cm": Fraction(10)}
_WEIGHTS = ("g", "kg", "oz", "lb")
_SHANKS = ("1/4", "5/16")
_DEEP = ("socket", "impact socket")
_SIZE_BY_LENGTH = ("nut driver", "punch", "chisel")
_WITH_LENGTH = ("insert bit", "T-handle hex key")
_OVERALL = ("screwdriver", "stubby screwdriver", "torque screwdriver", "nut driver")


@dataclass(frozen=True, slots=True)
class Dimensions:
    """Drive and sizes as the tools table takes them, each size with its system; ``length`` in 1/320 mm.

    ``doubts`` are what a person should look at.
    """

    drive: str = ""
    sizes: tuple[tuple[str, System], ...] = ()
    length: int | None = None
    doubts: tuple[str, ...] = ()


def dimensions(said: Said, kind: str, pieces: int | None, known: Vocabulary) -> Dimensions:
    """What the figures of a line say of tools of a kind.

    Raises
    ------
    OpenError
        A figure is missing, or may mean several things.
    """
    form = KINDS[kind].form
    groups = [_alike(run) for run in _groups(said)]
    for figure in (figure for run in groups for figure in run if figure.open):
        raise OpenError(figure.open)
    if form == "drive":
        return _two_drives(said, groups)
    drive, groups = _drive(said, kind, groups)
    if not KINDS[kind].needs and form == "text":
        return Dimensions(drive, _any_text(groups))
    if form == "tip":
        groups = _with_blades(said, kind, groups)
    length, groups = _length(said, kind, groups)
    if form == "text" and groups:
        raise OpenError(f"what does {_told(groups[0])} mean?")
    doubts = ("its length counts as the whole one, not the blade's",) if length and kind in _OVERALL else ()
    if length and form == "weight" and not said.figures("length"):
        doubts = ("is that its whole length?",)
    if length and kind in _DEEP:
        doubts = (f"it tells its length: is it a {kind}, or a deep one?",)
    sizes = _sizes(said, kind, groups, pieces, known)
    return Dimensions(drive, sizes, length, doubts)


def _groups(said: Said) -> list[Run]:
    """Figures that may be sizes; what is said twice counts once."""
    return list(dict.fromkeys(said.runs))


def _alike(run: Run) -> Run:
    """A run in which a unit behind the last figure counts for those before it, and fractions make all inches."""
    last = run[-1].unit
    fractions = any("/" in part for figure in run for part in _ends(figure))
    unit = last or ("in" if fractions else "")
    return tuple(_in_unit(figure, unit) for figure in run)


def _ends(figure: Figure) -> tuple[str, ...]:
    return figure.parts + (figure.to.parts if figure.to else ())


def _in_unit(figure: Figure, unit: str) -> Figure:
    if figure.unit or not unit or figure.parts[0][:1].isalpha():
        return figure
    return replace(figure, unit=unit, to=replace(figure.to, unit=unit) if figure.to else None)


# ---------------------------------------------------------------------------------------------------------------- drive


def _two_drives(said: Said, groups: Sequence[Run]) -> Dimensions:
    """Drive and size of an adapter: the square hole that is driven first, then the square that drives."""
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
    return Dimensions(names[0], ((names[1], ""),))


def _drive_of(figure: Figure) -> str:
    """Name of the square drive that a figure may be: by its fraction, its inches or its millimeters; else nothing."""
    if figure.to or len(figure.parts) > 1 or figure.unit not in ("", "in", "mm"):
        return ""
    try:
        return drive_name(parse_drive(f"{figure.parts[0]} {figure.unit}".strip()))
    except SizingError:
        return ""


def _drive(said: Said, kind: str, groups: list[Run]) -> tuple[str, list[Run]]:
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


def _apart(groups: Sequence[Run]) -> list[Run]:
    """Drive and length of what has no other size, which an ``x`` joins: ``1/2 x 10 in``."""
    return [_two_of(run[0]) if len(run) == 1 and len(run[0].parts) == 2 else run for run in groups]


def _two_of(figure: Figure) -> Run:
    first, last = figure.parts
    inches = first.endswith("in") or "/" in first
    return Figure((first.removesuffix("in"),), "in" if inches else ""), Figure((last,), figure.unit)


def _loose_drive(groups: list[Run]) -> tuple[str, list[Run]]:
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


# ---------------------------------------------------------------------------------------------------- lengths and tips


def _with_blades(said: Said, kind: str, groups: list[Run]) -> list[Run]:
    """Tips with the length of the blade behind them, where that is told beside a single tip."""
    blades = said.figures("blade")
    if kind in _WITH_LENGTH:
        blades += said.figures("length")
    if kind == "insert bit" and any(run[0].parts[0][0].isalpha() for run in groups):
        groups = [run for run in groups if not (len(run) == 1 and run[0].parts[0] in _SHANKS)]
    figures = [figure for run in groups for figure in run]
    if not blades and len(figures) == 2 and (pair := _tip_and_length(figures)):
        blades, groups = pair[1:], [pair[:1]]
    if not blades and kind in _WITH_LENGTH and len(groups) == 2 and len(groups[1]) == 1:
        blades, groups = (groups[1], groups[:1]) if _millimeters(groups[1][0]) >= SHORTEST else ((), groups)
    if not blades:
        return groups
    one = len(groups) == 1 and (len(groups[0]) == 1 or kind in _WITH_LENGTH)
    if len(blades) > 1 or not one or any(len(figure.parts) > 1 for figure in groups[0]):
        raise OpenError("which length belongs to which tip?")
    return [tuple(_bladed(tip, blades[0]) for tip in groups[0])]


def _bladed(tip: Figure, blade: Figure) -> Figure:
    """A tip, or both ends of a range of tips, with a length behind it."""
    length = f"{blade.parts[0]}in" if blade.unit == "in" else f"{float(_millimeters(blade)):g}"
    parts = tuple(f"{part}in" if tip.unit == "in" else part for part in tip.parts)
    unit = "" if blade.unit == "in" or tip.unit == "in" else "mm"
    return Figure((*parts, length), unit, _bladed(tip.to, blade) if tip.to else None)


def _tip_and_length(figures: Sequence[Figure]) -> Run:
    """A tip and the length that stands beside it, in this order; nothing where they are something else."""
    for tip, length in (figures, figures[::-1]):
        told = tip.parts[0][0].isalpha() or length.unit
        single = len(tip.parts) == 1 and not tip.to and _millimeters(tip) < SHORTEST
        if told and single and _millimeters(length) >= SHORTEST:
            return tip, length
    return ()


def _millimeters(figure: Figure) -> Fraction:
    """Length of a figure, which is in millimeters where nothing says otherwise; 0 where it is none."""
    number = value(figure.parts[0])
    if number is None or len(figure.parts) > 1 or figure.to or figure.parts[0][0].isalpha():
        return Fraction(0)
    if figure.unit == "in":
        return number * Fraction("25.4")
    return number * _METRIC.get(figure.unit, Fraction(figure.unit == ""))


def _length(said: Said, kind: str, groups: list[Run]) -> tuple[int | None, list[Run]]:
    """The whole length of a tool, where its size is something else, and the figures that are left."""
    told, form = said.figures("length"), KINDS[kind].form
    if (
        kind in _SIZE_BY_LENGTH
        and len(groups) == 1
        and len(groups[0]) == 1
        and len(groups[0][0].parts) == 2
        and not told
    ):
        (figure,) = groups[0]
        told = (Figure(figure.parts[1:], figure.unit),)
        groups = [(Figure((figure.parts[0].removesuffix("in"),), "in" if "in" in figure.parts[0] else figure.unit),)]
    if form == "tip" and kind in _WITH_LENGTH:
        return None, groups
    if form == "length":
        return None, list(dict.fromkeys([*groups, *([told] if told else [])]))
    if not told and form == "text" and len(groups) == 1 and len(groups[0]) == 1 and groups[0][0].unit:
        told, groups = groups[0], []
    if not told and form == "weight":
        lengths = [run for run in groups if all(_millimeters(figure) for figure in run) and run[0].unit]
        weights = [run for run in groups if run not in lengths]
        told, groups = (lengths[0], weights) if len(lengths) == 1 and weights else ((), groups)
    if not told:
        return None, groups
    if len(told) > 1 or _millimeters(told[0]) < SHORTEST:
        raise OpenError(f"which length is meant by {', '.join(figure.text for figure in told)}?")
    return _exact(told[0]), groups


def _exact(figure: Figure) -> int:
    number = value(figure.parts[0])
    assert number is not None
    return inch(number) if figure.unit == "in" else mm(_millimeters(figure))


# ---------------------------------------------------------------------------------------------------------------- sizes


def _any_text(groups: Sequence[Run]) -> tuple[tuple[str, System], ...]:
    """The size of a kind that needs none, where the line has only one figure."""
    figures = [figure for run in groups for figure in run]
    return ((figures[0].text, ""),) if len(figures) == 1 and not figures[0].to else ()


def _sizes(
    said: Said, kind: str, groups: Sequence[Run], pieces: int | None, known: Vocabulary
) -> tuple[tuple[str, System], ...]:
    """Sizes of the tools as the table takes them, ranges expanded."""
    if len(groups) > 1:
        raise OpenError(f"which of these is the size: {'; '.join(_told(run) for run in groups)}?")
    if not groups:
        return ()
    run = _fitting(said, kind, groups[0])
    if len({figure.unit for figure in run if figure.unit}) > 1:
        raise OpenError(f"metric or inch: {_told(run)}?")
    if any(figure.to for figure in run):
        if len(run) > 1:
            raise OpenError(f"which sizes are in {_told(run)}?")
        return tuple(_expanded(said, kind, run[0], pieces, known))
    return tuple(_one(said, kind, figure) for figure in run)


def _told(run: Run) -> str:
    return ", ".join(figure.text for figure in run)


def _fitting(said: Said, kind: str, run: Run) -> Run:
    """The run with the letters of its tips, where these are only in words; what contradicts them is asked."""
    form = KINDS[kind].form
    if form == "weight" and any(figure.unit not in _WEIGHTS for figure in run):
        raise OpenError(f"what does {_told(run)} mean: the weight of the head was expected")
    wanted = tip_letters(said.traits)
    if form != "tip" or not wanted:
        return run
    return tuple(_lettered(figure, wanted, KINDS[kind].bare) for figure in run)


def _lettered(figure: Figure, wanted: tuple[str, ...], bare: str) -> Figure:
    """A tip that has one of the letters; a number, which means ``bare`` ones, gets them where only one can be meant."""
    letters = re.match("[A-Z]*", figure.parts[0])
    own = letters[0] if letters else ""
    if own and own not in wanted:
        raise OpenError(f"which tip is it: {figure.text}, or {' or '.join(wanted)}?")
    if own or wanted == (bare,):
        return figure
    if len(wanted) > 1:
        raise OpenError(f"which tip is {figure.text}: {' or '.join(wanted)}?")
    return replace(figure, parts=(wanted[0] + figure.parts[0], *figure.parts[1:]), unit="")


def _expanded(
    said: Said, kind: str, figure: Figure, pieces: int | None, known: Vocabulary
) -> Iterator[tuple[str, System]]:
    assert figure.to
    if value(figure.parts[0]) == 0:
        yield _one(said, kind, figure.to)
        return
    tips, blade = _without_blade(kind, figure)
    (low, system), (high, other) = _one(said, kind, replace(tips, to=None)), _one(said, kind, _same(tips))
    if system and other and system != other:
        raise OpenError(f"metric or inch: {figure.text}?")
    system = system or other
    for size in expanded(low, high, system, kind, pieces, known):
        yield "x".join((size, *blade)), system


def _without_blade(kind: str, figure: Figure) -> tuple[Figure, tuple[str, ...]]:
    """A range of tips without the one length that all of them have, and that length."""
    if KINDS[kind].form != "tip" or len(figure.parts) != 2 or not figure.to:
        return figure, ()
    return replace(figure, parts=figure.parts[:1], to=replace(figure.to, parts=figure.to.parts[:1])), figure.parts[1:]


def _same(figure: Figure) -> Figure:
    """The upper end of a range, with the letters of the lower one."""
    assert figure.to
    letters = re.match("[A-Z]*", figure.parts[0])
    own = letters[0] if letters else ""
    if not own or figure.to.parts[0][0].isalpha():
        return figure.to
    return replace(figure.to, parts=(own + figure.to.parts[0], *figure.to.parts[1:]))


def _one(said: Said, kind: str, figure: Figure) -> tuple[str, System]:
    """A size as the table takes it, and its system.

    Raises
    ------
    OpenError
        It is no size of the kind, or nothing says whether it is metric.
    """
    text, system, has_system = _written(figure, kind), _system(said, figure), KINDS[kind].has_system
    try:
        read = parse_size(text, system, kind)
    except SizingError as wrong:
        raise OpenError(f"what does {figure.text} mean? expected {wrong}") from wrong
    marked = read.system == "inch" and not has_system and KINDS[kind].form == "flats"
    slotted = "SL" if read.tip == "SL" and KINDS[kind].bare != "SL" else ""
    return slotted + read.text + (" in" if marked else ""), read.system if has_system else ""


def _system(said: Said, figure: Figure) -> System:
    if figure.unit in ("mm", "cm"):
        return "metric"
    if figure.unit == "in":
        return "inch"
    if "/" in figure.parts[0] or figure.parts[0][0].isalpha():
        return ""
    return "inch" if "inch" in said.flags else "metric" if "metric" in said.flags else ""


def _written(figure: Figure, kind: str) -> str:
    """A figure as sizes are typed, in millimeters or inches."""
    parts, form = figure.parts, KINDS[kind].form
    if figure.unit == "cm" and len(parts) == 1:
        return f"{float(_millimeters(figure)):g}"
    if form == "weight":
        number = value(parts[0])
        return f"{float(number):g} {figure.unit}".strip() if number is not None else parts[0]
    if figure.unit == "in" and form in ("length", "tip", "flats", "two flats"):
        return "x".join(part if part.endswith("in") or part[0].isalpha() else f"{part}in" for part in parts)
    return "x".join(parts)
