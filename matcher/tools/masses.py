"""Masses from geometry: upper bounds in grams from millimeters, since maximum envelopes are used.

The formulas derive from shapes at the density of steel (section by section below); shape factors are common practice,
no source.
"""

from __future__ import annotations

from decimal import Decimal
from math import pi

from matcher.records import Toward, gram

STEEL = 7.85e-3
"""Grams per cubic millimeter of steel."""

PLASTIC = 1.2e-3
"""Grams per cubic millimeter of handle plastics; common practice, no source."""

HEXAGON = 0.866
"""Area of a hexagon over the square of its width across flats, sqrt(3)/2 rounded as in the formulas."""

LOW_SHARE = Decimal("0.6")
"""Least mass as a share of the upper bound: real tools are smaller than their maximum envelope, hollowed and rounded.
Common practice, no source."""


def bounds(grams: float) -> tuple[int, int]:
    """Least and greatest mass, in 10 micrograms, of a piece whose upper bound is ``grams``."""
    high = Decimal(f"{max(grams, 0.1):.3f}")
    return gram(high * LOW_SHARE, Toward.DOWN), gram(high)


def socket(nut_end: float, widest: float, length: float, flats: float, square: float, hole: float) -> float:
    """Steel ring round a hexagon at one end and a square of depth ``hole`` at the other.

    Never below a tenth of the solid cylinder, so that an unlikely measured size still has a mass.
    """
    body = length - hole
    open_depth = min(body, 0.75 * body + 2)
    solid = pi / 4 * (nut_end**2 * body + widest**2 * hole)
    holes = HEXAGON * flats**2 * 1.05 * open_depth + square**2 * hole
    return STEEL * max(solid - holes, 0.1 * pi / 4 * widest**2 * length)


def hex_bar(flats: float, length: float) -> float:
    """A hexagonal steel bar; a hex key's length is both arms less one width across flats."""
    return STEEL * HEXAGON * flats**2 * length


def combination_wrench(
    flats: float, length: float, head: float, box: float, shank: tuple[float, float], thick: tuple[float, float]
) -> float:
    """Shank (width, thickness), open head and box head (thicknesses ``thick``) of a combination wrench."""
    width, height = shank
    open_thick, box_thick = thick
    handle = max(length - 0.5 * head - box - 0.3 * flats, 0) * width * height
    jaws = 0.85 * 0.95 * head * 1.7 * flats * 0.55 * open_thick
    ring = max(pi / 4 * box**2 - HEXAGON * flats**2 * 1.04, 0.1 * box**2) * 0.9 * box_thick
    return STEEL * (handle + jaws + ring)


def driver(blade_width: float, blade: float, handle_width: float, handle: float) -> float:
    """A round steel blade that reaches through a round plastic handle."""
    return pi / 4 * (STEEL * blade_width**2 * (blade + handle) + PLASTIC * handle_width**2 * handle)


def share_of_box(share: float, length: float, width: float, height: float) -> float:
    """Steel in a ``share`` of the box round the piece."""
    return STEEL * share * length * width * height
