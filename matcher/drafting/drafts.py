"""A supplier's list to a draft of a catalogue's tools: every line read, and every set's pieces counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from matcher.drafting.line_reading import LineReading, ListLine, Sure, read_line
from matcher.drafting.phrases import said
from matcher.drafting.supplier_lists import Section, supplier_list
from matcher.drafting.tokens import writes_commas
from matcher.drafting.vocabulary import Vocabulary

POINTS = ("en",)
"""Languages that write decimals with a point; all others do with a comma."""


@dataclass(frozen=True, slots=True)
class SectionCount:
    """Pieces of a section: as its heading advertises, as read, and how many lines are still open."""

    heading: str
    advertised: int
    read: int
    open: int


@dataclass(frozen=True, slots=True)
class Draft:
    """All lines of a list in its order, and what its headings advertise against what was read."""

    name: str
    readings: tuple[LineReading, ...]
    sections: tuple[SectionCount, ...]

    def lines(self, sure: Sure) -> int:
        """How many lines are so sure."""
        return sum(reading.sure == sure for reading in self.readings)

    @property
    def pieces(self) -> int:
        """How many tools were read."""
        return sum(tool.count for reading in self.readings for tool in reading.tools)


def draft(path: Path, known: Vocabulary) -> Draft:
    """The tools that a supplier's list means.

    Each line is read in the language in which most of the list is understood, or in another one that understands more
    of this line.

    Raises
    ------
    CatalogueError
        The file is no list.
    UnknownNameError
        There is no such file.
    """
    found = supplier_list(path, known)
    lines = [line for section in found.sections for line in section.lines]
    commas = writes_commas([f"{line.text} {line.size}" for line in lines])
    main = _language(lines, known)
    by_section = [(section, [_best(line, known, main, commas) for line in section.lines]) for section in found.sections]
    readings = [reading for _, own in by_section for reading in own]
    readings += [_heading(_best(line, known, main, commas)) for line in found.headings]
    readings += [LineReading(line, "no tool", (), ("a heading",)) for line in found.others]
    sheets = list(dict.fromkeys(reading.line.sheet for reading in readings))
    readings.sort(key=lambda reading: (sheets.index(reading.line.sheet), reading.line.row))
    return Draft(found.name, tuple(readings), tuple(_counted(by_section)))


def _language(lines: Sequence[ListLine], known: Vocabulary) -> str:
    """The language that leaves the fewest words of a list unknown."""
    unknown = {
        language: sum(len(said(line.text, known, language).unknown) for line in lines) for language in known.languages
    }
    return min(known.languages, key=lambda language: (unknown[language], language))


def _best(line: ListLine, known: Vocabulary, main: str, commas: bool) -> LineReading:
    """The reading of a line in the language that leaves the fewest of its words unknown, the main one first."""
    languages = sorted(known.languages, key=lambda language: language != main)
    readings = [read_line(line, known, language, commas or language not in POINTS) for language in languages]
    return min(readings, key=lambda reading: (reading.unknown, reading.sure == "not read"))


def _heading(read: LineReading) -> LineReading:
    """A row of one cell is a heading, unless it tells a whole tool with a figure: then it is asked about."""
    if read.tools and any(map(str.isdigit, read.line.text)):
        return LineReading(read.line, "ask", (), ("is it a heading, or a tool?",))
    return LineReading(read.line, "no tool", (), ("a heading",))


def _counted(by_section: Sequence[tuple[Section, Sequence[LineReading]]]) -> Iterator[SectionCount]:
    for section, readings in by_section:
        if section.advertised is not None:
            kinds = Counter(reading.sure for reading in readings)
            pieces = sum(tool.count for reading in readings for tool in reading.tools)
            yield SectionCount(section.heading, section.advertised, pieces, kinds["ask"] + kinds["not read"])
