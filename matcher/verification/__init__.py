"""The independent checker: it recounts a plan from records and house rules and shares nothing with what makes plans."""

from matcher.verification.checker import verify
from matcher.verification.goals import recount

__all__ = [
    "recount",
    "verify",
]
