"""What is printed, as PDF: a bundle's guide, its packing list with labels, and the full-size check of an organizer.

Reading order, from what is called first to what it stands on: `guide`, `drawer_pages`, `drawer_blocks`,
`drawer_picture`, `first_reading`, `front_page`, `at_the_cabinet`, `shipping`, `labels`, `drawer_index`, `tick_lines`,
`check`, `packing_list`, `painting`, `poster_paper`, `flow`, `shapes`, `sheets`, `surfaces`.
"""

from matcher.report.paper.check import check_pdf
from matcher.report.paper.guide import guide_pdf
from matcher.report.paper.sheets import paper_named
from matcher.report.paper.shipping import shipping_pdf

__all__ = ["check_pdf", "guide_pdf", "paper_named", "shipping_pdf"]
