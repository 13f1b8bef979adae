"""What a planner asks at the desk, as fields of an address: whoever has the address can ask the same again.

Equal asks have one key, so nothing is planned twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import TypeAlias
from urllib.parse import urlencode

from matcher.desk.earlier import EarlierPlan
from matcher.desk.wishing import Entry
from matcher.records import Fill, to_mm
from matcher.studies import RankBy

Field: TypeAlias = tuple[str, str]
"""Name and value."""
Typed: TypeAlias = tuple[str, str, str]
"""Inside width, inside depth and clear height of one drawer as typed; blank where not measured."""
SIZES = ("width", "depth", "height")


@dataclass(frozen=True, slots=True)
class PlanAsk:
    """One set, or several (``A+B``), in one cabinet, with wishes in the order in which they were asked.

    Each wish is worked in as near as possible to the plan before it, unless ``near`` is off, and the first plan as near
    as possible to ``keep``. What is planned uses no drawer of ``add_to``. ``typed`` has an entry for every drawer of
    the cabinet, or none; ``unit`` is mm or in.
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
    add_to: EarlierPlan | None = None
    keep: EarlierPlan | None = None

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
        yield from [("add_to", self.add_to.key)] if self.add_to else []
        yield from [("keep", self.keep.key)] if self.keep else []
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
    """One set in several cabinets, none named: all. ``rank`` is what counts first.

    Organizers of the plan for the cabinet ``reference``, or of the plan ``existing``, count as existing.
    """

    catalogue: str
    set: str
    cabinets: tuple[str, ...] = ()
    fill: Fill | None = None
    wishes: tuple[Entry, ...] = ()
    reference: str = ""
    existing: EarlierPlan | None = None
    rank: RankBy = "unused"

    @property
    def page(self) -> str:
        """The page that shows the answer."""
        return "comparison"

    @property
    def fields(self) -> tuple[Field, ...]:
        """All that is asked."""
        fill = [("fill", self.fill)] if self.fill else []
        reference = [("reference", self.reference)] if self.reference else []
        existing = [("existing", self.existing.key)] if self.existing else []
        rank = [("rank", self.rank)] if self.rank != "unused" else []
        named = [("cabinets", name) for name in self.cabinets]
        asked = (*named, *fill, *reference, *existing, *rank, *self.wishes)
        return (("catalogue", self.catalogue), ("set", self.set), *asked)


@dataclass(frozen=True, slots=True)
class SetsAsk:
    """Which sets go into one cabinet; ``rank`` is what counts first among them."""

    catalogue: str
    cabinet: str
    fill: Fill | None = None
    rank: RankBy = "unused"

    @property
    def page(self) -> str:
        """The page that shows the answer."""
        return "sets"

    @property
    def fields(self) -> tuple[Field, ...]:
        """All that is asked."""
        fill = [("fill", self.fill)] if self.fill else []
        rank = [("rank", self.rank)] if self.rank != "unused" else []
        return (("catalogue", self.catalogue), ("cabinet", self.cabinet), *fill, *rank)


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


@dataclass(frozen=True, slots=True)
class StandingAsk:
    """Whether a released plan still holds."""

    catalogue: str
    plan: EarlierPlan

    @property
    def page(self) -> str:
        """The page that shows the answer."""
        return "standing"

    @property
    def fields(self) -> tuple[Field, ...]:
        """All that is asked."""
        return ("catalogue", self.catalogue), ("plan", self.plan.key)


@dataclass(frozen=True, slots=True)
class ReleaseAsk:
    """Which parts a plan becomes; new ones begin with ``prefix``."""

    plan: PlanAsk
    prefix: str

    @property
    def catalogue(self) -> str:
        """The catalogue of the plan."""
        return self.plan.catalogue

    @property
    def page(self) -> str:
        """The page that shows the answer."""
        return "release"

    @property
    def fields(self) -> tuple[Field, ...]:
        """All that is asked."""
        return (*self.plan.fields, ("part_prefix", self.prefix))


@dataclass(frozen=True, slots=True)
class ToleranceAsk:
    """Which drawers decide if all may be off by up to ``within``, 1/320 mm; ``None`` is as much as the house says."""

    plan: PlanAsk
    within: int | None = None

    @property
    def catalogue(self) -> str:
        """The catalogue of the plan."""
        return self.plan.catalogue

    @property
    def page(self) -> str:
        """The page that shows the answer."""
        return "tolerance"

    @property
    def fields(self) -> tuple[Field, ...]:
        """All that is asked."""
        within = [] if self.within is None else [("within", f"{to_mm(self.within):.10g}")]
        return (*self.plan.fields, *within)


@dataclass(frozen=True, slots=True)
class SettlingAsk:
    """Which pieces with estimated sizes to measure, so that the verdict no longer rests on estimates."""

    plan: PlanAsk

    @property
    def catalogue(self) -> str:
        """The catalogue of the plan."""
        return self.plan.catalogue

    @property
    def page(self) -> str:
        """The page that shows the answer."""
        return "settling"

    @property
    def fields(self) -> tuple[Field, ...]:
        """All that is asked."""
        return self.plan.fields


AboutPlan: TypeAlias = ReleaseAsk | ToleranceAsk | SettlingAsk
Ask: TypeAlias = PlanAsk | CompareAsk | SetsAsk | OfferAsk | DrawersAsk | StandingAsk | AboutPlan


def asked_before(ask: Ask) -> PlanAsk | None:
    """The plan that has to be known before an ask is worked on, if it needs one."""
    if isinstance(ask, AboutPlan):
        return ask.plan
    return ask.before if isinstance(ask, PlanAsk) else None


def key_of(ask: Ask) -> str:
    """The name under which the answer to an ask is kept: it changes with anything that is asked."""
    return sha256(repr(ask).encode()).hexdigest()[:20]


def address_of(ask: Ask, file: str = "", **more: str) -> str:
    """The address of an ask's page, or of a file of its answer; ``more`` fields say more about the file."""
    page = f"/{ask.page}/{file}" if file else f"/{ask.page}"
    return f"{page}?{urlencode([*ask.fields, *more.items()])}"
