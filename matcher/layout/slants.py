"""Slants: a tool or case too long to lie along or across a field lies at an angle, if it goes in so."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.polygon import orient

from matcher.layout.cutouts import Ring, moved
from matcher.layout.poses import Pose
from matcher.records import remembered

Floats: TypeAlias = NDArray[np.float64]

STEPS = 720
"""Angles tried within a quarter turn: every eighth of a degree; own choice."""
GROWN = 2.0
"""How far an outline is moved out before its turned corners are rounded to the grid, in 1/320 mm, so that it loses
none of its room."""


def rectangle_goes_in(length: int, width: int, field_width: int, field_depth: int) -> bool:
    """Whether a rectangle goes into a field at some angle, exactly.

    With p >= q the rectangle's sides and a >= b the field's it does if and only if p <= a and q <= b, or p > a, q <= b
    and ((a + b) / (p + q))^2 + ((a - b) / (p - q))^2 >= 2 (Carver, 1957, American Mathematical Monthly 64, 114-116, in
    the form of Wetzel, 2000, Mathematics Magazine 73, 204-211; from memory).
    """
    p, q = max(length, width), min(length, width)
    a, b = max(field_width, field_depth), min(field_width, field_depth)
    if q > b or p <= a:
        return q <= b
    sums, differences = (a + b) * (p - q), (a - b) * (p + q)
    return sums**2 + differences**2 >= 2 * (p * p - q * q) ** 2


@remembered(4096)
def slanted(pose: Pose, width: int, depth: int) -> tuple[Pose, ...]:
    """The pose turned by a few of the angles between 0 and 90 degrees at which it goes into a field, and mirrored ones.

    They are those nearest to lying along and across, and the one at which the least of the field's length is needed;
    none where it goes in at no angle.
    """
    rings = tuple(_grown(ring) for ring in pose.shape)
    angles = np.linspace(0, np.pi / 2, STEPS + 1)[1:-1]
    found = []
    for turn in (1, -1):
        wide, deep = _extents(np.concatenate(rings), turn * angles)
        fits = np.flatnonzero((wide <= width) & (deep <= depth))
        if len(fits):
            tightness = np.maximum(wide / width, deep / depth)[fits]
            chosen = dict.fromkeys((int(fits[tightness.argmin()]), int(fits[0]), int(fits[-1])))
            found += [_turned(pose, rings, float(turn * angles[n])) for n in chosen]
    return tuple(one for one in found if one.width <= width and one.depth <= depth)


def _grown(ring: Ring) -> Floats:
    grown = Polygon(ring).buffer(GROWN, join_style="mitre", mitre_limit=2)
    return np.array(orient(grown).exterior.coords[:-1])


def _extents(points: Floats, angles: Floats) -> tuple[Floats, Floats]:
    """Width and depth of the box round points turned by every angle, with what rounding may add."""
    xs = np.outer(np.cos(angles), points[:, 0]) - np.outer(np.sin(angles), points[:, 1])
    ys = np.outer(np.sin(angles), points[:, 0]) + np.outer(np.cos(angles), points[:, 1])
    return np.ptp(xs, axis=1) + 1, np.ptp(ys, axis=1) + 1


def _turned(pose: Pose, rings: tuple[Floats, ...], angle: float) -> Pose:
    """The pose with all its outlines turned counterclockwise by an angle."""
    cos, sin = np.cos(angle), np.sin(angle)
    turned = [[(round(x * cos - y * sin), round(x * sin + y * cos)) for x, y in ring] for ring in rings]
    low_x, low_y = (min(point[axis] for ring in turned for point in ring) for axis in (0, 1))
    ring, *notch = (moved(tuple(dict.fromkeys(points)), -low_x, -low_y) for points in turned)
    corners = [point for part in (ring, *notch) for point in part]
    width, depth = (max(point[axis] for point in corners) for axis in (0, 1))
    return replace(pose, width=width, depth=depth, ring=ring, notch=notch[0] if notch else ())
