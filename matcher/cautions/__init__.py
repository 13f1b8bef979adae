"""What somebody should be warned of: loads, tipping, lifting, loose organizers, and the cautions that always hold.

Reading order, from what is called first to what it stands on: `every_caution`, `tipping`, `free_loads`, `carcass`,
`heavy`, `fitting`, `uncertain`, `loads`, `lifting`, `stability`, `standing`, `wording`, `codes`.
"""

from matcher.cautions.codes import CODES, SHORT
from matcher.cautions.every_caution import cautions
from matcher.cautions.fitting import estimated_to_cut
from matcher.cautions.free_loads import FreeLoad, free_load_words, free_loads_of
from matcher.cautions.tipping import IF_LOADED

__all__ = [
    "CODES",
    "IF_LOADED",
    "SHORT",
    "FreeLoad",
    "cautions",
    "estimated_to_cut",
    "free_load_words",
    "free_loads_of",
]
