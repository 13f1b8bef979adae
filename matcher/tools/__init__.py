"""What a tool is and measures: kinds, sizes, dimensions with their bounds by rules, masses, outlines, pictures.

Reading order, from what is called first to what it stands on: `plausible`, `dimensions`, `outlines`, `drive_rules`,
`hand_rules`, `key_rules`, `striking_rules`, `threading_rules`, `wrench_rules`, `rules`, `series`, `sizes`,
`outline_files`, `dxf_lines`, `svg_lines`, `drawing_limits`, `threads`, `kind_words`, `drive_silhouettes`,
`socket_silhouettes`, `wrench_silhouettes`, `key_silhouettes`, `driver_silhouettes`, `pliers_silhouettes`,
`striking_silhouettes`, `bench_silhouettes`, `threading_silhouettes`, `hand_silhouettes`, `notation`, `dates`, `kinds`,
`masses`, `strokes`, `seams`, `sketches`.
"""

from matcher.tools.dates import spoiled
from matcher.tools.dimensions import sized
from matcher.tools.kind_words import unknown_kind
from matcher.tools.kinds import KINDS, counted_kind
from matcher.tools.notation import SizingError, number, tidy
from matcher.tools.outline_files import OutlineReading, outline_reading, turned
from matcher.tools.outlines import outline, picture
from matcher.tools.plausible import doubts
from matcher.tools.sizes import ToolSize, drive_name, parse_drive, parse_size

__all__ = [
    "KINDS",
    "OutlineReading",
    "SizingError",
    "ToolSize",
    "counted_kind",
    "doubts",
    "drive_name",
    "number",
    "outline",
    "outline_reading",
    "parse_drive",
    "parse_size",
    "picture",
    "sized",
    "spoiled",
    "tidy",
    "turned",
    "unknown_kind",
]
