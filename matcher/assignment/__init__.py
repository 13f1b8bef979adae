"""Which organizer goes in which drawer: hard rules, goals one after another, each with its proof."""

from matcher.assignment.alternatives import Others, others
from matcher.assignment.goals import recut_parts
from matcher.assignment.matching import Deficiency, deficient_set, matching
from matcher.assignment.problem import Assignment, Box, GoalValue, Node, Option, Problem, Side, Together, Wished
from matcher.assignment.stages import assign
from matcher.assignment.values import neighbors_value, order_breaks, order_value, wish_costs

__all__ = [
    "Assignment",
    "Box",
    "Deficiency",
    "GoalValue",
    "Node",
    "Option",
    "Others",
    "Problem",
    "Side",
    "Together",
    "Wished",
    "assign",
    "deficient_set",
    "matching",
    "neighbors_value",
    "order_breaks",
    "order_value",
    "others",
    "recut_parts",
    "wish_costs",
]
