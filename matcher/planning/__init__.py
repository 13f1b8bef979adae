"""One question to one checked answer: groups, wishes, the assignment problem, the verdict, the plan and its words."""

from matcher.planning.answering import NO_WISHES, answer, find_cabinet, plan
from matcher.planning.deciding import Decided, decide_drawers, narrowest, verdict_of, whole_or_parts
from matcher.planning.differences import differences, sentences, snapshot, summary
from matcher.planning.grouping import groups_of, member_sets, sets_of
from matcher.planning.pins import matches, parse_keep_free, parse_pin, pin_words
from matcher.planning.posing import Case, pins_allow, pose, share, usable
from matcher.planning.reasons import load_reason, short_reason, too_few_reason
from matcher.planning.wishes import check_wishes, parse_goals, parse_names, parse_off, wish_words, worked_in

__all__ = [
    "NO_WISHES",
    "Case",
    "Decided",
    "answer",
    "check_wishes",
    "decide_drawers",
    "differences",
    "find_cabinet",
    "groups_of",
    "load_reason",
    "matches",
    "member_sets",
    "narrowest",
    "parse_goals",
    "parse_keep_free",
    "parse_names",
    "parse_off",
    "parse_pin",
    "pin_words",
    "pins_allow",
    "plan",
    "pose",
    "sentences",
    "sets_of",
    "share",
    "short_reason",
    "snapshot",
    "summary",
    "too_few_reason",
    "usable",
    "verdict_of",
    "whole_or_parts",
    "wish_words",
    "worked_in",
]
