"""Readers of numbers typed as options: plain digits only, within their limits, or one sentence that says so."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal

import typer


def plain_number(least: int, most: int) -> Callable[[str], Decimal]:
    """A reader of numbers in plain digits, with or without a decimal point, from ``least`` to ``most``."""

    def read(text: str) -> Decimal:
        if not re.fullmatch(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)", text) or not least <= Decimal(text) <= most:
            raise typer.BadParameter(f"{text!r}: expected a number from {least} to {most:,}, such as 3 or 2.5")
        return Decimal(text)

    return read


def plain_whole(least: int, most: int) -> Callable[[str | int], int]:
    """A reader of whole numbers in plain digits from ``least`` to ``most``; a default is a number already."""

    def read(text: str | int) -> int:
        if not re.fullmatch(r"[+-]?[0-9]{1,9}", str(text)) or not least <= int(text) <= most:
            raise typer.BadParameter(f"{text!r}: expected a whole number from {least} to {most:,}")
        return int(text)

    return read
