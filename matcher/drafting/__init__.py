"""Free descriptions of tools, as suppliers write them, to rows of a catalogue; what is open is asked, never guessed.

Reading order, from what is called first to what it stands on: `drafts`, `supplier_lists`, `line_reading`,
`sizes_said`, `kind_choice`, `ranges`, `phrases`, `vocabulary`, `figures`.
"""

from matcher.drafting.drafts import Draft, draft
from matcher.drafting.line_reading import Reading
from matcher.drafting.vocabulary import vocabulary, write_tables

__all__ = ["Draft", "Reading", "draft", "vocabulary", "write_tables"]
