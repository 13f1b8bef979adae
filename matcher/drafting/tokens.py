"""A line of a supplier's list as words and figures: sizes, ranges, units and decimal commas as people write them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

FIGURE = "\N{NUMBER SIGN}"
"""What stands for a figure in a phrase."""
_PLAINER = str.maketrans(
    {"⁄": "/", "×": "x", "″": '"', "”": '"', "“": '"', "„": '"', "′": "'", "’": "'", "–": "-", "—": "-", "−": "-"}
)
_UNITS = {
    **dict.fromkeys(("in", "inch", "inches", "zoll", "pouce", "pouces", "pulgada", "pulgadas", '"', "''"), "in"),
    **{unit: unit for unit in ("mm", "cm", "m", "ft", "kg", "g", "oz", "lb")},
    "lbs": "lb",
}
_UNIT = (
    r"(?: ?-?(?P<unit>(?:mm|cm|inch(?:es)?|zoll|pouces?|pulgadas?|kg|g|oz|lbs?|m|(?:ft|in)(?![ .-]*lb))(?![\w²³])"
    r"|\"|''))?"
)
_NUMBER = r"\d+~\d+|[1-4] \d{1,2}/\d{1,2}|\d{1,2}-\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}(?![\d/])|\d+\.\d+|(?<![\w.])\.\d+|\d+"
_TIP = r"(?P<tip>(?:ph|pz|sl|sq|tx) ?-?#?|[tehm]|#)(?P<size>\d+(?:\.\d+)?)(?!\d|/|\.\d|[a-z]{2})"
_TOKEN = re.compile(
    rf"(?P<times>(?<=[\d\"a-z]) ?x ?(?=[.\d]|ph|pz|sl|t\d))"
    rf"|(?<![\w.]){_TIP}"
    rf"|(?P<number>{_NUMBER}){_UNIT}"
    rf"|(?P<word>[^\W\d_][\w'²³]*)"
    rf"|(?P<sign>[-/,;&+()#°])"
)
_LETTERS = {
    "ph": "PH",
    "pz": "PZ",
    "sl": "SL",
    "sq": "SQ",
    "tx": "T",
    "#": "PH",
    "t": "T",
    "e": "E",
    "h": "H",
    "m": "M",
}
_ONE_COMMA = re.compile(r"(?<![\d,.])(\d+),(\d+)(?![\d]|,\d)")
_SLASHES = re.compile(r"(?<![\d/])\d+(?:/\d+){2,}(?![\d/])")
_SETS = re.compile(r"(\w{4,}(?<!ein)(?<!er)(?<!auf)(?<!an))(satz|satze|sortiment)\b")
"""A compound with *set* at its end, which says that it is one."""
_BY = re.compile(r"(?<=\d) by (?=\d)")
_CLEAR = re.compile(r"\d,\d+ ?x|(?<!\d)0,\d|,\d+ ?(?:kg|m)\b|(?<![\d,])([5-9]|1\d),[1-5](?![\d,])")


@dataclass(frozen=True, slots=True)
class Figure:
    """A size, number or range: its parts as written (``5.5`` and ``125``), its unit, and the other end of a range.

    ``open`` is what is not known of it, such as whether a comma parts two sizes.
    """

    parts: tuple[str, ...]
    unit: str = ""
    to: Figure | None = None
    open: str = ""

    @property
    def text(self) -> str:
        """The figure as a person would write it."""
        return (
            "x".join(self.parts) + (f" {self.unit}" if self.unit else "") + (f" to {self.to.text}" if self.to else "")
        )

    @property
    def whole(self) -> int | None:
        """The number, where it is nothing but a whole one."""
        plain = len(self.parts) == 1 and not self.unit and self.to is None and self.parts[0].isdigit()
        return int(self.parts[0]) if plain else None


@dataclass(frozen=True, slots=True)
class Token:
    """A word, a sign, or a figure."""

    text: str
    figure: Figure | None = None


def folded(text: str) -> str:
    """Small letters without accents, one kind of quote, dash and space; vulgar fractions spelled out."""
    plain = "".join(map(_spelled_out, text)).translate(_PLAINER).lower().replace("ß", "ss")
    bare = "".join(sign for sign in unicodedata.normalize("NFD", plain) if not unicodedata.combining(sign))
    return " ".join(bare.split())


def _spelled_out(char: str) -> str:
    vulgar = unicodedata.decomposition(char).startswith("<fraction>")
    return f" {unicodedata.normalize('NFKC', char)} " if vulgar else char


def writes_commas(texts: Sequence[str]) -> bool:
    """Whether a list writes decimals with a comma: somewhere it does so where nothing else can be meant."""
    return any(_CLEAR.search(folded(text)) for text in texts)


def tokens(text: str, commas: bool = False) -> tuple[Token, ...]:
    """Words, signs and figures of a folded text; ``commas`` says that its list writes decimals with a comma.

    A hyphen counts only between figures; dots and colons never do.
    """
    text = _SETS.sub(r"\1 \2", text)
    plain = _SLASHES.sub(lambda found: found[0].replace("/", ","), _BY.sub("x", text))
    return tuple(_singles(_with_points(plain, commas)))


def _with_points(text: str, commas: bool) -> str:
    """Decimal commas as points; a comma that may as well part two sizes as ``~``."""

    def point(found: re.Match[str]) -> str:
        whole, rest = found[1], found[2]
        if len(rest) > 1 and rest not in ("25", "75", "05", "50", "00", "35", "15"):
            return found[0]
        if commas or len(rest) > 1 or whole == "0" or int(rest) <= int(whole):
            return f"{whole}.{rest}"
        return f"{whole}~{rest}"

    return _ONE_COMMA.sub(point, text)


def _singles(text: str) -> Iterator[Token]:
    for found in _TOKEN.finditer(text):
        if found["times"]:
            yield Token("x")
        elif found["tip"]:
            letters = _LETTERS[re.sub("[ #-]", "", found["tip"]) or "#"]
            yield _figure((letters + found["size"],), "")
        elif found["number"]:
            yield _number(found)
        elif found["word"]:
            yield Token(found["word"])
        elif found["sign"] != "-" or _between_figures(found):
            yield Token(found["sign"])


def _between_figures(found: re.Match[str]) -> bool:
    before, after = found.string[: found.start()].rstrip(), found.string[found.end() :].lstrip()
    return bool(re.search(r"[\d\"']$|\d ?(mm|in|kg|g)$", before)) and bool(
        re.match(r"[\d.]|(ph|pz|sl|tx|[tehm])\d", after)
    )


def _number(found: re.Match[str]) -> Token:
    text, unit = found["number"], _UNITS.get(found["unit"] or "", "")
    text = re.sub(r"^(\d+)[ -](?=\d+/)", r"\1-", text)
    if unit == "m" and "/" in text:
        unit = ""
    if "~" in text:
        comma = text.replace("~", ",")
        return Token(FIGURE, Figure((comma,), unit, open=f"is {comma} one size or two?"))
    return _figure((text,), unit)


def _figure(parts: tuple[str, ...], unit: str) -> Token:
    return Token(FIGURE, Figure(parts, unit))


def crossed(read: Sequence[Token], apart: Callable[[int], bool]) -> Iterator[Token]:
    """Figures with ``x`` between them joined, but for the one at a place that ``apart`` says is something else."""
    at = 0
    while at < len(read):
        token = read[at]
        while token.figure and at + 2 < len(read) and read[at + 1].text == "x" and (other := read[at + 2].figure):
            if apart(at + 2):
                break
            token = Token(FIGURE, _joined(token.figure, other))
            at += 2
        yield token
        at += 1


def _joined(first: Figure, second: Figure) -> Figure:
    """Two figures as one, the unit of the last counting for those before that have none."""
    unit = second.unit
    parts = (*(_marked(part, first.unit, unit) for part in first.parts), *second.parts)
    return Figure(parts, unit or first.unit)


def _marked(part: str, own: str, last: str) -> str:
    return f"{part}in" if own == "in" and last != "in" else part


def with_ranges(read: Sequence[Token], words: frozenset[str]) -> tuple[Token, ...]:
    """Two figures with a hyphen or one of ``words`` between them as a range; longer chains are lists of sizes.

    A unit at the lower end alone means that the second figure is something else: ``1/2" - 6 point``.
    """
    found: list[Token] = []
    at = 0
    while at < len(read):
        ends = [read[at]]
        while at + 2 < len(read) and read[at].figure and read[at + 1].text in words and read[at + 2].figure:
            at += 2
            ends.append(read[at])
        low, high = ends[0].figure, ends[-1].figure
        if len(ends) == 2 and low and high and (high.unit or not low.unit):
            found.append(Token(FIGURE, _range(low, high)))
        else:
            found += [token for end in ends for token in (Token(","), end)][1:]
        at += 1
    return tuple(found)


def _range(low: Figure, high: Figure) -> Figure:
    """A range, in which a unit at one end counts for both."""
    return replace(low, unit=low.unit or high.unit, to=replace(high, unit=high.unit or low.unit))


def value(part: str) -> Fraction | None:
    """The number of a part, without letters before it or a unit behind; nothing where it is none."""
    found = re.fullmatch(r"[A-Z]*(?:(\d+)-)?(\d*\.?\d+)(?:/(\d+))?(?:in)?", part)
    if not found or found[3] == "0":
        return None
    return int(found[1] or 0) + Fraction(found[2]) / int(found[3] or 1)
