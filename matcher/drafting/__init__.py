"""Free descriptions of tools, as suppliers write them, to rows of a catalogue; what is open is asked, never guessed.

Reading order, from what is called first to what it stands on: `drafts`, `supplier_lists`, `line_reading`,
`sizes_said`, `drives_said`, `lengths_said`, `kind_choice`, `ranges`, `phrases`, `vocabulary`, `tokens`.
"""

from matcher.drafting.drafts import Draft, draft
from matcher.drafting.line_reading import LineReading
from matcher.drafting.vocabulary import vocabulary, write_tables

__all__ = ["Draft", "LineReading", "draft", "vocabulary", "write_tables"]
