"""Styles: how freely tools may lie in a layout, from what a person would lay by hand to all that the house allows.

Common practice, no source: where there is room, all long tools lie in one stance, in straight lines, with their heads
on one side. Where there is less, first a series is broken into stretches, then tools are set back, then stances are
mixed, then neighbors' heads lie at opposite ends. Bands come then, with heads on one side first, and last nests; that
is our own choice.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from matcher.house import LayoutRules

Stance: TypeAlias = Literal["along", "across", "standing"]
"""A *stance*: a tool lies on its back with its long axis from front to back (``along``) or from left to right
(``across``), or it stands on end."""
NestEffort: TypeAlias = Literal["", "quick", "thorough"]
"""How long nests are looked for, if at all."""
EITHER: tuple[Stance, ...] = ("along", "across")
"""Both stances of tools that lie."""


@dataclass(frozen=True, slots=True)
class Style:
    """A *style*: what a layout may do to save foam.

    ``lying`` are the stances in which tools may lie. If ``stretched``, a series may be broken into stretches side by
    side. If ``alike``, all lines have their heads on the same side. If ``alternate``, heads of neighbors in a line may
    lie at opposite ends. If ``stagger``, tools may be set back in a line. If ``banded``, drives may lie in two bands.
    If ``nested``, tools of some kinds may lie freely (`matcher.layout.kind_nests`); it says how long a nest is looked
    for. If ``between``, tools of neither system may lie between inch and metric.
    """

    lying: tuple[Stance, ...] = EITHER
    stretched: bool = True
    alike: bool = False
    alternate: bool = False
    stagger: bool = False
    banded: bool = False
    nested: NestEffort = ""
    between: bool = False


ORDERLY = Style()
"""Tools along or across, in stretches, with heads on one side in each line, and nothing set back."""


def freest(layout: LayoutRules) -> Style:
    """The style with all that the house allows."""
    return Style(
        alternate=layout.alternate_heads,
        stagger=layout.stagger,
        banded=layout.bands,
        nested="thorough" if layout.nests else "",
        between=True,
    )


def styles(layout: LayoutRules) -> tuple[Style, ...]:
    """The styles that the house allows, the plainest first, the freest last."""
    plain = Style(stretched=False, alike=True)
    columns = replace(freest(layout), banded=False, nested="", between=False)
    ladder = (
        *_each_way(plain),
        *_each_way(replace(plain, stretched=True)),
        *_each_way(replace(plain, stretched=True, stagger=layout.stagger)),
        replace(plain, stretched=True),
        *_each_way(columns),
        replace(columns, alternate=False),
        columns,
        *_each_way(replace(plain, stretched=True, banded=layout.bands)),
        replace(freest(layout), nested=""),
        freest(layout),
    )
    return tuple(dict.fromkeys(ladder))


def _each_way(style: Style) -> tuple[Style, Style]:
    """The style for tools that lie along only, and for tools that lie across only."""
    return replace(style, lying=("along",)), replace(style, lying=("across",))
