"""What is printed, as PDF: a bundle's guide with labels and packing list, and the full-size check of an organizer.

Reading order, from what is called first to what it stands on: `guide`, `organizers`, `labels`, `check`,
`packing_list`, `tick_list`, `front_page`, `painting`, `poster_paper`, `flow`, `shapes`, `sheets`, `surfaces`.
"""

from matcher.report.paper.check import check_pdf
from matcher.report.paper.guide import guide_pdf
from matcher.report.paper.sheets import paper_named

__all__ = ["check_pdf", "guide_pdf", "paper_named"]
