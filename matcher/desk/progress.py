"""How far an answer is, and where somebody who does not wait for it ends the work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from matcher.packing import abandon


@dataclass(frozen=True, slots=True)
class HowFar:
    """How far an answer is: ``done`` of ``total`` plans and whose is next, or goals that are proved or not yet."""

    done: int = 0
    total: int = 0
    name: str = ""
    goals: tuple[tuple[str, bool], ...] = ()


TellHowFar: TypeAlias = Callable[[HowFar], None]


def cabinets_told(told: TellHowFar) -> Callable[[int, int, str], None]:
    """Tells how many are done, and goes no further once somebody has ended the work."""

    def tell(done: int, total: int, name: str) -> None:
        abandon()
        told(HowFar(done, total, name))

    return tell


def goals_told(told: TellHowFar) -> Callable[[str, int, int], None]:
    """Tells which goals are proved, and goes no further once somebody has ended the work."""
    goals: dict[str, bool] = {}

    def tell(name: str, value: int, bound: int) -> None:
        abandon()
        goals[name] = value == bound
        told(HowFar(goals=tuple(goals.items())))

    return tell
