"""Every set against every cabinet: verdicts that are proofs, by matching and counting where these decide."""

from matcher.screening.pairs import Figures, Pair
from matcher.screening.sweep import Sweep, screen, sweep, swept

__all__ = ["Figures", "Pair", "Sweep", "screen", "sweep", "swept"]
