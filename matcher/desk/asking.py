"""What a planner asks at the desk, as fields of an address: whoever has the address can ask the same again.

Equal asks have one key, so nothing is planned twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import TypeAlias
from urllib.parse import urlencode

from matcher.desk.wishing import Entry
from matcher.records import Fill

Field: TypeAlias = tuple[str, str]
"""Name and value."""
Typed: TypeAlias = tuple[str, str, str]
"""Inside width, inside depth and clear height of one drawer as typed; blank where not measured."""
SIZES = ("width", "depth", "height")


@dataclass(frozen=True, slots=True)
class PlanAsk:
    """One set, or several (``A+B``), in one cabinet, with wishes in the order in which they were asked.

    Each wish is worked in as near as possible to the plan before it, unless ``near`` is off. ``typed`` has an entry for
    every drawer of the cabinet, or none; ``unit`` is mm or in.
    """

    catalogue: str
    set: str
    cabinet: str
    fill: Fill | None = None
    wishes: tuple[Entry, ...] = ()
    near: bool = True
    alternatives: int = 0
    unit: str = "mm"
    typed: tuple[Typed, ...] = ()

    @property
    def page(self) -> str:
        """The page that shows the answer."""
        return "plan"

    @property
    def fields(self) -> tuple[Field, ...]:
        """All that is asked."""
        return tuple(self._fields())

    def _fields(self) -> Iterator[Field]:
        yield from (("catalogue", self.catalogue), ("set", self.set), ("cabinet", self.cabinet))
        yield from [("fill", self.fill)] if self.fill else []
        yield from [] if self.near else [("near", "no")]
        yield from [("alternatives", str(self.alternatives))] if self.alternatives else []
        if self.typed:
            yield "unit", self.unit
        for number, texts in enumerate(self.typed, start=1):
            yield from ((f"{size}.{number}", text) for size, text in zip(SIZES, texts, strict=True) if text)
        yield from self.wishes

    @property
    def before(self) -> PlanAsk | None:
        """The same without the last wish; none without wishes, or as measured, where all are worked in at once."""
        return replace(self, wishes=self.wishes[:-1], alternatives=0) if self.wishes and not self.typed else None


@dataclass(frozen=True, slots=True)
class CompareAsk:
    """One set in several cabinets, none named: all; organizers of the plan for ``reference`` count as existing."""

    catalogue: str
    set: str
    cabinets: tuple[str, ...] = ()
    fill: Fill | None = None
    wishes: tuple[Entry, ...] = ()
    reference: str = ""

    @property
    def page(self) -> str:
        """The page that shows the answer."""
        return "comparison"

    @property
    def fields(self) -> tuple[Field, ...]:
        """All that is asked."""
        fill = [("fill", self.fill)] if self.fill else []
        reference = [("reference", self.reference)] if self.reference else []
        named = [("cabinets", name) for name in self.cabinets]
        return (("catalogue", self.catalogue), ("set", self.set), *named, *fill, *reference, *self.wishes)


@dataclass(frozen=True, slots=True)
class OfferAsk:
    """Which bundles to offer, within limits; blank ones are the house's."""

    catalogue: str
    fill: Fill | None = None
    max_new_sizes: int | None = None
    budget: float | None = None
    max_bundles: int | None = None
    each_set: bool = False

    @property
    def page(self) -> str:
        """The page that shows the answer."""
        return "offer"

    @property
    def fields(self) -> tuple[Field, ...]:
        """All that is asked."""
        numbers = {"max_new_sizes": self.max_new_sizes, "budget": self.budget, "max_bundles": self.max_bundles}
        given = [(name, f"{value:.10g}") for name, value in numbers.items() if value is not None]
        fill = [("fill", self.fill)] if self.fill else []
        each = [("each_set", "yes")] if self.each_set else []
        return (("catalogue", self.catalogue), *fill, *given, *each)


@dataclass(frozen=True, slots=True)
class DrawersAsk:
    """Groups or a set in drawers that are told in one line: ``wrenches of A in 22 1/4 x 16 3/8 x 2 3/4``."""

    catalogue: str
    question: str

    @property
    def page(self) -> str:
        """The page that shows the answer."""
        return "drawers"

    @property
    def fields(self) -> tuple[Field, ...]:
        """All that is asked."""
        return ("catalogue", self.catalogue), ("question", self.question)


Ask: TypeAlias = PlanAsk | CompareAsk | OfferAsk | DrawersAsk


def key_of(ask: Ask) -> str:
    """The name under which the answer to an ask is kept: it changes with anything that is asked."""
    return sha256(repr(ask).encode()).hexdigest()[:20]


def address_of(ask: Ask, file: str = "", **more: str) -> str:
    """The address of an ask's page, or of a file of its answer; ``more`` fields say more about the file."""
    page = f"/{ask.page}/{file}" if file else f"/{ask.page}"
    return f"{page}?{urlencode([*ask.fields, *more.items()])}"
