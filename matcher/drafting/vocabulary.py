"""The words of suppliers' lists and what they mean: shipped tables, to which a house adds rows of its own."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from io import StringIO
from itertools import product
from pathlib import Path
from typing import Literal, TypeAlias

from matcher.drafting.tokens import FIGURE, Token, folded, tokens
from matcher.records import (
    CatalogueError,
    CellError,
    System,
    UnknownNameError,
    UsageError,
    bounded_text,
    listed,
    remembered,
    whole_folder,
)
from matcher.tools import KINDS, SizingError, parse_size

Traits: TypeAlias = frozenset[str]
TABLES: Mapping[str, tuple[str, ...]] = {
    "words": ("language", "words", "means"),
    "kinds": ("kind", "says"),
    "series": ("kinds", "system", "series", "sizes"),
    "columns": ("language", "heading", "means"),
}
"""The tables by name, with their columns."""
ANY = "any"
"""The language of words that every language has."""
ROLES = (
    "pieces", "count", "drive", "female", "male", "length", "blade", "size", "none", "set", "range", "list", "for",
    "metric", "inch", "total", "packaging",
)  # fmt: skip
"""What words may say of a figure, or of the line, beside traits of a kind."""
COLUMNS = ("set", "text", "size", "drive", "count", "pieces", "-")
_ENDINGS = re.compile(r"\(([\w'|]+)\)")
_UMLAUTS = {"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss"}


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a phrase means: traits of a kind; a role of its figures, or of the line; what is asked where it is open.

    ``number`` is a number of pieces that is written as a word. A phrase that means none of these is only passed over.
    """

    traits: Traits = frozenset()
    role: str = ""
    question: str = ""
    number: int = 0


@dataclass(frozen=True, slots=True)
class KindWords:
    """What a line must say to mean a kind: all of ``needed``, and nothing beyond ``allowed``. ``head`` is the noun."""

    kind: str
    head: str
    needed: Traits
    allowed: Traits


@dataclass(frozen=True, slots=True)
class UsualSizes:
    """Sizes in which tools of some kinds are usually made; where they ascend, a range may mean a run of them."""

    kinds: tuple[str, ...]
    system: System
    sizes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """All tables: phrases by language, each by its tokens; kinds; series; headings of columns."""

    phrases: Mapping[str, Mapping[tuple[str, ...], Meaning]]
    kinds: tuple[KindWords, ...]
    series: tuple[UsualSizes, ...]
    columns: Mapping[str, str]
    longest: int

    @property
    def languages(self) -> tuple[str, ...]:
        """The languages, sorted."""
        return tuple(sorted(self.phrases))

    @property
    def heads(self) -> Traits:
        """The nouns of all kinds."""
        return frozenset(kind.head for kind in self.kinds)


@dataclass(frozen=True, slots=True)
class _RuleTable:
    """One table of text, with what is needed to point at one of its cells."""

    file: str
    rows: tuple[Mapping[str, str], ...]

    def fault(self, at: int, column: str, expected: str) -> CellError:
        return CellError(self.file, at + 2, column, self.rows[at][column], expected)


@remembered(8)
def vocabulary(folder: Path | None = None) -> Vocabulary:
    """The shipped tables and the house's own of the same names in ``folder``, whose rows win over shipped ones.

    Raises
    ------
    CatalogueError
        A row of a table is none that can be used; names each.
    UnknownNameError
        There is no such folder, or no table in it.
    """
    sources = {name: [_parsed(f"{name}.csv", text)] for name, text in shipped_tables().items()}
    if folder is not None:
        for name, source in _own(folder):
            sources[name].append(source)
    faults: list[CellError] = []
    kinds = tuple(dict.fromkeys(_kinds(sources["kinds"], faults)))
    traits = frozenset().union(*(kind.allowed for kind in kinds))
    phrases = _phrases(sources["words"], traits, faults)
    series = tuple(dict.fromkeys(_series(sources["series"], faults)))
    columns = _headings(sources["columns"], faults)
    if faults:
        raise CatalogueError(faults)
    longest = max(len(words) for own in phrases.values() for words in own)
    return Vocabulary(phrases, kinds, series, columns, longest)


def shipped_tables() -> Mapping[str, str]:
    """The text of every shipped table by its name."""
    room = files("matcher.drafting") / "rules"
    return {name: (room / f"{name}.csv").read_text(encoding="utf-8") for name in TABLES}


def write_tables(folder: Path) -> None:
    """Write the shipped tables to a new or empty folder, whole or not at all.

    Raises
    ------
    UsageError
        There is something in it, or it cannot be written.
    """
    if folder.exists() and not (folder.is_dir() and not any(folder.iterdir())):
        raise UsageError(f"{folder} is there already; expected a new or empty folder")
    try:
        folder.absolute().parent.mkdir(parents=True, exist_ok=True)
        with whole_folder(folder) as made:
            for name, text in shipped_tables().items():
                (made / f"{name}.csv").write_text(text, encoding="utf-8")
    except OSError as closed:
        raise UsageError(f"{folder} cannot be written: {closed.strerror}") from closed


def _own(folder: Path) -> Iterator[tuple[str, _RuleTable]]:
    found = [name for name in TABLES if (folder / f"{name}.csv").is_file()]
    if not found:
        raise UnknownNameError(f"{folder}: no folder with one of the tables {listed(tuple(TABLES))}")
    for name in found:
        file = folder / f"{name}.csv"
        try:
            text = bounded_text(file)
        except (OSError, UnicodeDecodeError) as broken:
            raise CatalogueError(
                [CellError(file.name, 0, "", "", "a table of UTF-8 text that may be read")]
            ) from broken
        yield name, _parsed(file.name, text)


def _parsed(file: str, text: str) -> _RuleTable:
    wanted = TABLES[file.partition(".")[0]]
    reader = csv.DictReader(StringIO(text))
    if tuple(reader.fieldnames or ()) != wanted:
        told = ",".join(reader.fieldnames or ())
        raise CatalogueError([CellError(file, 1, "", told, f"the columns {', '.join(wanted)}")])
    rows = tuple({column: str(row[column] or "").strip() for column in wanted} for row in reader)
    return _RuleTable(file, rows)


def _kinds(sources: Iterable[_RuleTable], faults: list[CellError]) -> Iterator[KindWords]:
    for source in sources:
        for at, row in enumerate(source.rows):
            said = row["says"].split()
            if row["kind"] not in KINDS:
                faults.append(source.fault(at, "kind", "a kind of tool"))
            elif not said or said[0].startswith("["):
                faults.append(source.fault(at, "says", "the noun first, then traits, those it may lack in brackets"))
            else:
                needed = frozenset(word for word in said if not word.startswith("["))
                yield KindWords(row["kind"], said[0], needed, frozenset(word.strip("[]") for word in said))


def _phrases(
    sources: Iterable[_RuleTable], traits: Traits, faults: list[CellError]
) -> Mapping[str, Mapping[tuple[str, ...], Meaning]]:
    """Phrases by language; those of every language stand in each, where its own win."""
    own: dict[str, dict[tuple[str, ...], Meaning]] = {ANY: {}}
    for source in sources:
        for at, row in enumerate(source.rows):
            meaning = _meaning(row["means"], traits)
            if meaning is None:
                faults.append(source.fault(at, "means", "traits of kinds, a (role), '-' or '? what is asked'"))
                continue
            own.setdefault(row["language"] or ANY, {}).update(
                (words, meaning) for phrase in row["words"].split(";") if (phrase.strip()) for words in _spelled(phrase)
            )
    return {language: {**own[ANY], **found} for language, found in own.items() if language != ANY or len(own) == 1}


def _meaning(text: str, traits: Traits) -> Meaning | None:
    """What a cell of the column ``means`` says; nothing where it says nothing that is known."""
    if text == "-":
        return Meaning()
    if text.startswith("?"):
        return Meaning(question=text[1:].strip())
    roles = re.findall(r"\((\w+)(?: (\d+))?\)", text)
    said = frozenset(re.sub(r"\([^)]*\)", "", text).split())
    if len(roles) > 1 or not said <= traits or not (roles or said) or any(role not in ROLES for role, _ in roles):
        return None
    role, number = roles[0] if roles else ("", "")
    return Meaning(said, role, number=int(number or 0))


def _spelled(phrase: str) -> Iterator[tuple[str, ...]]:
    """The ways to write a phrase: with each ending in brackets or none, and umlauts also as two letters."""
    pieces = _ENDINGS.split(phrase.strip().lower())
    choices = [[piece] if at % 2 == 0 else ["", *piece.split("|")] for at, piece in enumerate(pieces)]
    for chosen in product(*choices):
        plain = "".join(chosen)
        spread = "".join(_UMLAUTS.get(letter, letter) for letter in plain)
        for text in dict.fromkeys((plain, spread)):
            yield signature(tokens(folded(text.replace("#", FIGURE))))


def signature(read: Iterable[Token]) -> tuple[str, ...]:
    """Tokens as phrases have them: every figure is the same sign."""
    return tuple(FIGURE if token.figure else token.text for token in read)


def _series(sources: Iterable[_RuleTable], faults: list[CellError]) -> Iterator[UsualSizes]:
    for source in sources:
        for at, row in enumerate(source.rows):
            kinds = tuple(kind.strip() for kind in row["kinds"].split(";"))
            system: Literal["metric", "inch", ""] = row["system"] if row["system"] in ("metric", "inch") else ""  # type: ignore[assignment]
            sizes = tuple(row["sizes"].split())
            if not set(kinds) <= set(KINDS):
                faults.append(source.fault(at, "kinds", "kinds of tools, with ';' between them"))
            elif not _are_sizes(kinds, system, sizes):
                faults.append(source.fault(at, "sizes", "two or more sizes of these kinds, with spaces between them"))
            else:
                yield UsualSizes(kinds, system, sizes)


def _are_sizes(kinds: Iterable[str], system: System, sizes: tuple[str, ...]) -> bool:
    try:
        for kind in kinds:
            for size in sizes:
                parse_size(size, system, kind)
    except SizingError:
        return False
    return len(sizes) > 1


def _headings(sources: Iterable[_RuleTable], faults: list[CellError]) -> Mapping[str, str]:
    found: dict[str, str] = {}
    for source in sources:
        for at, row in enumerate(source.rows):
            if row["means"] not in COLUMNS:
                faults.append(source.fault(at, "means", f"one of {', '.join(COLUMNS)}"))
            found.update((plain_heading(heading), row["means"]) for heading in row["heading"].split(";"))
    return found


def plain_heading(text: str) -> str:
    """A heading of a column as it is compared: no accents, capitals, dots or runs of spaces."""
    return " ".join(folded(text).replace(".", " ").replace("-", " ").replace("_", " ").replace(":", " ").split())
