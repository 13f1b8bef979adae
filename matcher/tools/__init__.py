"""What a tool is and measures: kinds, sizes, dimensions by published series, masses, outlines."""

from matcher.tools.dates import spoiled
from matcher.tools.dimensions import sized
from matcher.tools.kinds import KINDS, counted_kind
from matcher.tools.notation import SizingError, tidy
from matcher.tools.outlines import outline
from matcher.tools.sizes import drive_name, parse_drive, parse_size

__all__ = [
    "KINDS",
    "SizingError",
    "counted_kind",
    "drive_name",
    "outline",
    "parse_drive",
    "parse_size",
    "sized",
    "spoiled",
    "tidy",
]
