"""What comes back in a form or stands in an address, read into what is asked; refused where no page can send it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from hmac import compare_digest
from typing import TypeAlias

from starlette.datastructures import FormData, QueryParams, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request

from matcher.catalogue import split_question
from matcher.desk.asking import (
    SIZES,
    Ask,
    CompareAsk,
    DrawersAsk,
    OfferAsk,
    PlanAsk,
    ReleaseAsk,
    SetsAsk,
    SettlingAsk,
    StandingAsk,
    ToleranceAsk,
    Typed,
)
from matcher.desk.earlier import EarlierPlan
from matcher.desk.wishing import dropped, in_force, read_entries, said_in_a_form, with_entry
from matcher.planning import find_cabinet, member_sets, sets_of
from matcher.records import Catalogue, Fill, UnknownNameError, UsageError, inch, mm
from matcher.studies import OF_SETS, RANKS, RankBy, check_prefix, parse_rank
from matcher.tools import SizingError, number, tidy

Fields: TypeAlias = FormData | QueryParams
"""What a browser sends, in a form or in an address."""
PlanNamed: TypeAlias = Callable[[str], EarlierPlan]
"""Gives the earlier plan of a key."""

MOST_FIELDS = 5000
"""Most fields of a form: three for every drawer of a large cabinet."""
MOST_ALTERNATIVES = 20
LARGEST_NUMBER = 10**9
LONGEST_QUESTION = 2000
MOST_OFF = mm(1000)
OFF = "expected up to 1000 mm, such as 3, 2.5 or 1/8 in"


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


def ask_of(page: str, fields: Fields, catalogue: Catalogue, plan_named: PlanNamed) -> Ask:
    """What is asked on a page of `PAGES`.

    Raises
    ------
    UnknownNameError
        A set or cabinet is not in the catalogue.
    UsageError
        A wish or a number is none.
    ForgottenError
        An earlier plan is not remembered.
    """
    if page in ("plan", "release", "tolerance", "settling"):
        return _about_plan(page, fields, plan_ask(fields, catalogue, plan_named))
    if page == "comparison":
        return _compare_ask(fields, catalogue, plan_named)
    if page == "sets":
        cabinet = find_cabinet(catalogue, text(fields, "cabinet")).name
        return SetsAsk(catalogue.digest, cabinet, _fill(fields), _rank(fields, OF_SETS))
    if page == "standing":
        return StandingAsk(catalogue.digest, plan_named(text(fields, "plan")))
    return _drawers_ask(fields, catalogue) if page == "drawers" else _offer_ask(fields, catalogue)


def plan_ask(fields: Fields, catalogue: Catalogue, plan_named: PlanNamed) -> PlanAsk:
    """Which set in which cabinet, with which wishes; a form may add a wish, drop one, or undo the last."""
    set_name, cabinet = _pair(fields, catalogue)
    asked = PlanAsk(
        catalogue.digest,
        set_name,
        cabinet,
        _fill(fields),
        near=text(fields, "near") != "no",
        alternatives=_whole(fields, "alternatives", MOST_ALTERNATIVES) or 0,
        unit=_unit(fields, "unit"),
        typed=_typed(fields, catalogue, cabinet),
        add_to=_earlier(fields, "add_to", plan_named),
        keep=_earlier(fields, "keep", plan_named),
    )
    return replace(asked, wishes=_wishes(fields))


def added_ask(fields: Fields, catalogue: Catalogue, asked: PlanAsk, earlier: EarlierPlan) -> PlanAsk:
    """Another set in the drawers that a plan leaves free; those stay as measured, and wishes were about the plan."""
    added = _set([text(fields, "added")], catalogue)
    return PlanAsk(
        catalogue.digest, added, asked.cabinet, asked.fill, unit=asked.unit, typed=asked.typed, add_to=earlier
    )


def _about_plan(page: str, fields: Fields, asked: PlanAsk) -> Ask:
    """The plan itself, or what is asked about it by the sizes of the catalogue."""
    if page == "release":
        check_prefix(prefix := text(fields, "part_prefix"))
        return ReleaseAsk(replace(asked, typed=()), prefix)
    if page == "settling":
        return SettlingAsk(replace(asked, typed=()))
    return ToleranceAsk(replace(asked, typed=()), _off(fields)) if page == "tolerance" else asked


def _compare_ask(fields: Fields, catalogue: Catalogue, plan_named: PlanNamed) -> CompareAsk:
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
        _earlier(fields, "existing", plan_named),
        _rank(fields, RANKS),
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


def _earlier(fields: Fields, name: str, plan_named: PlanNamed) -> EarlierPlan | None:
    key = text(fields, name)
    return plan_named(key) if key else None


def _rank(fields: Fields, known: tuple[RankBy, ...]) -> RankBy:
    return parse_rank(text(fields, "rank") or "unused", known)


def _off(fields: Fields) -> int | None:
    """A length, in the unit beside it unless it says its own; ``None`` where nothing was typed."""
    typed = text(fields, "within")
    if not typed:
        return None
    try:
        value, own = number(tidy(typed), "off", OFF)
    except SizingError as wrong:
        raise UsageError(f"off by {typed!r}: {OFF}") from wrong
    inches = own == "inch" if own else _unit(fields, "within_unit") == "in"
    length = inch(value) if inches else mm(value)
    if not 0 <= length <= MOST_OFF:
        raise UsageError(f"off by {typed!r}: {OFF}")
    return length


def _unit(fields: Fields, name: str) -> str:
    unit = text(fields, name) or "mm"
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
