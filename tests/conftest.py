"""Properties are never timed: a busy machine must not turn a true one red."""

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
