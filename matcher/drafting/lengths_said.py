"""The lengths that a line tells: of the blade behind a tip, or of the whole tool."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from matcher.drafting.phrases import FigureRun, Said
from matcher.drafting.ranges import OpenError
from matcher.drafting.tokens import Figure, value
from matcher.records import inch, mm
from matcher.tools import KINDS

SHORTEST = 20
"""Millimeters from which on a figure may be a length, such as that of a blade; common practice, no source."""
HANDLED = ("screwdriver", "stubby screwdriver", "torque screwdriver", "nut driver")
"""Kinds with a handle: a length may be the blade's or the whole one."""
_METRIC = {"mm": Fraction(1), "cm": Fraction(10)}
_SHANKS = ("1/4", "5/16")
_SIZE_BY_LENGTH = ("nut driver", "punch", "chisel")
_WITH_LENGTH = ("insert bit", "T-handle hex key")


def with_blades(said: Said, kind: str, groups: list[FigureRun]) -> list[FigureRun]:
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
        blades, groups = (groups[1], groups[:1]) if millimeters(groups[1][0]) >= SHORTEST else ((), groups)
    if not blades:
        return groups
    one = len(groups) == 1 and (len(groups[0]) == 1 or kind in _WITH_LENGTH)
    if len(blades) > 1 or not one or any(len(figure.parts) > 1 for figure in groups[0]):
        raise OpenError("which length belongs to which tip?")
    return [tuple(_bladed(tip, blades[0]) for tip in groups[0])]


def _bladed(tip: Figure, blade: Figure) -> Figure:
    """A tip, or both ends of a range of tips, with a length behind it."""
    length = f"{blade.parts[0]}in" if blade.unit == "in" else f"{float(millimeters(blade)):g}"
    parts = tuple(f"{part}in" if tip.unit == "in" else part for part in tip.parts)
    unit = "" if blade.unit == "in" or tip.unit == "in" else "mm"
    return Figure((*parts, length), unit, _bladed(tip.to, blade) if tip.to else None)


def _tip_and_length(figures: Sequence[Figure]) -> FigureRun:
    """A tip and the length that stands beside it, in this order; nothing where they are something else."""
    for tip, length in (figures, figures[::-1]):
        told = tip.parts[0][0].isalpha() or length.unit
        single = len(tip.parts) == 1 and not tip.to and millimeters(tip) < SHORTEST
        if told and single and millimeters(length) >= SHORTEST:
            return tip, length
    return ()


def millimeters(figure: Figure) -> Fraction:
    """Length of a figure, which is in millimeters where nothing says otherwise; 0 where it is none."""
    number = value(figure.parts[0])
    if number is None or len(figure.parts) > 1 or figure.to or figure.parts[0][0].isalpha():
        return Fraction(0)
    if figure.unit == "in":
        return number * Fraction("25.4")
    return number * _METRIC.get(figure.unit, Fraction(figure.unit == ""))


def whole_length(said: Said, kind: str, groups: list[FigureRun]) -> tuple[int | None, list[FigureRun]]:
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
        lengths = [run for run in groups if all(millimeters(figure) for figure in run) and run[0].unit]
        weights = [run for run in groups if run not in lengths]
        told, groups = (lengths[0], weights) if len(lengths) == 1 and weights else ((), groups)
    if not told:
        return None, groups
    if len(told) > 1 or millimeters(told[0]) < SHORTEST:
        raise OpenError(f"which length is meant by {', '.join(figure.text for figure in told)}?")
    return _exact(told[0]), groups


def _exact(figure: Figure) -> int:
    number = value(figure.parts[0])
    assert number is not None
    return inch(number) if figure.unit == "in" else mm(millimeters(figure))
