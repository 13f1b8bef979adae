"""Masses from geometry, in grams from millimeters.

The formulas derive from shapes at the density of steel (section by section below); shape factors are common practice,
no source.
"""

from __future__ import annotations

from math import pi

STEEL = 7.85e-3
"""Grams per cubic millimeter of steel."""

PLASTIC = 1.2e-3
"""Grams per cubic millimeter of handle plastics; common practice, no source."""

HEXAGON = 0.866
"""Area of a hexagon over the square of its width across flats, sqrt(3)/2 rounded as in the formulas."""

LEAST = 0.1
"""No piece weighs less, in grams."""


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
    """A round steel blade that reaches halfway through a waisted plastic handle, three quarters of a cylinder."""
    return pi / 4 * (STEEL * blade_width**2 * (blade + handle / 2) + 0.75 * PLASTIC * handle_width**2 * handle)


def share_of_box(share: float, length: float, width: float, height: float) -> float:
    """Steel in a ``share`` of the box round the piece."""
    return STEEL * share * length * width * height
