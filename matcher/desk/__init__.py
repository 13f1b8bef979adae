"""The planner's desk: a small local server to choose, pin, measure, compare and download. No logic of its own."""

from matcher.desk.routes import make_app
from matcher.desk.serving import serve

__all__ = ["make_app", "serve"]
