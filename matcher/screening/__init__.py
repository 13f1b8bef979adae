"""Every set against every cabinet: fit tables, matching, then the model; spread over processes.

Reading order, from what is called first to what it stands on: `sweep`, `pair_verdicts`, `hands`, `figures`,
`modelling`, `rowing`, `book`, `processes`, `results`, `workers`, `crews`, `fitting`, `pairs`, `tally`.
"""

from matcher.screening.crews import Crew, crew_of
from matcher.screening.hands import ALONE, Hands, ToldName, gathered, telling
from matcher.screening.pairs import Pair
from matcher.screening.sweep import Sweep, ToldStage, screen, sweep, swept
from matcher.screening.tally import Tally

__all__ = [
    "ALONE",
    "Crew",
    "Hands",
    "Pair",
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
