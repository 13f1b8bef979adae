"""What somebody should be warned of: loads, tipping, lifting, loose organizers, and the cautions that always hold."""

from matcher.cautions.every_caution import cautions

__all__ = [
    "cautions",
]
