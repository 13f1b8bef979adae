"""Height preference: how good a drawer's height is for the hand, and what a group costs there.

Bands and scores: elbow, knuckle and shoulder heights of short and tall users (MIL-STD-1472 percentiles as collected in
occupational handbooks) scored by the British HSE's lifting guideline weights, 25 kg = 1.
"""

from __future__ import annotations

from matcher.assignment.problem import Problem
from matcher.units import PER_INCH, PER_KG

BEST = 10
"""Score of the best band; scores are tenths."""
BANDS = ((29, 42, 10), (12, 48, 8))
"""From, to (inches above the ground) and score. An edge belongs to the better band; outside all bands: ``WORST``."""
WORST = 4
LIFT = 3 * PER_KG
"""A single piece heavier than this is a lift (ISO 11228-1 and EN 1005-2 begin at 3 kg)."""
USE_STEPS = 100
"""Use is counted in hundredths of a time a week."""


def height_score(hand_height: int | None) -> int:
    """Score of a hand height (1/320 mm above the ground) in tenths; an unknown height is not held against a drawer."""
    if hand_height is None:
        return BEST
    return next((score for low, high, score in BANDS if low * PER_INCH <= hand_height <= high * PER_INCH), WORST)


def reach_costs(problem: Problem) -> dict[tuple[int, int], int]:
    """Cost of each group in each of its drawers: use x (1 - score), in thousandths of a time a week.

    A group with a single piece over 3 kg counts as much as the group used most.
    """
    most = max((node.use for node in problem.nodes), default=0.0)
    counted = [round(USE_STEPS * (most if node.heaviest > LIFT else node.use)) for node in problem.nodes]
    lost = [BEST - height_score(box.hand_height) for box in problem.boxes]
    return {(group, box): counted[group] * lost[box] for group, box in problem.options}
