"""The trade-off curve of an offer as a picture: where its steps, axes, notes and words stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil, floor, log10

from matcher.records import counted
from matcher.report.document import Document
from matcher.report.fitted_words import wrapped
from matcher.report.pages.quantities import money

LEFT, BOTTOM, RIGHT, TOP = 78.0, 44.0, 18.0, 60.0
"""Room beside the plot in CSS pixels: for the words of the axes, and over it for the title and notes, which take twice
as much in a narrow picture."""
TICKS, FONT, LINE = 5, 12.0, 15.0
"""About so many ticks up the axis; font size and distance of two lines in CSS pixels."""
ALIKE = ("new_sizes", "bundles", "promises_kept", "units", "setup", "gain", "proved", "within_budget")
"""What is the same in points that are told once; their bounds may differ, of which the last is the largest."""


@dataclass(frozen=True, slots=True)
class Dot:
    """A step of the curve from limit ``first`` to ``last``, drawn where it begins; ``end`` is where it ends.

    ``bound`` is the height of its bound, ``None`` where it is proved.
    """

    x: float
    y: float
    end: float
    bound: float | None
    first: int
    last: int
    gain: float
    proved: bool
    chosen: bool
    within_budget: bool


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark on an axis."""

    at: float
    value: float


@dataclass(frozen=True, slots=True)
class CurveNote:
    """Words about a place of the curve, each line with its height; ``kind`` is chosen, stops or rises."""

    kind: str
    x: float
    y: float
    anchor: str
    lines: tuple[tuple[float, str], ...]


@dataclass(frozen=True, slots=True)
class Curve:
    """Dots joined by steps (what is gained stays until the next size), both axes' ticks, and notes."""

    width: float
    height: float
    left: float
    right: float
    floor: float
    dots: tuple[Dot, ...]
    path: str
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    notes: tuple[CurveNote, ...]


def equal_rows(points: Sequence[Document]) -> list[Document]:
    """The points of a document's curve with equal ones told once: ``first`` and ``last`` are their limits.

    A row's bound is that of its last point, which is the largest.
    """
    rows = []
    for _, alike in groupby(points, key=lambda point: [point.get(name) for name in ALIKE]):
        run = list(alike)
        rows.append({**run[-1], "first": run[0]["limit"], "last": run[-1]["limit"]})
    return rows


def curve_of(document: Document, width: float = 1216.0, height: float = 420.0) -> Curve | None:
    """The curve of an offer's document in a picture of this size; ``None`` where it has no points."""
    points: Sequence[Document] = document["curve"]
    if not points:
        return None
    values: list[float] = [point[name] for point in points for name in ("gain", "bound")]
    low, high, step = _scale(min(0, *values), max(0, *values))
    most: int = max(1, *(point["limit"] for point in points))
    bottom, top = height - BOTTOM, TOP if width > 2 * height else 2 * TOP

    def x_of(limit: float) -> float:
        return LEFT + (width - LEFT - RIGHT) * limit / most

    def y_of(gain: float) -> float:
        return bottom - (bottom - top) * (gain - low) / (high - low)

    same = [p["limit"] for p in points if p["new_sizes"] == document["new_sizes"] and p["within_budget"]]
    chosen = min(same, default=None)
    dots = tuple(
        Dot(
            x=x_of(row["first"]),
            y=y_of(row["gain"]),
            end=x_of(row["last"]),
            bound=None if row["proved"] else y_of(row["bound"]),
            first=row["first"],
            last=row["last"],
            gain=row["gain"],
            proved=row["proved"],
            chosen=chosen is not None and row["first"] <= chosen <= row["last"],
            within_budget=row["within_budget"],
        )
        for row in equal_rows(points)
    )
    stride = next(step for step in (1, 2, 5, 10, 20, 50, 100, most) if most / step <= (width - LEFT) / 32)
    return Curve(
        width=width,
        height=height,
        left=LEFT,
        right=width - RIGHT,
        floor=bottom,
        dots=dots,
        path=f"M {dots[0].x:.2f} {dots[0].y:.2f}"
        + "".join(f" H {dot.x:.2f} V {dot.y:.2f}" for dot in dots[1:])
        + f" H {dots[-1].end:.2f}",
        across=tuple(Tick(x_of(limit), limit) for limit in range(0, most + 1, stride)),
        up=tuple(Tick(y_of(low + count * step), low + count * step) for count in range(round((high - low) / step) + 1)),
        notes=tuple(_notes(dots, document, width, bottom)),
    )


def _notes(dots: Sequence[Dot], document: Document, width: float, bottom: float) -> Iterator[CurveNote]:
    """The offer itself, and where more sizes stop paying, or that the curve still rises at its end."""
    stops, most = document["stops_paying"], document["without_limits"]
    offer = next((dot for dot in dots if dot.chosen), None)
    first: CurveNote | None = None
    if offer:
        words = f"this offer: {counted(offer.first, 'new size')}, gain {money(offer.gain)}"
        first = _note("chosen", offer, words, width, bottom)
        yield first
    if stops:
        end = next(dot for dot in dots if dot.first <= stops["new_sizes"] <= dot.last)
        proof = "" if stops["proved"] else ", as far as is known (not proved)"
        words = f"stops paying at {counted(stops['new_sizes'], 'new size')}: beyond it no more is gained{proof}"
    else:
        end = dots[-1]
        words = f"still rises: {money(most['gain'])} with {counted(most['new_sizes'], 'new size')} and no limit"
    yield _note("stops" if stops else "rises", end, words, width, bottom, first)


def _note(kind: str, dot: Dot, words: str, width: float, bottom: float, first: CurveNote | None = None) -> CurveNote:
    """Words where a curve that never falls leaves room: left of a dot and above it, or right of it and below.

    They stand on the side with more room, in lines as needed, clear of the ``first`` note if that is on the same side.
    """
    left = dot.x > width / 2
    room = (dot.x - LEFT if left else width - RIGHT - dot.x) - FONT
    lines = wrapped(words, room, FONT)
    deep = LINE * (len(lines) - 1)
    beside = first if first and (first.anchor == "end") == left else None
    if left:
        top = min([dot.y - LINE - deep, *([beside.lines[0][0] - LINE - deep] if beside else [])])
    else:
        top = max([dot.y + 1.5 * LINE, *([beside.lines[-1][0] + LINE] if beside else [])])
        top = min(top, bottom - 0.5 * LINE - deep)
    placed = tuple((top + LINE * number, line) for number, line in enumerate(lines))
    return CurveNote(kind, dot.x, dot.y, "end" if left else "start", placed)


def _scale(low: float, high: float) -> tuple[float, float, float]:
    """Round ends and a round step (1, 2 or 5 times a power of ten) for an axis of about `TICKS` ticks."""
    rough = max(high - low, 1) / TICKS
    power = 10.0 ** floor(log10(rough))
    step = next(factor * power for factor in (1, 2, 5, 10) if factor * power >= rough)
    return floor(low / step) * step, max(ceil(high / step), floor(low / step) + 1) * step, step
