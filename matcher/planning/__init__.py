"""One question to one checked answer: groups, wishes, the assignment problem, the verdict, the plan and its words.

Reading order, from what is called first to what it stands on: `answering`, `holding`, `changed_tools`,
`changed_drawers`, `as_it_stands`, `existing_foam`, `best_part`, `fits_but`, `deciding`, `partly_known`,
`standing_for`, `keeping`, `casing`, `nearest_change`, `reasons`, `dividing`, `leaving_out`, `placing`, `loosening`,
`contributions`, `assigning`, `drawer_problem`, `every_division`, `foam_asked`, `releasing`, `differences`,
`free_drawers`, `rivals`, `sharing`, `slanting`, `summing`, `kept_answers`, `posing`, `homes`, `margins`, `outcome`,
`stranded`, `question`, `wishes`, `adding`, `shaping`, `joining`, `filling`, `goal_words`, `order_words`, `grouping`,
`pins`, `plainest`, `released`, `made_organizers`, `togetherness`.
"""

from matcher.planning.adding import taken_by
from matcher.planning.answering import answer, plan, with_best_part
from matcher.planning.deciding import Decided, decide_drawers, verdict_of
from matcher.planning.differences import changes, differences, sentences, snapshot, summary
from matcher.planning.existing_foam import counting_on
from matcher.planning.foam_asked import foam_asked
from matcher.planning.free_drawers import free_told
from matcher.planning.goal_words import LEAST, NOT_PROVED, PROVED, in_amounts, in_words, standing
from matcher.planning.grouping import content_of, groups_of, member_sets, sets_of
from matcher.planning.holding import DrawerStanding, PlanStanding, standing_today
from matcher.planning.joining import meant_by
from matcher.planning.made_organizers import first_tool
from matcher.planning.outcome import (
    DoesNotFit,
    Fits,
    Outcome,
    PartialPlan,
    Undecided,
    drawn,
    fits_but_of,
    nearest_change_of,
    part_of,
    placed_in,
    reasons_of,
    together_words,
)
from matcher.planning.partly_known import with_sizes_opened
from matcher.planning.pins import matches, parse_keep_free, parse_pin, parse_together, pin_words
from matcher.planning.posing import Case, pins_allow, usable
from matcher.planning.question import NO_WISHES, Question, ask, ask_each, find_cabinet, question_of
from matcher.planning.released import Released
from matcher.planning.releasing import as_made, release
from matcher.planning.shaping import left_out_words, piece_words
from matcher.planning.sharing import SideBySide, share
from matcher.planning.stranded import stranded, stranded_words
from matcher.planning.wishes import check_wishes, parse_goals, parse_names, parse_off, wish_words

__all__ = [
    "LEAST",
    "NOT_PROVED",
    "NO_WISHES",
    "PROVED",
    "Case",
    "Decided",
    "DoesNotFit",
    "DrawerStanding",
    "Fits",
    "Outcome",
    "PartialPlan",
    "PlanStanding",
    "Question",
    "Released",
    "SideBySide",
    "Undecided",
    "answer",
    "as_made",
    "ask",
    "ask_each",
    "changes",
    "check_wishes",
    "content_of",
    "counting_on",
    "decide_drawers",
    "differences",
    "drawn",
    "find_cabinet",
    "first_tool",
    "fits_but_of",
    "foam_asked",
    "free_told",
    "groups_of",
    "in_amounts",
    "in_words",
    "left_out_words",
    "matches",
    "meant_by",
    "member_sets",
    "nearest_change_of",
    "parse_goals",
    "parse_keep_free",
    "parse_names",
    "parse_off",
    "parse_pin",
    "parse_together",
    "part_of",
    "piece_words",
    "pin_words",
    "pins_allow",
    "placed_in",
    "plan",
    "question_of",
    "reasons_of",
    "release",
    "sentences",
    "sets_of",
    "share",
    "snapshot",
    "standing",
    "standing_today",
    "stranded",
    "stranded_words",
    "summary",
    "taken_by",
    "together_words",
    "usable",
    "verdict_of",
    "wish_words",
    "with_best_part",
    "with_sizes_opened",
]
