"""Drive, sizes and length of the tools of a line, from the figures it has; what is open is asked, never chosen."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from matcher.drafting.drives_said import square_drive, two_drives
from matcher.drafting.kind_choice import tip_letters
from matcher.drafting.lengths_said import HANDLED, millimeters, whole_length, with_blades
from matcher.drafting.phrases import FigureRun, Said
from matcher.drafting.ranges import OpenError, expanded
from matcher.drafting.tokens import Figure, value
from matcher.drafting.vocabulary import Vocabulary
from matcher.records import System
from matcher.tools import KINDS, SizingError, parse_size

_WEIGHTS = ("g", "kg", "oz", "lb")
_DEEP = ("socket", "impact socket")


@dataclass(frozen=True, slots=True)
class SaidSizes:
    """Drive and sizes as the tools table takes them, each size with its system; ``length`` in 1/320 mm.

    ``doubts`` are what a person should look at.
    """

    drive: str = ""
    sizes: tuple[tuple[str, System], ...] = ()
    length: int | None = None
    doubts: tuple[str, ...] = ()


def dimensions(said: Said, kind: str, pieces: int | None, known: Vocabulary) -> SaidSizes:
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
        drive, other = two_drives(said, groups)
        return SaidSizes(drive, ((other, ""),))
    drive, groups = square_drive(said, kind, groups)
    if not KINDS[kind].needs and form == "text":
        return SaidSizes(drive, _any_text(groups))
    if form == "tip":
        groups = with_blades(said, kind, groups)
    length, groups = whole_length(said, kind, groups)
    if form == "text" and groups:
        raise OpenError(f"what does {_told(groups[0])} mean?")
    doubts = ("its length counts as the whole one, not the blade's",) if length and kind in HANDLED else ()
    if length and form == "weight" and not said.figures("length"):
        doubts = ("is that its whole length?",)
    if length and kind in _DEEP:
        doubts = (f"it tells its length: is it a {kind}, or a deep one?",)
    sizes = _sizes(said, kind, groups, pieces, known)
    return SaidSizes(drive, sizes, length, doubts)


def _groups(said: Said) -> list[FigureRun]:
    """Figures that may be sizes; what is said twice counts once."""
    return list(dict.fromkeys(said.runs))


def _alike(run: FigureRun) -> FigureRun:
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


# ---------------------------------------------------------------------------------------------------------------- sizes


def _any_text(groups: Sequence[FigureRun]) -> tuple[tuple[str, System], ...]:
    """The size of a kind that needs none, where the line has only one figure."""
    figures = [figure for run in groups for figure in run]
    return ((figures[0].text, ""),) if len(figures) == 1 and not figures[0].to else ()


def _sizes(
    said: Said, kind: str, groups: Sequence[FigureRun], pieces: int | None, known: Vocabulary
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


def _told(run: FigureRun) -> str:
    return ", ".join(figure.text for figure in run)


def _fitting(said: Said, kind: str, run: FigureRun) -> FigureRun:
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
        return f"{float(millimeters(figure)):g}"
    if form == "weight":
        number = value(parts[0])
        return f"{float(number):g} {figure.unit}".strip() if number is not None else parts[0]
    if figure.unit == "in" and form in ("length", "tip", "flats", "two flats"):
        return "x".join(part if part.endswith("in") or part[0].isalpha() else f"{part}in" for part in parts)
    return "x".join(parts)
