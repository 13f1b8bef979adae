"""Self-contained HTML pages and the front view: templates filled with documents; computes nothing but the pictures.

Reading order, from what is called first to what it stands on: `plan_page`, `comparison_page`, `drawers`,
`front_view`, `offer_page`, `rendering`, `quantities`.
"""

from matcher.report.pages.comparison_page import comparison_page
from matcher.report.pages.front_view import front_svg
from matcher.report.pages.offer_page import offer_page
from matcher.report.pages.plan_page import plan_page

__all__ = ["comparison_page", "front_svg", "offer_page", "plan_page"]
