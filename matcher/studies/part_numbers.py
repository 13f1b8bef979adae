"""Numbers for new parts: a prefix and a number that goes on after those there are, so that no part is named twice."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import count

from matcher.records import Catalogue, UsageError

DIGITS = 3
"""A number has at least so many digits; own choice."""
LONGEST = 40
"""Most characters of a prefix; own choice."""
EXPECTED = (
    f"expected up to {LONGEST} letters, digits and signs such as F- or DR., beginning with a letter or digit and not "
    "ending in a digit"
)


def check_prefix(prefix: str) -> None:
    """Refuse what cannot stand before a number.

    Raises
    ------
    UsageError
        It is blank, too long, ends in a digit, begins with a sign or holds spaces or other characters.
    """
    if len(prefix) > LONGEST or prefix[-1:].isnumeric() or not re.fullmatch(r"[^\W_][\w./-]*", prefix):
        raise UsageError(f"part prefix {prefix!r}: {EXPECTED}")


def new_parts(known: Iterable[Catalogue], prefix: str) -> Iterator[str]:
    """Parts that no catalogue known has, in order: the prefix with the numbers after the highest there is.

    Raises
    ------
    UsageError
        The prefix is none.
    """
    check_prefix(prefix)
    taken = [told for told in (_number(part, prefix) for one in known for part in parts_of(one)) if told]
    digits = max((len(told) for told in taken), default=DIGITS)
    first = 1 + max((int(told) for told in taken), default=0)
    return (f"{prefix}{number:0{max(digits, DIGITS)}d}" for number in count(first))


def parts_of(catalogue: Catalogue) -> Iterable[str]:
    """All parts that rows of organizers have."""
    rows = (*catalogue.organizers, *(kept.made for kept in catalogue.parts))
    return sorted({row.part for row in rows} - {""})


def _number(part: str, prefix: str) -> str:
    """The number of a part with this prefix, capitals aside; blank where it is none."""
    told = part[len(prefix) :]
    return told if part.lower().startswith(prefix.lower()) and re.fullmatch(r"[0-9]+", told) else ""
