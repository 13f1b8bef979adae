"""Foam to cut: blanks, sheets, drawings, minutes and cost, and the cartons a bundle is shipped in.

Reading order, from what is called first to what it stands on: `jobs`, `amounts`, `fit_strip`, `layers`, `sheets`,
`nesting`, `setup`, `dealing`, `guillotine`, `blanks`, `cartons`, `drawings`, `lettering`, `cut_order`, `contours`,
`guesses`, `loads`, `minutes`, `on_hand`, `offcuts`, `remainders`.
"""

from matcher.cutting.amounts import Amounts, BlankAmount, amounts
from matcher.cutting.blanks import Refit
from matcher.cutting.cartons import Carton, CartonLayer, PackingList, ToolLoad, packing_of
from matcher.cutting.contours import Contour, Vertex
from matcher.cutting.cut_order import CutStep
from matcher.cutting.drawings import Drawing, DrawnWords
from matcher.cutting.fit_strip import FitStrip, fit_strip
from matcher.cutting.guesses import Guess, GuessedSizesError, by_group
from matcher.cutting.jobs import Cut, Job, cut
from matcher.cutting.on_hand import InStock
from matcher.cutting.setup import SetupSheet
from matcher.cutting.sheets import Sheet, SheetCount, Stock

__all__ = [
    "Amounts",
    "BlankAmount",
    "Carton",
    "CartonLayer",
    "Contour",
    "Cut",
    "CutStep",
    "Drawing",
    "DrawnWords",
    "FitStrip",
    "Guess",
    "GuessedSizesError",
    "InStock",
    "Job",
    "PackingList",
    "Refit",
    "SetupSheet",
    "Sheet",
    "SheetCount",
    "Stock",
    "ToolLoad",
    "Vertex",
    "amounts",
    "by_group",
    "cut",
    "fit_strip",
    "packing_of",
]
