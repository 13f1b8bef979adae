"""Answers as documents, terminal views, pages, paper, drawings, workbooks and cut files.

A report computes only places in a picture. Names are loaded when first used: each medium brings a large library.

Reading order, from what is called first to what it stands on: `pages`, `cut_files`, `frames`, `asked_views`,
`change_views`, `release_views`, `standing_views`, `estimates_views`, `fit_strip_views`, `lookalike_views`,
`comparison_views`, `amount_views`, `variant_views`, `cut_sheets`, `measuring_views`, `offer_trace_views`,
`pair_lines`, `condition_lines`, `offer_views`, `terminal`,
`workbook`, `inventory`, `nominal_views`, `offer_documents`, `pair_files`, `paper`, `setup_sheets`, `document`,
`turning`, `placement_documents`, `drawing`, `poster`, `poster_key`, `poster_outside`, `poster_places`,
`picture_labels`, `row_labels`, `drawer_states`, `draft_views`, `families`, `files`, `fitted_words`, `front`,
`kept_documents`, `listed_tools`, `answer_lines`, `caution_views`, `grids`, `lying_tools`, `outline_views`, `parts`,
`screening_views`, `size_views`, `store_views`, `wish_views`.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matcher.report.answer_lines import fault_lines, left_out_lines
    from matcher.report.asked_views import asked_document, asked_shown, asked_view
    from matcher.report.change_views import change_rows, changes_document, changes_view
    from matcher.report.comparison_views import comparison_view, comparisons_view, fit_view, sets_view
    from matcher.report.condition_lines import conditional_lines, conditions_document
    from matcher.report.cut_files import cut_writers
    from matcher.report.cut_sheets import cut_document, cut_view
    from matcher.report.document import (
        comparison_document,
        fault_document,
        left_out_document,
        placement_rows,
        plain_rows,
        plan_document,
    )
    from matcher.report.draft_views import draft_book, draft_document, draft_rows, draft_view
    from matcher.report.drawing import drawing_of, placed_group
    from matcher.report.estimates_views import estimates_document, estimates_view, settling_words
    from matcher.report.files import (
        Writers,
        check_copy,
        check_writers,
        csv_text,
        drop_unwritten,
        json_text,
        print_out,
        write,
    )
    from matcher.report.fit_strip_views import strip_document, strip_view, strip_writers
    from matcher.report.frames import (
        bundle_table,
        caution_table,
        comparison_table,
        plan_table,
        size_table,
        step_table,
        trade_off_table,
    )
    from matcher.report.inventory import inventory_document, inventory_view, kinds_document, kinds_view
    from matcher.report.lookalike_views import identity_document, identity_view
    from matcher.report.measuring_views import (
        measuring_document,
        measuring_view,
        sheet_document,
        sheet_view,
        tolerance_document,
        tolerance_view,
        tolerance_words,
    )
    from matcher.report.nominal_views import nominal_lines
    from matcher.report.offer_documents import bundle_rows, offer_document
    from matcher.report.offer_trace_views import bundle_trace_view
    from matcher.report.offer_views import offer_view
    from matcher.report.outline_views import outline_document, outline_drawing, outline_view, read_outline
    from matcher.report.pages.comparison_page import comparison_page, comparison_shown
    from matcher.report.pages.offer_page import offer_page, offer_shown
    from matcher.report.pages.plan_page import plan_page, plan_shown
    from matcher.report.pages.poster_view import poster_svg
    from matcher.report.pages.rendering import environment
    from matcher.report.pair_files import COLUMNS, pairs_frame, screened
    from matcher.report.pair_lines import pairs_document, pairs_line
    from matcher.report.paper.check import check_pdf
    from matcher.report.paper.front_page import painted_poster
    from matcher.report.paper.guide import guide_pdf
    from matcher.report.paper.sheets import paper_named
    from matcher.report.paper.shipping import shipping_pdf
    from matcher.report.release_views import release_document, release_shown, release_view
    from matcher.report.screening_views import screening_view
    from matcher.report.size_views import plan_sizes, sizes_book, sizes_document, sizes_view
    from matcher.report.standing_views import standing_document, standing_view, standing_words
    from matcher.report.store_views import store_document, store_line
    from matcher.report.terminal import plan_view, show
    from matcher.report.variant_views import steps_document, steps_view
    from matcher.report.workbook import compare_book, fit_book, offer_book, plan_book

_HOMES = {
    "release_document": "matcher.report.release_views",
    "release_shown": "matcher.report.release_views",
    "release_view": "matcher.report.release_views",
    "standing_document": "matcher.report.standing_views",
    "standing_words": "matcher.report.standing_views",
    "standing_view": "matcher.report.standing_views",
    "COLUMNS": "matcher.report.pair_files",
    "tolerance_view": "matcher.report.measuring_views",
    "tolerance_words": "matcher.report.measuring_views",
    "tolerance_document": "matcher.report.measuring_views",
    "sheet_view": "matcher.report.measuring_views",
    "sheet_document": "matcher.report.measuring_views",
    "Writers": "matcher.report.files",
    "bundle_rows": "matcher.report.offer_documents",
    "bundle_table": "matcher.report.frames",
    "bundle_trace_view": "matcher.report.offer_trace_views",
    "caution_table": "matcher.report.frames",
    "check_copy": "matcher.report.files",
    "check_pdf": "matcher.report.paper.check",
    "asked_document": "matcher.report.asked_views",
    "asked_shown": "matcher.report.asked_views",
    "asked_view": "matcher.report.asked_views",
    "change_rows": "matcher.report.change_views",
    "changes_document": "matcher.report.change_views",
    "changes_view": "matcher.report.change_views",
    "check_writers": "matcher.report.files",
    "compare_book": "matcher.report.workbook",
    "comparison_document": "matcher.report.document",
    "comparison_page": "matcher.report.pages.comparison_page",
    "comparison_shown": "matcher.report.pages.comparison_page",
    "comparison_table": "matcher.report.frames",
    "comparison_view": "matcher.report.comparison_views",
    "comparisons_view": "matcher.report.comparison_views",
    "sets_view": "matcher.report.comparison_views",
    "csv_text": "matcher.report.files",
    "conditional_lines": "matcher.report.condition_lines",
    "conditions_document": "matcher.report.condition_lines",
    "cut_document": "matcher.report.cut_sheets",
    "cut_view": "matcher.report.cut_sheets",
    "cut_writers": "matcher.report.cut_files",
    "draft_book": "matcher.report.draft_views",
    "draft_document": "matcher.report.draft_views",
    "draft_rows": "matcher.report.draft_views",
    "draft_view": "matcher.report.draft_views",
    "drawing_of": "matcher.report.drawing",
    "drop_unwritten": "matcher.report.files",
    "environment": "matcher.report.pages.rendering",
    "estimates_document": "matcher.report.estimates_views",
    "estimates_view": "matcher.report.estimates_views",
    "settling_words": "matcher.report.estimates_views",
    "fault_document": "matcher.report.document",
    "fault_lines": "matcher.report.answer_lines",
    "fit_book": "matcher.report.workbook",
    "fit_view": "matcher.report.comparison_views",
    "guide_pdf": "matcher.report.paper.guide",
    "identity_document": "matcher.report.lookalike_views",
    "identity_view": "matcher.report.lookalike_views",
    "inventory_document": "matcher.report.inventory",
    "inventory_view": "matcher.report.inventory",
    "json_text": "matcher.report.files",
    "left_out_document": "matcher.report.document",
    "left_out_lines": "matcher.report.answer_lines",
    "kinds_document": "matcher.report.inventory",
    "kinds_view": "matcher.report.inventory",
    "measuring_document": "matcher.report.measuring_views",
    "measuring_view": "matcher.report.measuring_views",
    "offer_book": "matcher.report.workbook",
    "nominal_lines": "matcher.report.nominal_views",
    "offer_document": "matcher.report.offer_documents",
    "offer_page": "matcher.report.pages.offer_page",
    "offer_shown": "matcher.report.pages.offer_page",
    "offer_view": "matcher.report.offer_views",
    "outline_document": "matcher.report.outline_views",
    "outline_drawing": "matcher.report.outline_views",
    "outline_view": "matcher.report.outline_views",
    "read_outline": "matcher.report.outline_views",
    "placed_group": "matcher.report.drawing",
    "pairs_frame": "matcher.report.pair_files",
    "painted_poster": "matcher.report.paper.front_page",
    "paper_named": "matcher.report.paper.sheets",
    "plan_book": "matcher.report.workbook",
    "plan_document": "matcher.report.document",
    "plan_page": "matcher.report.pages.plan_page",
    "plan_shown": "matcher.report.pages.plan_page",
    "plan_table": "matcher.report.frames",
    "plan_view": "matcher.report.terminal",
    "poster_svg": "matcher.report.pages.poster_view",
    "print_out": "matcher.report.files",
    "screened": "matcher.report.pair_files",
    "screening_view": "matcher.report.screening_views",
    "shipping_pdf": "matcher.report.paper.shipping",
    "show": "matcher.report.terminal",
    "plan_sizes": "matcher.report.size_views",
    "sizes_book": "matcher.report.size_views",
    "sizes_document": "matcher.report.size_views",
    "sizes_view": "matcher.report.size_views",
    "store_document": "matcher.report.store_views",
    "store_line": "matcher.report.store_views",
    "strip_document": "matcher.report.fit_strip_views",
    "strip_view": "matcher.report.fit_strip_views",
    "strip_writers": "matcher.report.fit_strip_views",
    "size_table": "matcher.report.frames",
    "step_table": "matcher.report.frames",
    "steps_document": "matcher.report.variant_views",
    "steps_view": "matcher.report.variant_views",
    "trade_off_table": "matcher.report.frames",
    "placement_rows": "matcher.report.document",
    "pairs_document": "matcher.report.pair_lines",
    "pairs_line": "matcher.report.pair_lines",
    "plain_rows": "matcher.report.document",
    "write": "matcher.report.files",
}
__all__ = [
    "COLUMNS",
    "Writers",
    "asked_document",
    "asked_shown",
    "asked_view",
    "bundle_rows",
    "bundle_table",
    "bundle_trace_view",
    "caution_table",
    "change_rows",
    "changes_document",
    "changes_view",
    "check_copy",
    "check_pdf",
    "check_writers",
    "compare_book",
    "comparison_document",
    "comparison_page",
    "comparison_shown",
    "comparison_table",
    "comparison_view",
    "comparisons_view",
    "conditional_lines",
    "conditions_document",
    "csv_text",
    "cut_document",
    "cut_view",
    "cut_writers",
    "draft_book",
    "draft_document",
    "draft_rows",
    "draft_view",
    "drawing_of",
    "drop_unwritten",
    "environment",
    "estimates_document",
    "estimates_view",
    "fault_document",
    "fault_lines",
    "fit_book",
    "fit_view",
    "guide_pdf",
    "identity_document",
    "identity_view",
    "inventory_document",
    "inventory_view",
    "json_text",
    "kinds_document",
    "kinds_view",
    "left_out_document",
    "left_out_lines",
    "measuring_document",
    "measuring_view",
    "nominal_lines",
    "offer_book",
    "offer_document",
    "offer_page",
    "offer_shown",
    "offer_view",
    "outline_document",
    "outline_drawing",
    "outline_view",
    "painted_poster",
    "pairs_document",
    "pairs_frame",
    "pairs_line",
    "paper_named",
    "placed_group",
    "placement_rows",
    "plain_rows",
    "plan_book",
    "plan_document",
    "plan_page",
    "plan_shown",
    "plan_sizes",
    "plan_table",
    "plan_view",
    "poster_svg",
    "print_out",
    "read_outline",
    "release_document",
    "release_shown",
    "release_view",
    "screened",
    "screening_view",
    "sets_view",
    "settling_words",
    "sheet_document",
    "sheet_view",
    "shipping_pdf",
    "show",
    "size_table",
    "sizes_book",
    "sizes_document",
    "sizes_view",
    "standing_document",
    "standing_view",
    "standing_words",
    "step_table",
    "steps_document",
    "steps_view",
    "store_document",
    "store_line",
    "strip_document",
    "strip_view",
    "strip_writers",
    "tolerance_document",
    "tolerance_view",
    "tolerance_words",
    "trade_off_table",
    "write",
]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
