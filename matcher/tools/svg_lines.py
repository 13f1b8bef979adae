"""Reads the lines of an SVG drawing; the file is looked through before it is drawn."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from xml.parsers import expat

from matcher.tools.drawing_limits import MOST_POINTS, Holding, Stroke, check_placed
from matcher.tools.notation import SizingError

_PX_MM = 25.4 / 96  # a pixel of a drawing that says no unit
_ABSOLUTE = re.compile(r"(mm|cm|in|pt|pc)\s*$")  # a size of a page that is no number of pixels
_CURVES = 48  # straight pieces per curve
_NUMBER = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_NUMBERS = re.compile(_NUMBER)
_PAGE = re.compile(rf"\s*(auto|{_NUMBER}\s*(px|mm|cm|in|pt|pc|%)?)\s*")
_VIEW = re.compile(rf"\s*{_NUMBER}([\s,]+{_NUMBER}){{3}}\s*")
_LONGEST_STYLE, _LONGEST_ENTITY, _MOST_ENTITY_TEXT = 100_000, 200, 1_000_000
"""Characters of all style sheets, of an entity, and of all entities in their places; own choice."""


def svg_lines(path: Path) -> tuple[str, Iterator[Stroke]]:
    """The unit in words, and every drawn path in mm with the page's y turned up; without one it is 1/96 in.

    Raises
    ------
    SizingError
        The file cannot be read, or is more than it seems: copies in themselves or by the million, entities in entities.
    """
    from svgelements import SVG  # type: ignore[import-untyped]

    try:
        _look_through(path.read_bytes())
        page = SVG.parse(str(path), reify=False)
        elements = list(page.elements())
    except SizingError:
        raise
    except Exception:  # a damaged file raises nearly anything: syntax, key, value, attribute and type errors
        raise SizingError("outline", "an SVG file; this one cannot be read") from None
    wide, high = (str(page.values.get(side) or "") for side in ("width", "height"))
    stated = bool(_ABSOLUTE.search(wide) or _ABSOLUTE.search(high))
    told = f"a page of {wide or '?'} x {high or '?'}" if stated else "no unit, taken as pixels of 1/96 in"
    return told, _lines(elements)


# ------------------------------------------------------------------------------------------------ before it is drawn


@dataclass(slots=True)
class _Element:
    """An element of the file; ``within`` are the numbers of those inside it, ``uses`` what is copied into it."""

    within: list[int] = field(default_factory=list)
    uses: str = ""


@dataclass(slots=True)
class _Look:
    """What was seen of a file so far: its elements, which of them has which name, those that are still open."""

    elements: list[_Element] = field(default_factory=lambda: [_Element()])
    named: dict[str, int] = field(default_factory=dict)
    open: list[int] = field(default_factory=lambda: [0])
    numbers: int = 0
    longest_entity: int = 0

    def starts(self, tag: str, values: dict[str, str]) -> None:
        """An element begins."""
        if len(self.open) == 1 and tag.rpartition(":")[2] != "svg":
            raise SizingError("outline", "an SVG file; this one cannot be read")
        at = len(self.elements)
        self.elements.append(_Element(uses=_used(tag, values)))
        self.elements[self.open[-1]].within.append(at)
        self.open.append(at)
        if "id" in values:
            self.named[values["id"]] = at
        if tag.rpartition(":")[2] == "svg":
            _check_page(values)
        self.numbers += sum(len(_NUMBERS.findall(values.get(name, ""))) for name in ("d", "points"))
        if self.numbers > 6 * MOST_POINTS:  # a curve has six
            raise SizingError("outline", f"a drawing of at most {MOST_POINTS:,} points, curves included")

    def ends(self, _tag: str) -> None:
        """The innermost element ends."""
        self.open.pop()

    def entity(self, name: str, _parameter: bool, value: str | None, *_elsewhere: str | None) -> None:
        """An entity is declared: some programs shorten names by them, and hostile files grow by them."""
        if value is None or "&" in value or len(value) > _LONGEST_ENTITY:
            told = "no entity that is long, or stands for others or for a file"
            raise SizingError("outline", f"{told}; {name[:40]} does")
        self.longest_entity = max(self.longest_entity, len(value))


def _used(tag: str, values: dict[str, str]) -> str:
    """The name of what is copied to here, if that is so."""
    if tag.rpartition(":")[2] != "use":
        return ""
    target = values.get("href", values.get("xlink:href", "")).strip()
    if target and not target.startswith("#"):
        raise SizingError("outline", f"shapes in the file itself; it uses {target[:40]!r}")
    return target.removeprefix("#")


def _check_page(values: dict[str, str]) -> None:
    """Refuse a page whose size cannot be read: its lines would be drawn at another size than meant."""
    for side in ("width", "height"):
        if side in values and not _PAGE.fullmatch(values[side]):
            raise SizingError("outline", f"a page's {side} such as 120mm instead of {values[side][:40]!r}")
    if "viewBox" in values and not _VIEW.fullmatch(values["viewBox"]):
        raise SizingError("outline", f"a viewBox of four numbers instead of {values['viewBox'][:40]!r}")


def _look_through(content: bytes) -> None:
    """Refuse a file that would be drawn without end, or otherwise than it says."""
    look, parser = _Look(), expat.ParserCreate()
    parser.StartElementHandler, parser.EndElementHandler = look.starts, look.ends
    parser.EntityDeclHandler = look.entity
    parser.Parse(content, True)
    if look.longest_entity * content.count(b"&") > _MOST_ENTITY_TEXT:
        raise SizingError("outline", f"at most {_MOST_ENTITY_TEXT:,} characters by entities")
    if sum(map(len, re.findall(rb"<style.*?</style>", content, re.DOTALL))) > _LONGEST_STYLE:
        raise SizingError("outline", f"style sheets of at most {_LONGEST_STYLE:,} characters")
    held: dict[str, Holding] = {}
    for at, element in enumerate(look.elements):
        if element.uses and element.uses not in look.named:
            raise SizingError("outline", f"shapes that are in the drawing; {element.uses[:40]!r} is not")
        copied = [look.named[element.uses]] if element.uses else []
        held[str(at)] = Holding(1, [(str(other), 1) for other in (*element.within, *copied)])
    check_placed("0", held)


# ----------------------------------------------------------------------------------------------------- while it is


def _lines(elements: Iterable[object]) -> Iterator[Stroke]:
    from svgelements import Path as Curve
    from svgelements import Shape

    for element in elements:
        if isinstance(element, Shape):
            if element.transform.determinant == 0:
                raise SizingError("outline", "shapes that are scaled to a size; one is scaled to nothing")
            for stroke in Curve(element.reify()).as_subpaths():
                yield ((x * _PX_MM, -y * _PX_MM) for x, y in _points(Curve(stroke)))


def _points(stroke: Iterable[object]) -> Iterator[tuple[float, float]]:
    from svgelements import Close, Line, Move

    for segment in stroke:
        steps = 1 if isinstance(segment, Line | Close) else 0 if isinstance(segment, Move) else _CURVES
        if steps == 0 and segment.end is not None:  # type: ignore[attr-defined]
            yield segment.end.x, segment.end.y  # type: ignore[attr-defined]
        for step in range(1, steps + 1):
            point = segment.point(step / steps)  # type: ignore[attr-defined]
            yield point.x, point.y
