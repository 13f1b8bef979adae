"""Free descriptions of tools, as suppliers write them, to rows of a catalogue; what is open is asked, never guessed.

Reading order, from what is called first to what it stands on: `drafts`, `supplier_lists`, `line_reading`,
`sizes_said`, `kind_choice`, `ranges`, `phrases`, `vocabulary`, `figures`.
"""

from matcher.drafting.drafts import Draft, draft
from matcher.drafting.vocabulary import shipped_tables, vocabulary

__all__ = ["Draft", "draft", "shipped_tables", "vocabulary"]
