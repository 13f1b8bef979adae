"""Lays groups out as organizers: shape curves and their layouts, free layouts, bounds on any layout, parts of groups.

Reading order, from what is called first to what it stands on: `free`, `trial_pockets`, `two_rooms`, `curves`,
`kept_curves`, `splitting`, `tree`, `drives`, `cases`, `series`, `breaking`, `lines`, `bands`, `kind_nests`, `nesting`,
`notches`, `rows`, `blocks`, `facing`, `slants`, `poses`, `holds`, `labels`, `profiles`, `bounds`, `pocket_rings`,
`cutouts`, `easing`, `styles`.
"""

from matcher.layout.blocks import shared_out
from matcher.layout.bounds import bare_area, excluded_by, least_area, pocket_area, taken_area
from matcher.layout.curves import curve, evened, realize
from matcher.layout.easing import eased
from matcher.layout.free import free
from matcher.layout.slants import rectangle_goes_in
from matcher.layout.splitting import GroupUnit, cuts_series, parts, run_of, singles, units
from matcher.layout.styles import Style, styles
from matcher.layout.tree import reading_order
from matcher.layout.trial_pockets import trial_pockets
from matcher.layout.two_rooms import in_two_rooms

__all__ = [
    "GroupUnit",
    "Style",
    "bare_area",
    "curve",
    "cuts_series",
    "eased",
    "evened",
    "excluded_by",
    "free",
    "in_two_rooms",
    "least_area",
    "parts",
    "pocket_area",
    "reading_order",
    "realize",
    "rectangle_goes_in",
    "run_of",
    "shared_out",
    "singles",
    "styles",
    "taken_area",
    "trial_pockets",
    "units",
]
