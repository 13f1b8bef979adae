"""What was worked out already and is asked again: kept up to a bound, in one object that a caller can drop.

Each function of the package that remembers does so in the memory in force: the one a caller has entered (``with
Memory():``), else one that lasts as long as the process. Commands, desk and library thus remember alike, and nothing
else in the package outlives a call.
"""

from __future__ import annotations

from collections.abc import Callable
from contextvars import ContextVar, Token
from functools import lru_cache, wraps
from types import TracebackType
from typing import Any, ParamSpec, TypeVar

P = ParamSpec("P")
R = TypeVar("R")


class Memory:
    """Answers by function and arguments. Each function keeps so many; those not asked for the longest go first."""

    def __init__(self) -> None:
        self._kept: dict[Callable[..., Any], Callable[..., Any]] = {}
        self._tokens: list[Token[Memory]] = []

    def of(self, function: Callable[P, R], most: int) -> Callable[P, R]:
        """The function, which keeps up to ``most`` of its answers here."""
        if function not in self._kept:
            self._kept[function] = lru_cache(maxsize=most)(function)
        return self._kept[function]

    def clear(self) -> None:
        """Drop every answer."""
        self._kept.clear()

    def __enter__(self) -> Memory:
        self._tokens.append(_IN_FORCE.set(self))
        return self

    def __exit__(
        self, kind: type[BaseException] | None, raised: BaseException | None, trace: TracebackType | None
    ) -> None:
        _IN_FORCE.reset(self._tokens.pop())


_IN_FORCE: ContextVar[Memory] = ContextVar("memory in force", default=Memory())  # noqa: B039  meant to be shared


def remembered(most: int) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """A function that remembers up to ``most`` of its answers; its arguments must be hashable."""

    def decorate(function: Callable[P, R]) -> Callable[P, R]:
        @wraps(function)
        def recalled(*given: P.args, **named: P.kwargs) -> R:
            return _IN_FORCE.get().of(function, most)(*given, **named)

        return recalled

    return decorate


def forget() -> None:
    """Drop every answer in the memory in force."""
    _IN_FORCE.get().clear()
