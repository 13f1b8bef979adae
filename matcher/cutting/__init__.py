"""From a plan to foam: blanks, fewest sheets, cut drawings, setup sheets, machine minutes and cost."""

from matcher.cutting.guesses import Guess, GuessedSizesError
from matcher.cutting.jobs import Cut, Job, cut
from matcher.cutting.sheets import SheetCount, Stock

__all__ = ["Cut", "Guess", "GuessedSizesError", "Job", "SheetCount", "Stock", "cut"]
