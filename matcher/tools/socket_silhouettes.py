"""What sockets and bits look like from above: lying, their opening at the top, and standing on their drive end.

Proportions that no feature names are drawn as the trade's tools look: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from math import cos, pi, sin

from shapely import Polygon

from matcher.tools.seams import circle, edge, edges, knurl, seam, square
from matcher.tools.sketches import Points, Silhouette, Sketch, ToolDrawing
from matcher.tools.strokes import bar, disc, hexagon, joined, turned

# -------------------------------------------------------------------------------------------------------------- lying


def _body(s: Sketch, step: float) -> Polygon:
    """A drive end up to ``step`` of the length, and a nut end, either of which may be the wider one."""
    foot, top = s["drive end"] / 2, s["nut end"] / 2
    lean = min(abs(top - foot), 0.15 * s.length)
    low = step * s.length
    chamfer = min(foot, top) / 8
    return turned(
        [
            (0, foot - chamfer),
            (chamfer, foot),
            (low, foot),
            (low + lean, top),
            (s.length - chamfer, top),
            (s.length, top - chamfer),
        ]
    )


def _room(s: Sketch) -> Polygon:
    """A lying socket's box: its step is too small for foam to follow."""
    return bar(s.width, 0, s.length)


def _bores(s: Sketch, deep: float) -> Iterator[Points]:
    """The square hole in the foot and the hexagonal one in the top, as a drawing shows what is hidden."""
    yield from edges(s["square"], 0, 0.9 * s["square"])
    yield seam(s["square"], 0.9 * s["square"])
    yield from edges(s["flats"], deep * s.length, s.length)
    yield seam(s["flats"], deep * s.length)


def _socket(s: Sketch, step: float = 0.42, deep: float = 0.55) -> ToolDrawing:
    wide = max(s["drive end"], s["nut end"])
    rings = (seam(wide, step * s.length), seam(wide, (step - 0.06) * s.length))
    return ToolDrawing(_body(s, step), (*_bores(s, deep), *rings), _room(s))


def retained(wide: float, groove: float) -> tuple[Points, ...]:
    """The groove of a retaining ring and the hole of its pin, by which an impact piece is known."""
    return seam(wide, 0.7 * groove), seam(wide, 1.3 * groove), circle(0.4 * groove, groove)


def _impact_socket(s: Sketch, step: float = 0.42, deep: float = 0.55) -> ToolDrawing:
    rings = retained(max(s["drive end"], s["nut end"]), min(0.6 * s["square"], 0.3 * s.length))
    return ToolDrawing(_body(s, step), (*_bores(s, deep), *rings), _room(s))


def _spark_plug_socket(s: Sketch) -> ToolDrawing:
    """A deep socket with a hexagon on its drive end and a rubber sleeve inside."""
    wide = max(s["drive end"], s["nut end"])
    flats = edges(0.5 * s["drive end"], 0, 0.2 * s.length)
    sleeve = edges(0.7 * s["flats"], 0.4 * s.length, 0.7 * s.length)
    return ToolDrawing(_body(s, 0.24), (*_bores(s, 0.4), *flats, seam(wide, 0.2 * s.length), *sleeve), _room(s))


def _lobed_socket(s: Sketch) -> ToolDrawing:
    """The opening's lobes show at the end."""
    wide = max(s["drive end"], s["nut end"])
    lobes = edges(0.35 * s["flats"], 0.6 * s.length, s.length)
    return ToolDrawing(_body(s, 0.42), (*_bores(s, 0.6), *lobes, seam(wide, 0.42 * s.length)), _room(s))


def _bit_socket(s: Sketch) -> ToolDrawing:
    body, bit, rest = s["body"], s["bit"], s.length - s["body"]
    chamfer = min(s.width / 10, body / 6)
    holder = turned([(0, s.width / 2 - chamfer), (chamfer, s.width / 2), (body - 2 * chamfer, s.width / 2),
                     (body, max(s.width / 2 - 2 * chamfer, bit / 2))])  # fmt: skip
    tip = min(bit / 8, rest / 4)
    blade = turned([(body / 2, bit / 2), (s.length - tip, bit / 2), (s.length, bit / 2 - tip)])
    lines = (*edges(0.5 * bit, body, s.length - tip), *knurl(s.width, 0.35 * body, 0.6 * body))
    square_hole = (*edges(s["square"], 0, 0.25 * body), seam(s["square"], 0.25 * body))
    return ToolDrawing(joined([holder, blade]), (*lines, *square_hole, seam(s.width, body)))


def universal_joint(s: Sketch, top: Polygon, above: float) -> ToolDrawing:
    """A drive end, two forks on a cross of pins, and what stands above ``above`` of the length."""
    w, low, high = s.width, 0.32 * s.length, above * s.length
    middle, neck = (low + high) / 2, s["neck"] / 2
    chamfer = w / 10
    lower = turned([(0, w / 2 - chamfer), (chamfer, w / 2), (low, w / 2), (low + w / 8, neck), (middle, neck)])
    upper = turned([(middle, neck), (high - w / 8, neck), (high, w / 2), (high + w / 8, w / 2)])
    cross = disc(0.9 * s["neck"], middle)
    pins = (
        circle(0.3 * s["neck"], middle),
        *edges(0.56 * s["neck"], middle - 0.55 * s["neck"], middle + 0.55 * s["neck"]),
    )
    hole = (*edges(s["square"], 0, 0.9 * s["square"]), seam(s["square"], 0.9 * s["square"]))
    return ToolDrawing(joined([lower, upper, cross, top]), (*pins, *hole, seam(w, low), seam(w, high)))


def _jointed_socket(s: Sketch) -> ToolDrawing:
    top, wide, collar = s["nut end"] / 2, s.width / 2, 0.6 * s.length + s.width / 8
    shoulder = min(collar + wide - top, 0.8 * s.length)
    chamfer = top / 6
    nut_end = [(collar, wide), (shoulder, top), (s.length - chamfer, top), (s.length, top - chamfer)]
    drawn = universal_joint(s, turned(nut_end), 0.6)
    bore = (*edges(s["flats"], 0.75 * s.length, s.length), seam(s["flats"], 0.75 * s.length))
    return ToolDrawing(drawn.body, (*drawn.lines, *bore))


def _swivel_impact(s: Sketch) -> ToolDrawing:
    plain = _jointed_socket(s)
    return ToolDrawing(plain.body, (*plain.lines, *retained(s.width, 0.6 * s["square"])))


SOCKET_DRAWINGS: Mapping[str, Silhouette] = {
    "socket": _socket,
    "deep socket": partial(_socket, step=0.28, deep=0.4),
    "impact socket": _impact_socket,
    "deep impact socket": partial(_impact_socket, step=0.28, deep=0.4),
    "bit socket": _bit_socket,
    "external hexalobular socket": _lobed_socket,
    "universal-joint socket": _jointed_socket,
    "swivel impact socket": _swivel_impact,
    "spark plug socket": _spark_plug_socket,
}

# ----------------------------------------------------------------------------------------------------------- standing


def _hex_up(s: Sketch, rim: float = 0.93) -> ToolDrawing:
    """The opening of a socket: its hexagon and, where it shows, the square at its bottom."""
    middle, flats = s.width / 2, s["flats"]
    drive = (square(s["square"], middle),) if s["square"] < 0.9 * flats else ()
    return ToolDrawing(_round(s), (circle(rim * s.width, middle), edge(hexagon(flats, middle)), *drive))


def _rubber_up(s: Sketch) -> ToolDrawing:
    plain = _hex_up(s)
    return ToolDrawing(plain.body, (*plain.lines, circle(0.6 * s["flats"], s.width / 2)))


def _lobes_up(s: Sketch) -> ToolDrawing:
    middle = s.width / 2
    return ToolDrawing(_round(s), (circle(0.93 * s.width, middle), _lobes(s["flats"], middle)))


def _lobes(across: float, middle: float) -> Points:
    """A closed line with six lobes."""
    turns = [step * pi / 18 for step in range(37)]
    reach = [across / 2 * (0.87 + 0.13 * cos(6 * turn)) for turn in turns]
    return [(far * sin(turn), middle + far * cos(turn)) for far, turn in zip(reach, turns, strict=True)]


def _bit_up(s: Sketch) -> ToolDrawing:
    middle = s.width / 2
    return ToolDrawing(_round(s), (circle(0.8 * s.width, middle), edge(hexagon(0.866 * s["bit"], middle))))


def _insert_up(s: Sketch) -> ToolDrawing:
    middle = s.width / 2
    return ToolDrawing(_round(s), (edge(hexagon(0.866 * s.width, middle)), circle(s["tip"], middle)))


def _square_up(s: Sketch) -> ToolDrawing:
    middle = s.width / 2
    return ToolDrawing(_round(s), (circle(0.8 * s.width, middle), square(s["square"], middle)))


def _round(s: Sketch) -> Polygon:
    return disc(s.width, s.width / 2)


STANDING_DRAWINGS: Mapping[str, Silhouette] = {
    "socket": _hex_up,
    "deep socket": _hex_up,
    "impact socket": partial(_hex_up, rim=0.86),
    "deep impact socket": partial(_hex_up, rim=0.86),
    "bit socket": _bit_up,
    "external hexalobular socket": _lobes_up,
    "spark plug socket": _rubber_up,
    "adapter": _square_up,
    "impact adapter": _square_up,
    "insert bit": _insert_up,
}
