"""The independent checker: it recounts a plan from records and house rules and shares nothing with what makes plans.

Reading order, from what is called first to what it stands on: `checker`, `goals`, `pockets`, `contents`, `divisions`,
`drawers`, `fingers`, `webs`, `depths`, `sequence`, `bases`, `pins`, `ways`, `fields`, `scene`, `arithmetic`,
`belonging`, `hard_rules`.
"""

from matcher.verification.checker import verify
from matcher.verification.goals import recount
from matcher.verification.hard_rules import Violation

__all__ = [
    "Violation",
    "recount",
    "verify",
]
