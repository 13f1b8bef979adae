"""Cautions in words: of one plan in full, of many cabinets grouped. Shows, never computes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from rich.text import Text

from matcher.cautions import CODES
from matcher.planning import Fits, Outcome
from matcher.records import Caution, counted, listed

MARKS = {"error": "!!", "caution": "!", "info": "-"}
STYLES = {"error": "bold red", "caution": "yellow", "info": "dim"}
STRIP = 110
"""Characters of a strip that warnings fold into; a single longer one stands there all the same; own choice."""
_BEGIN = re.compile(r"(?<=[a-z0-9%])[.:] (?=\w)")
FEW = 4
"""Up to so many cabinets are named."""


def cautions_of(outcome: Outcome, *, notes: bool = False) -> tuple[Caution, ...]:
    """Errors and warnings of a plan, with its notes too where these are wished; none without a plan."""
    told = outcome.cautions if isinstance(outcome, Fits) else ()
    return tuple(caution for caution in told if notes or caution.level != "info")


def cautions_note(outcome: Outcome) -> list[str]:
    """One line for a drawing: the errors of a plan in full and what its warnings are about; none without either."""
    cautions = cautions_of(outcome)
    told = [*(one.text for one in cautions if one.level == "error"), *strip_words(cautions)]
    return [f"{counted(len(cautions), 'caution')}, in full with the plan: {'; '.join(told)}."] if cautions else []


def strip_words(cautions: Iterable[Caution]) -> Iterator[str]:
    """What warnings are about, each in the words its sentence begins with, as many as go into a line; each once."""
    left = STRIP
    for begun in dict.fromkeys(_BEGIN.split(one.text)[0] for one in cautions if one.level == "caution"):
        if left < STRIP and len(begun) > left:
            return
        left -= len(begun)
        yield begun


def caution_lines(cautions: Iterable[Caution]) -> list[Text]:
    """Each with its mark, code and sentence."""
    return [Text.assemble((_head(one), STYLES[one.level]), f" {one.text}") for one in cautions]


def _head(caution: Caution) -> str:
    return f"{MARKS[caution.level]} {caution.code}:"


def notes_line(outcome: Outcome) -> list[Text]:
    """How many notes there are beside errors and warnings, and how to see them."""
    notes = [one for one in cautions_of(outcome, notes=True) if one.level == "info"]
    return [Text(f"--why shows {counted(len(notes), 'note')} more, and what adds to each goal", "dim")] if notes else []


def fleet_cautions(outcomes: Sequence[Outcome], *, why: bool = False) -> list[Text]:
    """Errors of every cabinet in full; warnings by what they are about, with the cabinets, or in full too."""
    planned = [outcome for outcome in outcomes if isinstance(outcome, Fits)]
    told = _shared({one.cabinet: [c for c in cautions_of(one) if why or c.level == "error"] for one in planned})
    if why:
        return told
    for code in CODES:
        where = [one.cabinet for one in planned if any(c.code == code and c.level == "caution" for c in one.cautions)]
        if where:
            named = _which(where, [one.cabinet for one in planned])
            told.append(Text.assemble((f"! {code}:", STYLES["caution"]), f" {CODES[code]}: {named}"))
    return told


def fleet_codes(outcomes: Sequence[Outcome]) -> list[str]:
    """Of many cabinets in short: the codes of errors, each with its cabinets, then those of warnings."""
    planned = [outcome for outcome in outcomes if isinstance(outcome, Fits)]
    told: list[str] = []
    for code in CODES:
        where = [one.cabinet for one in planned if any(c.code == code and c.level == "error" for c in one.cautions)]
        told += [f"!! {code} {_which(where, [one.cabinet for one in planned])}"] if where else []
    warned = {caution.code for one in planned for caution in one.cautions if caution.level == "caution"}
    told += [f"! {', '.join(code for code in CODES if code in warned)}"] if warned else []
    return told


def _shared(found: Mapping[str, Iterable[Caution]]) -> list[Text]:
    """Every sentence once, with the cabinets it is said of."""
    where: dict[Caution, list[str]] = {}
    for cabinet, cautions in found.items():
        for caution in cautions:
            where.setdefault(caution, []).append(cabinet)
    return [
        Text.assemble((_head(one), STYLES[one.level]), f" {_which(names, list(found))}: {one.text}")
        for one, names in sorted(where.items(), key=lambda item: list(STYLES).index(item[0].level))
    ]


def _which(names: Sequence[str], of: Sequence[str]) -> str:
    """The cabinets by name where they, or those that are none of them, are few; else how many."""
    rest = [name for name in of if name not in names]
    if len(names) <= FEW:
        return f"in {listed(names)}"
    if not rest:
        return f"in all {len(of)} cabinets that hold it"
    if len(rest) <= FEW:
        return f"in all cabinets that hold it but {listed(rest)}"
    return f"in {len(names)} of {len(of)} cabinets that hold it"
