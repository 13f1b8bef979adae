"""What a planner asks at the desk; equal asks have one key, so nothing is planned twice."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from typing import TypeAlias

from matcher.records import Fill, Pin

Typed: TypeAlias = tuple[str, str, str]
"""Inside width, inside depth and clear height of one drawer as typed; blank where not measured."""


@dataclass(frozen=True, slots=True)
class PlanAsk:
    """One set in one cabinet. ``typed`` has an entry for every drawer of the cabinet, or none; ``unit`` is mm or in."""

    catalogue: str
    set: str
    cabinet: str
    fill: Fill | None = None
    pins: tuple[Pin, ...] = ()
    unit: str = "mm"
    typed: tuple[Typed, ...] = ()


@dataclass(frozen=True, slots=True)
class CompareAsk:
    """One set in several cabinets; none named: all."""

    catalogue: str
    set: str
    cabinets: tuple[str, ...] = ()
    fill: Fill | None = None


Ask: TypeAlias = PlanAsk | CompareAsk


def key_of(ask: Ask) -> str:
    """The name under which the answer to an ask is kept: it changes with anything that is asked."""
    return sha256(repr(ask).encode()).hexdigest()[:20]
