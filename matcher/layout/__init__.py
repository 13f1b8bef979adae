"""Lays groups out as organizers: shape curves and their layouts, free layouts, bounds on any layout, parts of groups.

Reading order, from what is called first to what it stands on: `free`, `curves`, `splitting`, `tree`, `drives`,
`cases`, `series`, `breaking`, `lines`, `bands`, `nesting`, `notches`, `rows`, `blocks`, `facing`, `poses`, `holds`,
`labels`, `profiles`, `bounds`, `cutouts`, `easing`, `styles`.
"""

from matcher.layout.blocks import shared_out
from matcher.layout.bounds import excluded_by
from matcher.layout.curves import curve, evened, realize
from matcher.layout.easing import eased
from matcher.layout.free import free
from matcher.layout.splitting import parts, singles
from matcher.layout.styles import Style, styles

__all__ = [
    "Style",
    "curve",
    "eased",
    "evened",
    "excluded_by",
    "free",
    "parts",
    "realize",
    "shared_out",
    "singles",
    "styles",
]
