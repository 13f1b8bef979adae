"""An organizer seen from above as a standalone SVG, true to scale in millimeters, front edge at the bottom."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from xml.sax.saxutils import escape, quoteattr

from matcher.planning import Fits, Outcome
from matcher.records import (
    PER_MM,
    Drawer,
    Group,
    Label,
    NothingToShowError,
    Placement,
    Plan,
    Pocket,
    UnknownNameError,
    to_mm,
)
from matcher.report.lying_tools import LyingTool, lying_tool

STYLE = """
  .drawer { fill: none; stroke: #6b6f76; stroke-width: 0.8; stroke-dasharray: 4 2 }
  .foam { fill: #e9e4d8; stroke: #3b3f46; stroke-width: 0.8 }
  .room { fill: none }
  .notch { fill: #d3cdbd; stroke: #7b756a; stroke-width: 0.4 }
  .pocket { fill: #b9c4c9; stroke: #22272e; stroke-width: 0.5 }
  .tool { fill: #dde3e5; stroke: #4a545e; stroke-width: 0.3; fill-rule: evenodd }
  .seam { fill: none; stroke: #5b6570; stroke-width: 0.25 }
  .taken { fill: #8f8a80 }
  .half { stroke: #3b3f46; stroke-width: 0.6; stroke-dasharray: 6 2 1 2 }
  .scale { stroke: #16191d; stroke-width: 1.2 }
  text { font-family: sans-serif; fill: #16191d }
"""
FRAME, SCALE_BAR = 14.0, 100


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
    return organizer_svg(placed, placement, drawer)


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


def organizer_svg(group: Group, placement: Placement, drawer: Drawer) -> str:
    """One placement in its drawer: drawer walls, obstructions, foam, pockets with their sizes, scale bar.

    A ready-made organizer without pieces shows its outline only.
    """
    width, depth = to_mm(drawer.inside_width), to_mm(drawer.inside_depth)
    title = f"{placement.group}, drawer {placement.drawer}, {placement.how}"
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width + 2 * FRAME:g}mm" height="{depth + 3 * FRAME:g}mm" '
            f'viewBox="{-FRAME:g} {-FRAME:g} {width + 2 * FRAME:g} {depth + 3 * FRAME:g}">',
            f"<title>{escape(title)}</title>",
            f"<style>{STYLE}</style>",
            *_from_above(drawer, [(group, placement)]),
            *_caption(title, width, depth),
            "</svg>\n",
        ]
    )


def drawer_picture(drawer: Drawer, contents: Sequence[tuple[Group, Placement]], label: str) -> str:
    """A drawer with all that lies in it, for a page: the page brings the style, ``label`` the words for who sees none.

    The words under it are FRONT and a scale bar's length.
    """
    width, depth = to_mm(drawer.inside_width), to_mm(drawer.inside_depth)
    return "\n".join(
        [
            f'<svg class="inside" role="img" aria-label={quoteattr(label)} '
            f'viewBox="{-FRAME:g} {-FRAME:g} {width + 2 * FRAME:g} {depth + 3 * FRAME:g}">',
            *_from_above(drawer, contents),
            *_caption("", width, depth),
            "</svg>",
        ]
    )


def _from_above(drawer: Drawer, contents: Sequence[tuple[Group, Placement]]) -> Iterator[str]:
    """Drawer walls, obstructions and organizers with their pockets."""
    width, depth = to_mm(drawer.inside_width), to_mm(drawer.inside_depth)
    yield f'<rect class="drawer" x="0" y="0" width="{width:g}" height="{depth:g}"/>'
    yield from _obstructions(drawer, depth)
    for group, placement in contents:
        kind = "room" if group.cased else "foam"
        yield _rectangle(kind, placement.left, placement.front, placement.width, placement.depth, depth)
        yield from _pockets(group, placement, depth) if placement.layout else _named(placement, depth)
        yield from _halves(group, placement, depth)


def _named(placement: Placement, depth: float) -> Iterator[str]:
    """The name of what has no pockets to show: a ready-made organizer, cased equipment."""
    width, along = to_mm(placement.width), to_mm(placement.depth)
    size = min(14.0, 0.5 * along, 1.6 * width / max(len(placement.group), 1))
    x, y = to_mm(placement.left) + width / 2, depth - to_mm(placement.front) - along / 2
    yield _text(placement.group, x, y, size, upright=False)


def _halves(group: Group, placement: Placement, depth: float) -> Iterator[str]:
    """Where inch on the left ends and metric on the right begins, in an organizer that has both side by side."""
    sides: dict[str, list[tuple[int, int]]] = {"inch": [], "metric": [], "": []}
    for pocket in placement.layout.pockets if placement.layout else ():
        sides[group.pieces[pocket.piece].piece.system] += pocket.ring
    inch, metric = sides["inch"], sides["metric"]
    if not inch or not metric or max(x for x, _ in inch) > min(x for x, _ in metric):
        return
    middle = (max(x for x, _ in inch) + min(x for x, _ in metric)) / 2
    heights = [placement.front + placement.field_front + y for _, y in inch + metric]
    x = to_mm(placement.left + placement.field_left) + middle / PER_MM
    back, front = depth - to_mm(max(heights)) - 4, depth - to_mm(min(heights)) + 4
    yield f'<path class="half" d="M {x:.2f} -10 V -1 M {x:.2f} {back:.2f} V {front:.2f}"/>'
    for words, anchor, at in (("inch", "end", x - 3), ("metric", "start", x + 3)):
        yield f'<text class="side" x="{at:.2f}" y="-4" font-size="7" text-anchor="{anchor}">{words}</text>'


def _rectangle(kind: str, left: int, front: int, width: int, height: int, depth: float) -> str:
    """A rectangle given from the front left corner, drawn with the front at the bottom."""
    top = depth - to_mm(front + height)
    return f'<rect class="{kind}" x="{to_mm(left):g}" y="{top:g}" width="{to_mm(width):g}" height="{to_mm(height):g}"/>'


def _obstructions(drawer: Drawer, depth: float) -> Iterator[str]:
    for block in drawer.obstructions:
        yield _rectangle("taken", block.left, block.front, block.width, block.depth, depth)


def _pockets(group: Group, placement: Placement, depth: float) -> Iterator[str]:
    """Notches first, the pockets over them, the tools in these, then the sizes."""
    layout = placement.layout
    if layout is None:
        return
    left, front = placement.left + placement.field_left, placement.front + placement.field_front
    for notch in layout.notches:
        yield f'<polygon class="notch" points="{_points(notch.ring, left, front, depth)}"/>'
    for pocket in layout.pockets:
        tool = group.pieces[pocket.piece].piece
        outline = _points(pocket.ring, left, front, depth)
        yield f'<polygon class="pocket" points="{outline}"><title>{escape(tool.tool)}</title></polygon>'
        yield from _tool(lying_tool(group.pieces[pocket.piece], pocket), left, front, depth)
    for pocket, label in zip_longest(layout.pockets, layout.labels):
        mark = group.pieces[pocket.piece].piece.mark
        yield _written(mark, label, left, front, depth) if label else _centered(mark, pocket, left, front, depth)


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


def _written(text: str, label: Label, left: int, front: int, depth: float) -> str:
    """A size where the layout found room for it."""
    x, y = to_mm(left + label.x), depth - to_mm(front + label.y)
    return _text(text, x, y, to_mm(label.height), upright=label.upright)


def _centered(text: str, pocket: Pocket, left: int, front: int, depth: float) -> str:
    """A size in the middle of its pocket, turned along it, no larger than it takes."""
    xs, ys = [to_mm(left + x) for x, _ in pocket.ring], [depth - to_mm(front + y) for _, y in pocket.ring]
    across, along = max(xs) - min(xs), max(ys) - min(ys)
    height = min(7.0, 0.6 * min(across, along), 1.6 * max(across, along) / max(len(text), 1))
    return _text(text, (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2, height, upright=along > across)


def _text(text: str, x: float, y: float, height: float, *, upright: bool) -> str:
    turn = f" transform={quoteattr(f'rotate(-90 {x:.2f} {y:.2f})')}" if upright else ""
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{height:.2f}" text-anchor="middle" '
        f'dominant-baseline="central"{turn}>{escape(text)}</text>'
    )


def _caption(title: str, width: float, depth: float) -> Iterator[str]:
    below = depth + FRAME
    yield f'<text x="{width / 2:g}" y="{below - 4:g}" font-size="7" text-anchor="middle">FRONT</text>'
    if title:
        yield f'<text x="0" y="{below + 6:g}" font-size="6">{escape(title)}</text>'
    start = max(0.0, width - SCALE_BAR)
    yield f'<path class="scale" d="M {start:g} {below + 4:g} h {SCALE_BAR}"/>'
    yield f'<text x="{start:g}" y="{below + 11:g}" font-size="5">{SCALE_BAR} mm</text>'
