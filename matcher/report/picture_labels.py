"""What is written in a drawing of an organizer, large enough to be read: sizes, kinds of tools, drives over columns.

Writing on foam that is cut stands where the layout has it; a drawing is looked at smaller than it is, so its writing is
larger, and placed anew by the same rules.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from matcher.layout import label_area, longer, on_foam, writing
from matcher.records import Group, Label, Layout, Placement, Pocket, Rectangle, mm, remembered, to_mm
from matcher.report.fitted_words import fitted

SIZES = (8.0, 7.0, 6.0, 5.0, 4.0, 3.0)
"""Heights of the writing in a drawer 560 mm wide, the best first, in millimeters; larger in a wider one; own choice."""
USED, USUAL = 3, 560.0
"""How many of them are large enough for words that may be left out; width of a usual drawer in millimeters."""


@dataclass(frozen=True, slots=True)
class PictureLabel:
    """A text in a drawing: its middle from the front left corner of the organizer and its height, in millimeters.

    ``kind`` is size or drive; ``inside`` says that it stands in its pocket, for want of room beside it.
    """

    kind: str
    text: str
    x: float
    y: float
    height: float
    upright: bool
    inside: bool = False


def picture_labels(group: Group, placement: Placement, across: int) -> tuple[PictureLabel, ...]:
    """All that is written in the drawing of an organizer that lies in a drawer ``across`` wide inside."""
    growth = max(1.0, to_mm(across) / USUAL)
    return labels_of_heights(group, placement, tuple(growth * size for size in SIZES))


@remembered(1024)
def labels_of_heights(group: Group, placement: Placement, sizes: tuple[float, ...]) -> tuple[PictureLabel, ...]:
    """The same in some heights in millimeters, the best first; what the last is too high for is cut off."""
    layout = placement.layout
    if layout is None:
        return ()
    heights = [mm(round(size, 1)) for size in sizes]
    margin = min(placement.field_left, placement.field_front)
    headings = list(_drives(group, layout, margin, heights))
    taken = [label_area(label, len(text)) for text, label in headings]
    labels = _sizes(group, layout, margin, heights, taken)
    texts = [group.pieces[pocket.piece].piece.mark for pocket in layout.pockets]
    told = _with_kinds(group, layout)
    areas = [label_area(label, len(text)) for text, label in zip(texts, labels, strict=True)]
    for number, label in longer(layout, told, margin, heights[:USED], [*areas, *taken]).items():
        texts[number], labels[number] = told[number], label
    return (
        *(_shown("drive", text, label, placement) for text, label in headings),
        *(
            _shown("size", *_readable(text, label, pocket, heights[-1]), placement)
            for text, label, pocket in zip(texts, labels, layout.pockets, strict=True)
        ),
    )


def _readable(text: str, label: Label, pocket: Pocket, least: int) -> tuple[str, Label]:
    """A text and its label; one that would be too small in its pocket is cut off rather than that."""
    if label.height >= least:
        return text, label
    xs, ys = [x for x, _ in pocket.ring], [y for _, y in pocket.ring]
    return fitted(text, max(max(xs) - min(xs), max(ys) - min(ys)), least), replace(label, height=least)


def _sizes(
    group: Group, layout: Layout, margin: int, heights: Sequence[int], taken: Sequence[Rectangle]
) -> list[Label]:
    """One height for all sizes, the largest at which all go on foam; else each as large as it can be."""
    for height in heights:
        made = writing(layout, group.pieces, margin, [height], taken)
        if all(label.on_foam for label in made):
            return list(made)
    return list(writing(layout, group.pieces, margin, heights, taken))


def _with_kinds(group: Group, layout: Layout) -> dict[int, str]:
    """Sizes with the kinds of their tools, by the numbers of their pockets, where that is worth saying.

    It is not where it is said by the size, or where more than half of the group's tools are of that kind.
    """
    counts = Counter[str]()
    for sized in group.pieces:
        counts[sized.piece.kind] += sized.piece.count
    told = {}
    for number, pocket in enumerate(layout.pockets):
        piece = group.pieces[pocket.piece].piece
        plain = piece.kind in ("other", "cased") or piece.kind in piece.mark or piece.mark == piece.tool
        if not plain and 2 * counts[piece.kind] <= counts.total():
            told[number] = f"{piece.mark} {piece.kind}"
    return told


def _drives(group: Group, layout: Layout, margin: int, heights: Sequence[int]) -> Iterator[tuple[str, Label]]:
    """The drive over each column of tools of one drive, where columns lie side by side and there is foam behind."""
    columns: dict[tuple[str, str], list[tuple[int, int]]] = {}
    for pocket in layout.pockets:
        piece = group.pieces[pocket.piece].piece
        if piece.drive:
            columns.setdefault((piece.system, piece.drive), []).extend(pocket.ring)
    if len({drive for _, drive in columns}) < 2:
        return
    spans = {column: (min(x for x, _ in points), max(x for x, _ in points)) for column, points in columns.items()}
    ordered = sorted(spans.values())
    if any(left < right for (_, right), (left, _) in pairwise(ordered)):
        return
    for (_, drive), (left, right) in spans.items():
        text = f"{drive} drive"
        for height in heights:
            label = Label((left + right) // 2, layout.depth + margin // 2, height, upright=False, on_foam=True)
            area = label_area(label, len(text))
            if right - left >= area.width and on_foam(layout, area, margin):
                yield text, label
                break


def _shown(kind: str, text: str, label: Label, placement: Placement) -> PictureLabel:
    return PictureLabel(
        kind=kind,
        text=text,
        x=to_mm(placement.field_left + label.x),
        y=to_mm(placement.field_front + label.y),
        height=to_mm(label.height),
        upright=label.upright,
        inside=not label.on_foam,
    )
