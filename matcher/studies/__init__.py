"""Questions about several plans: comparison, variants, measured drawers, tolerance, look-alikes, estimates.

Reading order, from what is called first to what it stands on: `measuring_sheet`, `as_measured`, `lookalikes`,
`telling_apart`, `told_readings`, `cabinet_pairs`, `comparison`, `partly_known`,
`asked_drawers`, `releases`, `part_numbers`,
`catalogue_changes`, `edits`, `nominals`, `readings`, `tolerances`, `variants`, `estimates`, `inside_sizes`, `moves`,
`recommending`, `ranking`, `yardsticks`, `compared`, `missing`, `size_lists`.
"""

from matcher.studies.as_measured import DrawerContents, Measuring, measure, measure_for
from matcher.studies.asked_drawers import AskedDrawers, Condition, ConditionalPlan, ask_drawers, sizes_typed
from matcher.studies.cabinet_pairs import CabinetPairs, cabinet_pairs
from matcher.studies.catalogue_changes import BundleChange, CatalogueChanges, changes_between, worst_of
from matcher.studies.compared import Comparison, RankBy, Variant
from matcher.studies.comparison import Stopped, compare
from matcher.studies.edits import Edit
from matcher.studies.estimates import Doubt, Settling, settling
from matcher.studies.lookalikes import Identity, Lookalike, Narrowing, identify
from matcher.studies.measuring_sheet import ENOUGH, NOTE, ONE_AT_A_TIME, Line, MeasuringSheet, sheet_for
from matcher.studies.missing import missing_of
from matcher.studies.moves import Move, moves
from matcher.studies.nominals import NominalOff, nominals_off
from matcher.studies.part_numbers import check_prefix
from matcher.studies.partly_known import conditional_plan
from matcher.studies.ranking import OF_SETS, RANK_WORDS, RANKS, parse_rank, ranked_sets, ranking_words
from matcher.studies.readings import Reading, measured_cabinets, own_name
from matcher.studies.recommending import Recommendation, recommended, recommended_for_all
from matcher.studies.releases import new_rows, released_as
from matcher.studies.size_lists import RULE, SizeList, in_doubt, sizes_of, worth_measuring
from matcher.studies.telling_apart import Branch, SizeDifference, Tree
from matcher.studies.told_readings import Countable, Counted, ToldReading, told_reading
from matcher.studies.tolerances import Tolerance, Turn, tolerance
from matcher.studies.variants import Carry, Step, carry_counts, steps
from matcher.studies.yardsticks import NOT_GIVEN

__all__ = [
    "ENOUGH",
    "NOTE",
    "NOT_GIVEN",
    "OF_SETS",
    "ONE_AT_A_TIME",
    "RANKS",
    "RANK_WORDS",
    "RULE",
    "AskedDrawers",
    "Branch",
    "BundleChange",
    "CabinetPairs",
    "Carry",
    "CatalogueChanges",
    "Comparison",
    "Condition",
    "ConditionalPlan",
    "Countable",
    "Counted",
    "Doubt",
    "DrawerContents",
    "Edit",
    "Identity",
    "Line",
    "Lookalike",
    "Measuring",
    "MeasuringSheet",
    "Move",
    "Narrowing",
    "NominalOff",
    "RankBy",
    "Reading",
    "Recommendation",
    "Settling",
    "SizeDifference",
    "SizeList",
    "Step",
    "Stopped",
    "ToldReading",
    "Tolerance",
    "Tree",
    "Turn",
    "Variant",
    "ask_drawers",
    "cabinet_pairs",
    "carry_counts",
    "changes_between",
    "check_prefix",
    "compare",
    "conditional_plan",
    "identify",
    "in_doubt",
    "measure",
    "measure_for",
    "measured_cabinets",
    "missing_of",
    "moves",
    "new_rows",
    "nominals_off",
    "own_name",
    "parse_rank",
    "ranked_sets",
    "ranking_words",
    "recommended",
    "recommended_for_all",
    "released_as",
    "settling",
    "sheet_for",
    "sizes_of",
    "sizes_typed",
    "steps",
    "told_reading",
    "tolerance",
    "worst_of",
    "worth_measuring",
]
