"""The page of an offer: its trade-off curve as a picture, bundles, sizes and what each opens up, what it rests on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from matcher.offer import Offer
from matcher.report.document import Document
from matcher.report.offer_documents import offer_document
from matcher.report.pages.rendering import render

WIDTH, HEIGHT = 640.0, 300.0
LEFT, BOTTOM, RIGHT, TOP = 90.0, 44.0, 16.0, 16.0
TICKS = 5


@dataclass(frozen=True, slots=True)
class Dot:
    """A point of the curve; ``bound`` is the height of its bound, ``None`` where it is proved."""

    x: float
    y: float
    bound: float | None
    limit: int
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
class Curve:
    """Dots joined by steps (what is gained stays until the next size), and both axes' ticks."""

    width: float
    height: float
    dots: tuple[Dot, ...]
    path: str
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]


def offer_page(offer: Offer) -> str:
    """The whole offer as a self-contained page."""
    return render("offer.html", **offer_shown(offer))


def offer_shown(offer: Offer) -> Document:
    """What ``offer.html`` shows, by the names it goes by there."""
    document = offer_document(offer)
    return {"offer": document, "curve": curve_of(document["curve"], document["new_sizes"])}


def curve_of(points: Sequence[Document], new_sizes: int) -> Curve | None:
    """The curve of the document's points; ``new_sizes`` is the number chosen. ``None`` for no points."""
    if not points:
        return None
    values: list[float] = [point[name] for point in points for name in ("gain", "bound")]
    low, high, step = _scale(min(0, *values), max(0, *values))
    most: int = max(1, *(point["limit"] for point in points))

    def x_of(limit: float) -> float:
        return LEFT + (WIDTH - LEFT - RIGHT) * limit / most

    def y_of(gain: float) -> float:
        return HEIGHT - BOTTOM - (HEIGHT - BOTTOM - TOP) * (gain - low) / (high - low)

    chosen = min((p["limit"] for p in points if p["new_sizes"] == new_sizes and p["within_budget"]), default=None)
    dots = tuple(
        Dot(
            x=x_of(point["limit"]),
            y=y_of(point["gain"]),
            bound=None if point["proved"] else y_of(point["bound"]),
            limit=point["limit"],
            gain=point["gain"],
            proved=point["proved"],
            chosen=point["limit"] == chosen,
            within_budget=point["within_budget"],
        )
        for point in points
    )
    path = f"M {dots[0].x:.2f} {dots[0].y:.2f}" + "".join(f" H {dot.x:.2f} V {dot.y:.2f}" for dot in dots[1:])
    stride = ceil(most / 10)
    return Curve(
        width=WIDTH,
        height=HEIGHT,
        dots=dots,
        path=path,
        across=tuple(Tick(x_of(limit), limit) for limit in range(0, most + 1, stride)),
        up=tuple(Tick(y_of(low + count * step), low + count * step) for count in range(round((high - low) / step) + 1)),
    )


def _scale(low: float, high: float) -> tuple[float, float, float]:
    """Round ends and a round step (1, 2 or 5 times a power of ten) for an axis of about `TICKS` ticks."""
    rough = max(high - low, 1) / TICKS
    power = 10.0 ** floor(log10(rough))
    step = next(factor * power for factor in (1, 2, 5, 10) if factor * power >= rough)
    return floor(low / step) * step, max(ceil(high / step), floor(low / step) + 1) * step, step
