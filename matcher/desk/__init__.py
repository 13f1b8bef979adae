"""The planner's desk: a small local server to look, move, wish, measure, compare and download. No logic of its own.

Reading order, from what is called first to what it stands on: `serving`, `routes`, `guarding`, `pages`, `downloads`,
`releases`, `memory`, `answering`, `following`, `progress`, `matrices`, `forms`, `asking`, `earlier`, `wishing`,
`uploads`.
"""

from matcher.desk.serving import serve

__all__ = ["serve"]
