"""Groups to drawers: the CP-SAT model, its goals one after another, matching, counting and alternatives.

Reading order, from what is called first to what it stands on: `alternatives`, `stages`, `division`, `division_order`,
`goals`, `ordering`, `division_cuts`, `nearness`, `unique`, `counting`, `descent`, `division_start`,
`division_search`, `division_model`, `searching`, `board`, `values`, `distances`, `division_records`, `exchanges`,
`layers`, `sharing`, `matching`, `problem`, `sums`.
"""

from matcher.assignment.alternatives import others
from matcher.assignment.distances import banks_apart, rows_apart
from matcher.assignment.division import divided, divides
from matcher.assignment.division_records import Bounds, Divided, Division, Part
from matcher.assignment.division_search import PER_SEARCH
from matcher.assignment.goals import recut_parts
from matcher.assignment.matching import deficient_set, matching
from matcher.assignment.problem import (
    AFTER_OPEN,
    Assignment,
    Box,
    GoalValue,
    Node,
    Option,
    Places,
    Problem,
    Status,
    Wished,
)
from matcher.assignment.stages import Progress, assign
from matcher.assignment.sums import DrawerRoom, ToolNeed, cannot_be_dealt
from matcher.assignment.values import neighbors_value, order_breaks, order_value, wish_costs

__all__ = [
    "AFTER_OPEN",
    "PER_SEARCH",
    "Assignment",
    "Bounds",
    "Box",
    "Divided",
    "Division",
    "DrawerRoom",
    "GoalValue",
    "Node",
    "Option",
    "Part",
    "Places",
    "Problem",
    "Progress",
    "Status",
    "ToolNeed",
    "Wished",
    "assign",
    "banks_apart",
    "cannot_be_dealt",
    "deficient_set",
    "divided",
    "divides",
    "matching",
    "neighbors_value",
    "order_breaks",
    "order_value",
    "others",
    "recut_parts",
    "rows_apart",
    "wish_costs",
]
