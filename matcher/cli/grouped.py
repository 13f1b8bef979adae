"""Options that belong together as one record: a command takes the record, the shell sees each option by itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import MISSING, fields, is_dataclass
from functools import wraps
from inspect import Parameter, Signature, signature
from typing import Any, get_type_hints


def grouped(command: Callable[..., None]) -> Callable[..., None]:
    """A command whose parameters that are records of options are replaced by the fields of these records."""
    hints = get_type_hints(command, include_extras=True)
    records: dict[str, Any] = {name: kind for name, kind in hints.items() if is_dataclass(kind)}
    parameters = list(_parameters(command, hints))

    @wraps(command)
    def run(**given: Any) -> None:
        made = {name: kind(**{one.name: given.pop(one.name) for one in fields(kind)}) for name, kind in records.items()}
        command(**given, **made)

    run.__signature__ = Signature(parameters)  # type: ignore[attr-defined]
    run.__annotations__ = {one.name: one.annotation for one in parameters}
    return run


def _parameters(command: Callable[..., None], hints: dict[str, Any]) -> Iterator[Parameter]:
    """The command's parameters by keyword, each record's fields in its place."""
    for one in signature(command).parameters.values():
        kind = hints[one.name]
        if not is_dataclass(kind):
            yield one.replace(kind=Parameter.KEYWORD_ONLY, annotation=kind)
            continue
        own = get_type_hints(kind, include_extras=True)
        for field in fields(kind):
            default = Parameter.empty if field.default is MISSING else field.default
            yield Parameter(field.name, Parameter.KEYWORD_ONLY, default=default, annotation=own[field.name])
