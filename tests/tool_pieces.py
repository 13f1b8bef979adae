"""Pieces for tests: one of any kind, with just what its kind needs."""

from __future__ import annotations

from matcher.records.given import Piece
from matcher.records.laid_out import SizedPiece
from matcher.records.units import mm
from matcher.records.words import System
from matcher.tools.dimensions import sized
from matcher.tools.kinds import KINDS
from matcher.tools.notation import SizingError

SIZES = {
    "flats": ("6", "13", "19", "32"),
    "two flats": ("6x8", "10x12", "17x19", "30x32"),
    "thread": ("M3", "M8x1.25", "M20"),
    "drive": ("1/4", "3/8", "1/2"),
    "length": ("100", "200", "315"),
    "weight": ("200 g", "500 g", "2 kg"),
    "text": ("",),
}
TIPS = {
    "H": ("2", "5", "14", "T25", "PH2"),
    "SL": ("0.4x2.5", "1x5.5", "2x12", "PH2", "PZ3", "T20"),
    "T": ("T6", "T25", "T40"),
    "E": ("E6", "E12", "E20"),
}
DRIVES = ("1/4", "3/8", "1/2", "3/4", "1")


def sizes_of(kind: str) -> tuple[str, ...]:
    """Some sizes of a kind, ascending within each letter."""
    known = KINDS[kind]
    if kind.endswith("long-arm hex key"):
        return ("2", "5", "8", "14")
    return TIPS[known.bare] if known.form == "tip" else SIZES[known.form]


def a_piece(kind: str, size: str = "", drive: str = "1/2", **given: int) -> Piece:
    """A piece of ``kind`` in a middling size, metric where that matters; lengths given in 1/320 mm."""
    known = KINDS[kind]
    system: System = "metric" if known.has_system else ""
    sizes = sizes_of(kind)
    if kind in ("other", "cased"):
        given = {"length": mm(300), "width": mm(200), "height": mm(80), **given}
    return Piece(
        set="set",
        tool="tool",
        kind=kind,
        count=1,
        system=system,
        size=size or sizes[len(sizes) // 2 - (len(sizes) > 3)],
        drive=drive if "drive" in known.needs else "",
        length=given.get("length"),
        width=given.get("width"),
        height=given.get("height"),
        mass=given.get("mass"),
    )


def every_piece(kind: str) -> list[SizedPiece]:
    """A kind in several sizes, on every drive that takes them."""
    pieces = []
    for size in sizes_of(kind):
        for drive in DRIVES if "drive" in KINDS[kind].needs else ("",):
            try:
                pieces.append(sized(a_piece(kind, size, drive)))
            except SizingError as refused:
                if "drive" not in refused.expected:
                    raise
    return pieces
