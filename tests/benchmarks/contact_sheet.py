"""A contact sheet: one tool of every kind at its smallest, a usual and its largest size, as pictures show it.

Run as ``python -m tests.benchmarks.contact_sheet OUT.svg [unnamed] [words of kinds ...]``; with ``unnamed`` the kinds
are not written under their pictures, to see whether each is known without its name. Every tool is drawn as large as its
cell takes; what stands on end is drawn beside what lies. Render it with, for instance,
``chromium --headless --screenshot=OUT.png --window-size=1600,4000 OUT.svg``.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from matcher.records.laid_out import SizedPiece
from matcher.tools.kinds import KINDS
from matcher.tools.outlines import Picture, picture
from tests.tool_pieces import every_piece

ACROSS, SIDE, WIDE, HIGH, BELOW = 6, 8, 60, 150, 16
"""Kinds in a row; free round a tool; a tool's cell; room for the words under it."""
STYLE = """
  .tool { fill: #c9d2d6; stroke: #22272e; stroke-width: 0.6; fill-rule: evenodd }
  .seam { fill: none; stroke: #5b6570; stroke-width: 0.4 }
  text { font: 10px sans-serif; text-anchor: middle }
"""


def chosen(kind: str) -> list[tuple[SizedPiece, bool]]:
    """The smallest, a middling and the largest piece of a kind, the middling one standing too if it may."""
    pieces = sorted(every_piece(kind), key=lambda piece: (piece.length * piece.width, piece.piece.size))
    three = [pieces[0], pieces[len(pieces) // 2], pieces[-1]]
    lying = [(piece, False) for piece in dict.fromkeys(three)]
    return [*lying, (three[1], True)] if KINDS[kind].stands else lying


def drawn(shown: Picture, left: float, top: float) -> Iterator[str]:
    """One picture, as large as its cell takes."""
    _, _, width, length = shown.outline.bounds
    scale = min((WIDE - SIDE) / width, (HIGH - SIDE) / length)
    x0, y0 = left + (WIDE - scale * width) / 2, top + (HIGH + scale * length) / 2

    def path(points: object) -> str:
        return "M" + " ".join(f"{x0 + scale * x:.2f},{y0 - scale * y:.2f}" for x, y in points)  # type: ignore[attr-defined]

    rings = (shown.edge, *shown.holes)
    yield f'<path class="tool" d="{" ".join(path(ring) + "Z" for ring in rings)}"/>'
    yield f'<path class="seam" d="{" ".join(path(line) for line in shown.lines)}"/>'


def sheet(kinds: list[str], named: bool) -> str:
    """The contact sheet as SVG."""
    cells: list[str] = []
    x = y = 0.0
    limit = ACROSS * 3 * WIDE
    for kind in kinds:
        tools = chosen(kind)
        if x + WIDE * len(tools) > limit:
            x, y = 0.0, y + HIGH + BELOW
        for place, (piece, standing) in enumerate(tools):
            cells += drawn(picture(piece, standing), x + place * WIDE, y)
        if named:
            cells.append(f'<text x="{x + WIDE * len(tools) / 2:g}" y="{y + HIGH + 8:g}">{kind}</text>')
        x += WIDE * len(tools) + SIDE
    size = f'viewBox="0 0 {limit} {y + HIGH + BELOW:g}" width="{limit}" height="{y + HIGH + BELOW:g}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}><style>{STYLE}</style>' + "\n".join(cells) + "</svg>\n"


def main() -> None:
    """Write the sheet."""
    path, *words = sys.argv[1:]
    named = "unnamed" not in words
    wanted = [word for word in words if word != "unnamed"]
    kinds = [kind for kind in KINDS if not wanted or any(word in kind for word in wanted)]
    Path(path).write_text(sheet(kinds, named))


if __name__ == "__main__":
    main()
