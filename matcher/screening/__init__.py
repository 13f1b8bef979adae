"""Every set against every cabinet: verdicts that are proofs, by matching and counting where these decide."""

from matcher.screening.pairs import Figures, Pair
from matcher.screening.sweep import Sweep, screen, sweep, swept
from matcher.screening.tally import Tally

__all__ = ["Figures", "Pair", "Sweep", "Tally", "screen", "sweep", "swept"]
