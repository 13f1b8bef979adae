"""An organizer seen from above as a standalone SVG, true to scale in millimeters, front edge at the bottom."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from xml.sax.saxutils import escape, quoteattr

from matcher.planning import Fits, Outcome
from matcher.records import (
    PER_MM,
    Drawer,
    Group,
    NothingToShowError,
    Placement,
    Plan,
    UnknownNameError,
    to_mm,
)
from matcher.report.families import family_colors
from matcher.report.fitted_words import extent, fitted
from matcher.report.front import FrontBox
from matcher.report.listed_tools import listed_tools
from matcher.report.lying_tools import LyingTool, lying_tool
from matcher.report.picture_labels import picture_headings, picture_labels
from matcher.report.poster import UNKNOWN, hatched

STYLE = """
  .drawer { fill: #ffffff; stroke: #4a545e; stroke-width: 0.8 }
  .foam, .room { stroke: #1a2026; stroke-width: 0.8 }
  .room { stroke-dasharray: 3 3 }
  .notch { fill: #ffffff; fill-opacity: 0.45; stroke: #1a2026; stroke-width: 0.4; stroke-dasharray: 2 1.5 }
  .pocket { fill: #6b747c; fill-opacity: 0.35; stroke: #1a2026; stroke-width: 0.5 }
  .tool { fill: #f7f9fa; stroke: #1a2026; stroke-width: 0.4; fill-rule: evenodd }
  .seam { fill: none; stroke: #4a545e; stroke-width: 0.3 }
  .taken { fill: #8f8a80 }
  .half { stroke: #1a2026; stroke-width: 0.7; stroke-dasharray: 6 2 1 2 }
  .hatch { fill: none; stroke: #1a2026; stroke-width: 0.5 }
  .scale { stroke: #1a2026; stroke-width: 1.2 }
  .inside-pocket, .unknown { paint-order: stroke; stroke: #ffffff; stroke-width: 1.5; stroke-linejoin: round }
  .over { stroke: #1a2026; stroke-width: 0.7 }
  text { font-family: sans-serif; fill: #1a2026 }
"""
FRAME, SCALE_BAR = 14.0, 100
CAPTION, USUAL = 7.0, 560.0
"""Height of words outside the foam in a drawer of usual width, in millimeters; larger in a wider one; own choice."""
SMALLEST = 9.2
"""Height of the smallest writing in a drawer's picture on a page, in CSS pixels: such a picture is never narrower."""
OVER = 1.35
"""Distance between two lines of headings, in heights of such words."""
HATCH = 14.0
"""Distance between the lines over an organizer of which no pockets are known, in millimeters."""
FOAM = "#dad8d6"
"""Color of foam of which no family is told."""


def drawing_of(outcome: Outcome, group: str) -> str:
    """The drawing of one group's organizer in an outcome's plan.

    Raises
    ------
    NothingToShowError
        There is no plan.
    UnknownNameError
        There is no group of that name in the plan.
    """
    if not isinstance(outcome, Fits):
        raise NothingToShowError("no drawing, there is no plan")
    placed, placement = placed_group(outcome.plan, group)
    drawer = next(drawer for drawer in outcome.question.cabinet.drawers if drawer.name == placement.drawer)
    return organizer_svg(placed, placement, drawer, family_colors(outcome.question)[placed.family])


def placed_group(plan: Plan, name: str) -> tuple[Group, Placement]:
    """The group of that name in a plan and where its organizer lies.

    Raises
    ------
    UnknownNameError
        There is no group of that name in the plan.
    """
    groups = {known.name: known for known in plan.groups}
    if name not in groups:
        raise UnknownNameError(f"group {name!r}: no such group in the plan; it has: {', '.join(groups)}")
    return groups[name], next(placement for placement in plan.placements if placement.group == name)


def organizer_svg(group: Group, placement: Placement, drawer: Drawer, color: str = FOAM) -> str:
    """One placement in its drawer: drawer walls, obstructions, foam in a color, pockets with their sizes, scale bar.

    A ready-made organizer of which no pockets are known is hatched.
    """
    width, depth = to_mm(drawer.inside_width), to_mm(drawer.inside_depth)
    top = _top(drawer, [(group, placement)])
    high = depth + top + 2 * FRAME
    title = f"{placement.group}, drawer {placement.drawer}, {placement.how}"
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width + 2 * FRAME:g}mm" height="{high:g}mm" '
            f'viewBox="{-FRAME:g} {-top:g} {width + 2 * FRAME:g} {high:g}">',
            f"<title>{escape(title)}</title>",
            f"<style>{STYLE}</style>",
            *_from_above(drawer, [(group, placement)], {group.family: color}),
            *_caption(title, width, depth),
            "</svg>\n",
        ]
    )


def drawer_picture(
    drawer: Drawer, contents: Sequence[tuple[Group, Placement]], label: str, colors: Mapping[str, str]
) -> str:
    """A drawer with all that lies in it, for a page: the page brings the style, ``label`` the words for who sees none.

    The words under it are FRONT and a scale bar's length. It is never so narrow that its smallest words are smaller
    than `SMALLEST`.
    """
    width, depth = to_mm(drawer.inside_width), to_mm(drawer.inside_depth)
    words = [word.height for one in contents for word in picture_labels(*one, drawer)]
    least = SMALLEST / min([_caption_height(width), *words]) * (width + 2 * FRAME)
    top = _top(drawer, contents)
    high = depth + top + 2 * FRAME
    return "\n".join(
        [
            f'<svg class="inside" role="img" aria-label={quoteattr(label)} style="min-width: {least:.0f}px; '
            f'--high: {least * high / (width + 2 * FRAME):.0f}px" '
            f'viewBox="{-FRAME:g} {-top:g} {width + 2 * FRAME:g} {high:g}">',
            *_from_above(drawer, contents, colors),
            *_caption("", width, depth),
            "</svg>",
        ]
    )


def _top(drawer: Drawer, contents: Sequence[tuple[Group, Placement]]) -> float:
    """Room over the drawer, for headings of columns."""
    levels = [heading.level for one in contents for heading in picture_headings(*one, drawer)]
    return FRAME + OVER * _caption_height(to_mm(drawer.inside_width)) * max(levels, default=0)


def _caption_height(width: float) -> float:
    return CAPTION * max(1.0, width / USUAL)


def _from_above(
    drawer: Drawer, contents: Sequence[tuple[Group, Placement]], colors: Mapping[str, str]
) -> Iterator[str]:
    """Drawer walls, obstructions and organizers with their pockets."""
    width, depth = to_mm(drawer.inside_width), to_mm(drawer.inside_depth)
    yield f'<rect class="drawer" x="0" y="0" width="{width:g}" height="{depth:g}"/>'
    yield from _obstructions(drawer, depth)
    for group, placement in contents:
        kind, color = "room" if group.cased else "foam", colors[group.family]
        yield _rectangle(kind, placement.left, placement.front, placement.width, placement.depth, depth, color)
        if placement.layout:
            yield from _pockets(group, placement, drawer)
        else:
            yield from _unknown(group, placement, depth, _caption_height(width))
        yield from _halves(group, placement, depth)
        yield from _headings(group, placement, drawer)


def _unknown(group: Group, placement: Placement, depth: float, least: float) -> Iterator[str]:
    """The name of what has no pockets to show: cased equipment, or a ready-made organizer, hatched and told as such."""
    width, along = to_mm(placement.width), to_mm(placement.depth)
    left, top = to_mm(placement.left), depth - to_mm(placement.front) - along
    lines = [placement.group] if group.cased else [placement.group, UNKNOWN]
    size = min(2 * least, 0.8 * along / len(lines) / 1.3, *(1.6 * width / max(len(line), 1) for line in lines))
    size = max(least, size)
    if not group.cased:
        yield from _listed(group, placement, depth)
        drawn = hatched(FrontBox(left, top, width, along), HATCH)
        data = "".join(f"M{a:.1f},{b:.1f}L{c:.1f},{d:.1f}" for (a, b), (c, d) in drawn)
        yield f'<path class="hatch" d="{data}"/>'
    for number, line in enumerate(lines):
        y = top + along / 2 + 1.3 * size * (number - (len(lines) - 1) / 2)
        yield _text(fitted(line, width, size), left + width / 2, y, size, kind="unknown")


def _listed(group: Group, placement: Placement, depth: float) -> Iterator[str]:
    """The listed tools of an existing organizer in its field, for how they lie is not on file."""
    drawn = "".join(
        "M" + "L".join(f"{to_mm(placement.left + x):.1f},{depth - to_mm(placement.front + y):.1f}" for x, y in line)
        for line in listed_tools(group, placement)
    )
    if drawn:
        yield f'<path class="tool" pointer-events="none" d="{drawn}"/>'


def _headings(group: Group, placement: Placement, drawer: Drawer) -> Iterator[str]:
    """Lines over columns, each with its words in the middle; of a drive in a narrow column the figures alone."""
    size, left = _caption_height(to_mm(drawer.inside_width)), to_mm(placement.left)
    for heading in picture_headings(group, placement, drawer):
        start, end, y = left + heading.left, left + heading.right, -2 - OVER * size * heading.level
        yield f'<path class="over" d="M {start:.2f} {y:.2f} H {end:.2f}"/>'
        text = heading.text if extent(heading.text, size) <= end - start else heading.text.removesuffix(" drive")
        yield _text(text, (start + end) / 2, y - 0.6 * size, size, kind="side")


def _halves(group: Group, placement: Placement, depth: float) -> Iterator[str]:
    """Where one of inch and metric ends and the other one begins, in an organizer that has both side by side."""
    sides: dict[str, list[tuple[int, int]]] = {"inch": [], "metric": [], "": []}
    for pocket in placement.layout.pockets if placement.layout else ():
        sides[group.pieces[pocket.piece].piece.system] += pocket.ring
    if not (sides["inch"] and sides["metric"]):
        return
    left, right = sorted((sides["inch"], sides["metric"]), key=lambda side: min(x for x, _ in side))
    if max(x for x, _ in left) > min(x for x, _ in right):
        return
    middle = (max(x for x, _ in left) + min(x for x, _ in right)) / 2
    heights = [placement.front + placement.field_front + y for _, y in left + right]
    x = to_mm(placement.left + placement.field_left) + middle / PER_MM
    back, front = depth - to_mm(max(heights)) - 4, depth - to_mm(min(heights)) + 4
    yield f'<path class="half" d="M {x:.2f} {back:.2f} V {front:.2f}"/>'


def _rectangle(kind: str, left: int, front: int, width: int, height: int, depth: float, color: str = "") -> str:
    """A rectangle given from the front left corner, drawn with the front at the bottom."""
    top, fill = depth - to_mm(front + height), f' fill="{color}"' if color else ""
    size = f'width="{to_mm(width):g}" height="{to_mm(height):g}"'
    return f'<rect class="{kind}"{fill} x="{to_mm(left):g}" y="{top:g}" {size}/>'


def _obstructions(drawer: Drawer, depth: float) -> Iterator[str]:
    for block in drawer.obstructions:
        yield _rectangle("taken", block.left, block.front, block.width, block.depth, depth)


def _pockets(group: Group, placement: Placement, drawer: Drawer) -> Iterator[str]:
    """Notches first, the pockets over them, the tools in these, then what is written."""
    layout, depth = placement.layout, to_mm(drawer.inside_depth)
    left, front = placement.left + placement.field_left, placement.front + placement.field_front
    for notch in layout.notches if layout else ():
        yield f'<polygon class="notch" points="{_points(notch.ring, left, front, depth)}"/>'
    for pocket in layout.pockets if layout else ():
        tool = group.pieces[pocket.piece].piece
        outline = _points(pocket.ring, left, front, depth)
        yield f'<polygon class="pocket" points="{outline}"><title>{escape(tool.tool)}</title></polygon>'
        yield from _tool(lying_tool(group.pieces[pocket.piece], pocket), left, front, depth)
    for word in picture_labels(group, placement, drawer):
        x, y = to_mm(placement.left) + word.x, depth - to_mm(placement.front) - word.y
        kind = "inside-pocket" if word.inside else word.kind
        yield _text(word.text, x, y, word.height, kind=kind)


def _tool(tool: LyingTool | None, left: int, front: int, depth: float) -> Iterator[str]:
    """A tool in its pocket: its edge and its holes, then the lines on it. What points at it means the pocket."""
    for kind, lines in (("tool", tool.rings), ("seam", tool.lines)) if tool else ():
        drawn = "".join(
            "M" + "L".join(f"{to_mm(left + x):.1f},{depth - to_mm(front + y):.1f}" for x, y in line) for line in lines
        )
        if drawn:
            yield f'<path class="{kind}" pointer-events="none" d="{drawn}"/>'


def _points(ring: Iterable[tuple[int, int]], left: int, front: int, depth: float) -> str:
    return " ".join(f"{to_mm(left + x):.2f},{depth - to_mm(front + y):.2f}" for x, y in ring)


def _text(text: str, x: float, y: float, height: float, *, kind: str) -> str:
    return (
        f'<text class="{kind}" x="{x:.2f}" y="{y:.2f}" font-size="{height:.2f}" text-anchor="middle" '
        f'dominant-baseline="central">{escape(text)}</text>'
    )


def _caption(title: str, width: float, depth: float) -> Iterator[str]:
    below, size = depth + FRAME, _caption_height(width)
    yield f'<text x="{width / 2:g}" y="{below - 4:g}" font-size="{size:.2f}" text-anchor="middle">FRONT</text>'
    if title:
        yield f'<text x="0" y="{below + 6:g}" font-size="6">{escape(title)}</text>'
    start = max(0.0, width - SCALE_BAR)
    yield f'<path class="scale" d="M {start:g} {below - 6:g} h {SCALE_BAR}"/>'
    yield f'<text x="{start:g}" y="{below - 4 + size:g}" font-size="{size:.2f}">{SCALE_BAR} mm</text>'
