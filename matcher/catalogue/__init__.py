"""Catalogue files to records and back: the only place that knows file and column names.

Reading order, from what is called first to what it stands on: `template`, `measured`, `reading`, `consistency`,
`assembling`, `references`, `contents`, `tool_sizes`, `parsing`, `copying`, `rows`, `cells`, `doubts`, `box_doubts`,
`places`, `house_kinds`, `tables`, `writing`, `demo`, `released_files`, `released_plans`, `record_documents`, `kept`,
`spreadsheet`, `stacks`, `trade`, `typed`, `workbooks`.
"""

from matcher.catalogue.copying import copy_catalogue
from matcher.catalogue.demo import cabinet_tables, write_demo
from matcher.catalogue.doubts import doubtful
from matcher.catalogue.house_kinds import check_kinds
from matcher.catalogue.kept import read_earlier, read_kept
from matcher.catalogue.measured import read_measured, typed_measured
from matcher.catalogue.places import PlaceKey, places
from matcher.catalogue.reading import read_catalogue
from matcher.catalogue.record_documents import to_document
from matcher.catalogue.released_files import plan_beside, write_release
from matcher.catalogue.released_plans import is_released, read_released
from matcher.catalogue.spreadsheet import MIXED, TEXT, BookSheet, SheetChart, SheetColumn, workbook
from matcher.catalogue.tables import LIST, is_table, tables
from matcher.catalogue.template import template
from matcher.catalogue.typed import split_question
from matcher.catalogue.workbooks import DamagedError, calculated_book
from matcher.catalogue.workbooks import text as cell_text

__all__ = [
    "LIST",
    "MIXED",
    "TEXT",
    "BookSheet",
    "DamagedError",
    "PlaceKey",
    "SheetChart",
    "SheetColumn",
    "cabinet_tables",
    "calculated_book",
    "cell_text",
    "check_kinds",
    "copy_catalogue",
    "doubtful",
    "is_released",
    "is_table",
    "places",
    "plan_beside",
    "read_catalogue",
    "read_earlier",
    "read_kept",
    "read_measured",
    "read_released",
    "split_question",
    "tables",
    "template",
    "to_document",
    "typed_measured",
    "workbook",
    "write_demo",
    "write_release",
]
