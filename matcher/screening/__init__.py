"""Every set against every cabinet: fit tables, matching, counting, then the model; spread over processes.

Reading order, from what is called first to what it stands on: `sweep`, `pair_verdicts`, `figures`, `hands`,
`modelling`, `counting`, `rowing`, `book`, `results`, `workers`, `crews`, `fitting`, `pairs`, `tally`.
"""

from matcher.screening.crews import AHEAD, Crew, SpreadingError, crew_of
from matcher.screening.hands import ALONE, Hands, ToldName, gathered, telling
from matcher.screening.pairs import Pair
from matcher.screening.sweep import Sweep, ToldStage, screen, sweep, swept
from matcher.screening.tally import Tally

__all__ = [
    "AHEAD",
    "ALONE",
    "Crew",
    "Hands",
    "Pair",
    "SpreadingError",
    "Sweep",
    "Tally",
    "ToldName",
    "ToldStage",
    "crew_of",
    "gathered",
    "screen",
    "sweep",
    "swept",
    "telling",
]
