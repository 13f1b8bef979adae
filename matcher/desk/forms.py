"""What comes back in a form, read into what is asked; refused where the page it came from cannot have sent it."""

from __future__ import annotations

from dataclasses import replace
from hmac import compare_digest

from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request

from matcher.desk.asking import CompareAsk, PlanAsk, Typed
from matcher.planning import find_cabinet, groups_of, member_sets
from matcher.records import Catalogue, Fill, Pin, UsageError, counted

FIELDS = 5000
"""Most fields of a form: three for every drawer of a large cabinet."""


async def sent_form(request: Request, token: str) -> FormData:
    """The form of a request, if it carries the desk's token."""
    form = await request.form(max_files=1, max_fields=FIELDS)
    if not compare_digest(text(form, "token").encode(), token.encode()):
        raise HTTPException(403, "this form is not of this run of the desk: open its page anew")
    return form


def text(form: FormData, name: str) -> str:
    """A field's text; blank where there is none."""
    value = form.get(name, "")
    return "" if isinstance(value, UploadFile) else value.strip()


def texts(form: FormData, name: str) -> list[str]:
    """The texts of all fields of one name, in order."""
    return [value.strip() for value in form.getlist(name) if not isinstance(value, UploadFile)]


def plan_ask(form: FormData, catalogue: Catalogue) -> PlanAsk:
    """Which set in which cabinet.

    Raises
    ------
    UnknownNameError
        One of them is not in the catalogue.
    """
    set_name = "+".join(member_sets(catalogue, text(form, "set")))
    cabinet = find_cabinet(catalogue, text(form, "cabinet"))
    return PlanAsk(catalogue.digest, set_name, cabinet.name, _fill(form))


def compare_ask(form: FormData, catalogue: Catalogue) -> CompareAsk:
    """Which set in which cabinets.

    Raises
    ------
    UnknownNameError
        One of them is not in the catalogue.
    """
    set_name = "+".join(member_sets(catalogue, text(form, "set")))
    cabinets = sorted({find_cabinet(catalogue, name).name for name in texts(form, "cabinets")})
    return CompareAsk(catalogue.digest, set_name, tuple(cabinets), _fill(form))


def pinned(form: FormData, ask: PlanAsk, catalogue: Catalogue) -> PlanAsk:
    """The ask with one more pin, each only once.

    Raises
    ------
    UsageError
        The group, the drawer or the rule is none of those that can be chosen.
    """
    group, rule, drawer = (text(form, name) for name in ("group", "rule", "drawer"))
    if group not in (known.name for known in groups_of(catalogue, ask.set)):
        raise UsageError(f"pin: the set {ask.set!r} has no group {group!r}")
    if drawer not in (box.name for box in find_cabinet(catalogue, ask.cabinet).drawers):
        raise UsageError(f"pin: the cabinet {ask.cabinet!r} has no drawer {drawer!r}")
    if rule not in ("in", "not in"):
        raise UsageError(f"pin: {rule!r}: expected in or not in")
    pin = Pin("in" if rule == "in" else "not in", group=group, drawer=drawer)
    return replace(ask, pins=tuple(dict.fromkeys((*ask.pins, pin))))


def unpinned(form: FormData, ask: PlanAsk) -> PlanAsk:
    """The ask without one of its pins, by position from 0."""
    number = text(form, "pin")
    if not (number.isdecimal() and len(number) < 5 and int(number) < len(ask.pins)):
        raise UsageError(f"pin {number!r}: there is none of that number")
    return replace(ask, pins=tuple(pin for n, pin in enumerate(ask.pins) if n != int(number)))


def with_readings(form: FormData, ask: PlanAsk, catalogue: Catalogue) -> PlanAsk:
    """The ask with sizes as typed; without any once all are blank."""
    drawers = find_cabinet(catalogue, ask.cabinet).drawers
    columns = [texts(form, name) for name in ("width", "depth", "height")]
    if any(len(column) != len(drawers) for column in columns):
        raise UsageError(
            f"measured drawers: expected a width, a depth and a height for each of {counted(len(drawers), 'drawer')}"
        )
    unit = text(form, "unit")
    if unit not in ("mm", "in"):
        raise UsageError(f"unit {unit!r}: expected mm or in")
    typed: tuple[Typed, ...] = tuple(zip(*columns, strict=True))
    return replace(ask, unit=unit, typed=typed if any(map(any, typed)) else ())


def _fill(form: FormData) -> Fill | None:
    fill = text(form, "fill")
    if fill not in ("", "spread", "pack"):
        raise UsageError(f"fill {fill!r}: expected spread or pack")
    return fill or None  # type: ignore[return-value]
