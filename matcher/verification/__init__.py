"""The independent check of a plan: hard rules re-derived, goals recounted, nothing shared with what made the plan."""

from matcher.verification.checker import verify
from matcher.verification.goals import recount
from matcher.verification.rules import RULES, Violation

__all__ = ["RULES", "Violation", "recount", "verify"]
