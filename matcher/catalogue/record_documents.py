"""Records as plain JSON values and back: lengths in millimeters, masses in kilograms, defaults left out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import MISSING, Field, fields, is_dataclass
from math import isfinite
from types import UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from matcher.records import PER_KG, PER_MM, remembered

T = TypeVar("T")

LENGTHS = frozenset(
    {
        *("width", "depth", "height", "length", "left", "front", "gap_width", "gap_depth", "thickness", "base", "rise"),
        *("field_width", "field_depth", "field_left", "field_front", "inside_width", "inside_depth", "clear_height"),
        *("above_ground", "travel", "corner_radius", "liner", "x", "y"),
    }
)
"""Fields that are lengths; a value's key then ends in ``_mm``."""
MASSES = frozenset(("mass", "load_rating", "mass_low", "mass_high"))
"""Fields that are masses; a value's key then ends in ``_kg``."""
RINGS = frozenset(("ring",))
"""Fields that are closed outlines, told as pairs of millimeters: ``0,0 12.5,0 12.5,8``."""
FARTHEST = 100_000
"""Most millimeters, and most kilograms, that a document may hold."""


def to_document(record: Any) -> dict[str, Any]:
    """A record as a document; what is as its default says is left out."""
    return {_key(one.name): _value(one.name, getattr(record, one.name)) for one in _told(record)}


def _told(record: Any) -> Iterator[Field[Any]]:
    for one in fields(record):
        if getattr(record, one.name) != one.default:
            yield one


def _key(name: str) -> str:
    if name in LENGTHS or name in RINGS:
        return f"{name}_mm"
    return f"{name}_kg" if name in MASSES else name


def _value(name: str, value: Any) -> Any:
    if is_dataclass(value):
        return to_document(value)
    if name in RINGS:
        return " ".join(",".join(f"{side / PER_MM:.15g}" for side in corner) for corner in value)
    if isinstance(value, tuple):
        return [_value(name, one) for one in value]
    if isinstance(value, int) and not isinstance(value, bool) and name in LENGTHS:
        return value / PER_MM
    return value / PER_KG if isinstance(value, int) and name in MASSES else value


def from_document(kind: type[T], document: Any) -> T:
    """The record that a document holds.

    Raises
    ------
    KeyError
        A value is missing or of another kind; names its key.
    """
    if not isinstance(document, dict):
        raise KeyError(kind.__name__)
    hints, values = _hints(kind), {}
    for one in fields(kind):  # type: ignore[arg-type]
        key = _key(one.name)
        if key in document:
            values[one.name] = _read(hints[one.name], document[key], one.name)
        elif one.default is MISSING:
            raise KeyError(key)
    return kind(**values)


@remembered(64)
def _hints(kind: Any) -> dict[str, Any]:
    return get_type_hints(kind)


def _read(kind: Any, value: Any, name: str) -> Any:
    """A value of that kind; the fault of its key if it is of another."""
    if name in RINGS:
        return _ring(value, name)
    origin, arguments = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return None if value is None else _read(next(one for one in arguments if one is not type(None)), value, name)
    if origin is tuple and isinstance(value, list):
        if arguments[-1] is Ellipsis:
            return tuple(_read(arguments[0], one, name) for one in value)
        if len(arguments) == len(value):
            return tuple(_read(own, one, name) for own, one in zip(arguments, value, strict=True))
    if origin is Literal and isinstance(value, str | int) and value in arguments:
        return value
    if is_dataclass(kind):
        return from_document(kind, value)  # type: ignore[arg-type]
    if origin is None and kind is not Any and _plain(kind, value, name):
        return _scaled(kind, value, name)
    raise KeyError(_key(name))


def _plain(kind: Any, value: Any, name: str) -> bool:
    """Whether a value without parts is of its kind; a length or mass is any number within bounds."""
    if kind is float or (kind is int and (_key(name) != name)):
        return type(value) in (int, float) and isfinite(value) and abs(value) <= FARTHEST
    return type(value) is kind


def _scaled(kind: Any, value: Any, name: str) -> Any:
    if kind is int and name in MASSES:
        return round(value * PER_KG)
    return round(value * PER_MM) if kind is int and _key(name) != name else kind(value)


def _ring(value: Any, name: str) -> tuple[tuple[int, ...], ...]:
    """The corners of an outline, three at least."""
    try:
        corners = tuple(tuple(float(side) for side in corner.split(",")) for corner in value.split(" "))
    except (AttributeError, ValueError):
        raise KeyError(_key(name)) from None
    if len(corners) < 3 or any(len(one) != 2 or not all(abs(side) <= FARTHEST for side in one) for one in corners):
        raise KeyError(_key(name))
    return tuple(tuple(round(side * PER_MM) for side in corner) for corner in corners)
