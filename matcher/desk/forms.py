"""What comes back in a form or stands in an address, read into what is asked; refused where no page can send it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from hmac import compare_digest
from typing import TypeAlias

from starlette.datastructures import FormData, QueryParams, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request

from matcher.catalogue import split_question
from matcher.desk.asking import SIZES, Ask, CompareAsk, DrawersAsk, OfferAsk, PlanAsk, Typed
from matcher.desk.wishing import dropped, in_force, read_entries, said_in_a_form, with_entry
from matcher.planning import find_cabinet, member_sets, sets_of
from matcher.records import Catalogue, Fill, UnknownNameError, UsageError

Fields: TypeAlias = FormData | QueryParams
"""What a browser sends, in a form or in an address."""

MOST_FIELDS = 5000
"""Most fields of a form: three for every drawer of a large cabinet."""
MOST_ALTERNATIVES = 20
LARGEST_NUMBER = 10**9
LONGEST_QUESTION = 2000


async def sent_form(request: Request, token: str) -> FormData:
    """The form of a request, if it carries the desk's token."""
    form = await request.form(max_files=1, max_fields=MOST_FIELDS)
    if not compare_digest(text(form, "token").encode(), token.encode()):
        raise HTTPException(403, "this form is not of this run of the desk: open its page anew")
    return form


def text(fields: Fields, name: str) -> str:
    """A field's text; blank where there is none."""
    value = fields.get(name, "")
    return "" if isinstance(value, UploadFile) else value.strip()


def texts(fields: Fields, name: str) -> list[str]:
    """The texts of all fields of one name, in order."""
    return [value.strip() for value in fields.getlist(name) if not isinstance(value, UploadFile)]


def ask_of(page: str, fields: Fields, catalogue: Catalogue) -> Ask:
    """What is asked on a page: plan, comparison, drawers or offer.

    Raises
    ------
    UnknownNameError
        A set or cabinet is not in the catalogue.
    UsageError
        A wish or a number is none.
    """
    if page == "plan":
        return plan_ask(fields, catalogue)
    if page == "drawers":
        return _drawers_ask(fields, catalogue)
    return compare_ask(fields, catalogue) if page == "comparison" else _offer_ask(fields, catalogue)


def plan_ask(fields: Fields, catalogue: Catalogue) -> PlanAsk:
    """Which set in which cabinet, with which wishes; a form may add a wish, drop one, or undo the last."""
    set_name, cabinet = _pair(fields, catalogue)
    asked = PlanAsk(
        catalogue.digest,
        set_name,
        cabinet,
        _fill(fields),
        near=text(fields, "near") != "no",
        alternatives=_whole(fields, "alternatives", MOST_ALTERNATIVES) or 0,
        unit=_unit(fields),
        typed=_typed(fields, catalogue, cabinet),
    )
    return replace(asked, wishes=_wishes(fields))


def compare_ask(fields: Fields, catalogue: Catalogue) -> CompareAsk:
    """Which set in which cabinets, with which wishes, against which reference."""
    cabinets = sorted({find_cabinet(catalogue, name).name for name in texts(fields, "cabinets")})
    reference = text(fields, "reference")
    return CompareAsk(
        catalogue.digest,
        _set(texts(fields, "set"), catalogue),
        tuple(cabinets),
        _fill(fields),
        in_force(_wishes(fields)),
        find_cabinet(catalogue, reference).name if reference else "",
    )


def _drawers_ask(fields: Fields, catalogue: Catalogue) -> DrawersAsk:
    """What is asked in one line, refused at once where no drawers can be read in it."""
    question = " ".join(text(fields, "question")[:LONGEST_QUESTION].split())
    split_question(question)
    return DrawersAsk(catalogue.digest, question)


def _offer_ask(fields: Fields, catalogue: Catalogue) -> OfferAsk:
    return OfferAsk(
        catalogue.digest,
        _fill(fields),
        _whole(fields, "max_new_sizes", LARGEST_NUMBER),
        _number(fields, "budget"),
        _whole(fields, "max_bundles", LARGEST_NUMBER),
        text(fields, "each_set") == "yes",
    )


def _pair(fields: Fields, catalogue: Catalogue) -> tuple[str, str]:
    """Set and cabinet, by their names or by their places in the matrix."""
    place = text(fields, "pair")
    if not place:
        return _set(texts(fields, "set"), catalogue), find_cabinet(catalogue, text(fields, "cabinet")).name
    sets = sets_of(catalogue)
    found = re.fullmatch("([0-9]{1,6})-([0-9]{1,6})", place)
    row, column = map(int, found.groups()) if found else (len(sets), 0)
    if row >= len(sets) or column >= len(catalogue.cabinets):
        raise UnknownNameError(f"pair {place!r}: there is none of that number")
    return sets[row], catalogue.cabinets[column].name


def _set(names: Sequence[str], catalogue: Catalogue) -> str:
    """One set, or several to be planned together, each once."""
    return "+".join(dict.fromkeys(name for given in names for name in member_sets(catalogue, given)))


def _wishes(fields: Fields) -> tuple[tuple[str, str], ...]:
    """The wishes that stand in the fields, with what the form does to them."""
    plain = [(name, value) for name, value in fields.multi_items() if not isinstance(value, UploadFile)]
    entries = read_entries(plain)
    if text(fields, "undo"):
        return entries[:-1]
    for kind_and_words in texts(fields, "drop"):
        kind, _, words = kind_and_words.partition(":")
        entries = dropped(entries, (kind, words))
    added = text(fields, "add")
    for entry in said_in_a_form(added, {name: value.strip() for name, value in plain}) if added else ():
        entries = with_entry(entries, entry)
    return entries


def _typed(fields: Fields, catalogue: Catalogue, cabinet: str) -> tuple[Typed, ...]:
    """Sizes as typed, for every drawer of the cabinet; nothing where all are blank."""
    drawers = find_cabinet(catalogue, cabinet).drawers
    rows = [tuple(text(fields, f"{size}.{number}") for size in SIZES) for number in range(1, len(drawers) + 1)]
    return tuple((width, depth, height) for width, depth, height in rows) if any(map(any, rows)) else ()


def _unit(fields: Fields) -> str:
    unit = text(fields, "unit") or "mm"
    if unit not in ("mm", "in"):
        raise UsageError(f"unit {unit!r}: expected mm or in")
    return unit


def _whole(fields: Fields, name: str, most: int) -> int | None:
    """A whole number in plain digits; ``None`` where nothing was typed."""
    typed = text(fields, name)
    if typed and not (re.fullmatch("[0-9]{1,10}", typed) and int(typed) <= most):
        raise UsageError(f"{name.replace('_', ' ')}: {typed!r}: expected a whole number from 0 to {most:,}")
    return int(typed) if typed else None


def _number(fields: Fields, name: str) -> float | None:
    """A number in plain digits; ``None`` where nothing was typed."""
    typed = text(fields, name)
    if typed and not (re.fullmatch(r"[0-9]{1,10}(\.[0-9]{1,6})?", typed) and float(typed) <= LARGEST_NUMBER):
        raise UsageError(f"{name}: {typed!r}: expected a number from 0 to {LARGEST_NUMBER:,}, such as 3 or 2.5")
    return float(typed) if typed else None


def _fill(fields: Fields) -> Fill | None:
    fill = text(fields, "fill")
    if fill not in ("", "spread", "pack"):
        raise UsageError(f"drawers {fill!r}: expected fewest unused or most free")
    return fill or None  # type: ignore[return-value]
