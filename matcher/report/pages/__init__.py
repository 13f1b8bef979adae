"""Self-contained HTML pages and the front view: templates filled with documents; computes nothing but the pictures.

Reading order, from what is called first to what it stands on: `plan_page`, `comparison_page`, `poster_view`, `drawers`,
`free_bars`, `side_by_side`, `front_view`, `offer_page`, `trade_off`, `rendering`, `quantities`.
"""

from matcher.report.pages.comparison_page import comparison_page
from matcher.report.pages.offer_page import offer_page
from matcher.report.pages.plan_page import plan_page
from matcher.report.pages.poster_view import poster_svg

__all__ = ["comparison_page", "offer_page", "plan_page", "poster_svg"]
