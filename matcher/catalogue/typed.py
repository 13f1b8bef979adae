"""Drawers typed in one line, as they are said on the phone: ``B3: 22 1/4 x ? x 2 3/4; 565 x ~415 x 70 mm``."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction

from matcher.records import PER_INCH, PER_MM, TypedDrawer, TypedSize, UsageError
from matcher.tools import SizingError, number, tidy

EXPECTED = (
    "expected inside width x depth x clear height of each drawer: 22 1/4 x 16 3/8 x 2 3/4, 565 x 415 x 70 mm; "
    "several with ';' between them, '3 of' before equal ones, a name and ':' before one, ? for a size that is not "
    "known, ~515 for a guess, 'no foam' behind one that is left for cases"
)
LONGEST = 10_000
"""Millimeters; no drawer is larger."""

_NAME = re.compile(r"(?P<name>[^:;]{1,40}):(?P<rest>.*)")
_EQUAL = re.compile(r"(?P<count>[1-9][0-9]?) of (?P<rest>.*)", re.IGNORECASE)
_NO_FOAM = re.compile(r"(?P<rest>.*?),? no foam", re.IGNORECASE)
_TIMES = re.compile(r"""\s*[×*]\s*|\s+x\s*|\s*x\s+|(?<=[0-9?"'mn])x(?=[0-9?~.])|\s+by\s+""", re.IGNORECASE)


def typed_drawers(text: str) -> tuple[TypedDrawer, ...]:
    """The drawers of a line; one without a name is called by its place in it.

    A size without a unit has that of another size of its drawer; one in halves to sixty-fourths is in inches. Inside
    sizes are rounded down to 1/320 mm.

    Raises
    ------
    UsageError
        Something is no drawer, says neither mm nor in, or two drawers have one name.
    """
    found: list[TypedDrawer] = []
    for part in filter(None, (part.strip() for part in text.split(";"))):
        found.extend(_drawers(part, len(found)))
    if not found:
        raise UsageError(f"drawers {text!r}: {EXPECTED}")
    twice = [name for name, times in Counter(drawer.name for drawer in found).items() if times > 1]
    if twice:
        raise UsageError(f"drawers {text!r}: two drawers are called {twice[0]!r}; expected a name of its own for each")
    return tuple(found)


def split_question(text: str) -> tuple[str, tuple[TypedDrawer, ...]]:
    """What is asked about and the drawers: ``wrenches of Linden-348 in 22 1/4 x 16 3/8 x 2 3/4``.

    Raises
    ------
    UsageError
        No drawers stand after the word ``in``.
    """
    refused: list[UsageError] = []
    for found in re.finditer(r"\s+in(?:to)?\s+", text):
        try:
            return text[: found.start()].strip(), typed_drawers(text[found.end() :])
        except UsageError as no_drawers:
            refused.append(no_drawers)
    if refused:
        raise refused[0]
    raise UsageError(f"question {text!r}: expected 'GROUP of SET in DRAWERS' or 'SET in DRAWERS'; {EXPECTED}")


def _drawers(text: str, before: int) -> Iterator[TypedDrawer]:
    rest, name, count, foam = text, "", 1, True
    if named := _NAME.fullmatch(rest):
        name, rest = named["name"].strip(), named["rest"].strip()
    if equal := _EQUAL.fullmatch(rest):
        count, rest = int(equal["count"]), equal["rest"]
    if bare := _NO_FOAM.fullmatch(rest):
        foam, rest = False, bare["rest"]
    cells = [tidy(cell) for cell in _TIMES.split(rest)]
    if len(cells) != 3:
        raise UsageError(f"drawer {text!r}: {EXPECTED}")
    inches = _in_inches(text, cells)
    width, depth, height = (_size(text, cell, inches) for cell in cells)
    for n in range(count):
        own = f"{name} {n + 1}" if name and count > 1 else name or str(before + n + 1)
        yield TypedDrawer(own, width, depth, height, inches, "foam" if foam else "no foam")


def _in_inches(text: str, cells: Iterable[str]) -> bool:
    """Whether the sizes without a unit are in inches."""
    told = {unit for cell in cells if (unit := _read(text, cell)[1])}
    if not told:
        raise UsageError(f"drawer {text!r}: expected mm or in behind the sizes")
    return "inch" in told


def _read(text: str, cell: str) -> tuple[Fraction | None, str | None]:
    """Value and unit of a size, as far as it is told."""
    try:
        if cell.startswith("?"):
            return None, number(f"1{cell[1:]}", "drawers", EXPECTED)[1]
        return number(cell.removeprefix("~").strip(), "drawers", EXPECTED)
    except SizingError as wrong:
        raise UsageError(f"drawer {text!r}, size {cell!r}: {wrong.expected}") from wrong


def _size(text: str, cell: str, inches: bool) -> TypedSize:
    value, unit = _read(text, cell)
    if value is None:
        return TypedSize(None)
    length = int(value * (PER_INCH if (unit == "inch" if unit else inches) else PER_MM))
    if not 0 < length <= LONGEST * PER_MM:
        raise UsageError(f"drawer {text!r}, size {cell!r}: expected more than 0 and at most {LONGEST} mm")
    return TypedSize(length, cell.startswith("~"))
