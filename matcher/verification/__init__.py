"""The independent checker: it recounts a plan from records and house rules and shares nothing with what makes plans.

Reading order, from what is called first to what it stands on: `checker`, `drawers`, `pockets`, `sequence`, `bases`,
`contents`, `pins`, `ways`, `fields`, `goals`, `hard_rules`, `scene`.
"""

from matcher.verification.checker import verify
from matcher.verification.goals import recount

__all__ = [
    "recount",
    "verify",
]
