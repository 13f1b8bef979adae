"""Screened pairs as tables, streamed to .csv or .parquet: block by block, so that a run can be taken up again.

The file is made of the blocks' parts (see `parts`) at the end, in their order.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable, Sequence
from contextlib import closing
from pathlib import Path
from typing import Any

import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pa_csv
import pyarrow.parquet as pq

from matcher.records import How, to_mm
from matcher.report.parts import Parts, renamed
from matcher.screening import Crew, Pair, Sweep, ToldStage, swept

COUNTS: dict[str, How] = {
    "as_is": "as is",
    "shim": "shim",
    "trim": "trim",
    "recut": "re-cut",
    "new": "new",
    "unordered": "unordered",
    "cased": "cased",
}
SCHEMA = pa.schema(
    [
        ("set", pa.string()),
        ("cabinet", pa.string()),
        ("verdict", pa.string()),
        ("free_drawers", pa.int32()),
        ("fewest_free", pa.int32()),
        ("fewest_free_proved", pa.bool_()),
        ("most_free", pa.int32()),
        ("most_free_bound", pa.int32()),
        ("most_free_proved", pa.bool_()),
        *((name, pa.int32()) for name in COUNTS),
        ("tightest_mm", pa.float64()),
        ("load_use", pa.float64()),
        ("scope", pa.string()),
        ("code", pa.string()),
        ("reason", pa.string()),
        ("short_mm", pa.float64()),
        ("decided_by", pa.string()),
    ]
)
"""``most_free`` is what a plan is known for, ``most_free_bound`` what none exceeds; equal where it is proved."""


def pairs_table(pairs: Sequence[Pair]) -> pa.Table:
    """Pairs as a table of `SCHEMA`; figures are empty without a plan."""
    return pa.Table.from_pylist([_row(pair) for pair in pairs], SCHEMA)


def _row(pair: Pair) -> dict[str, Any]:
    row: dict[str, Any] = {
        "set": pair.set,
        "cabinet": pair.cabinet,
        "verdict": pair.verdict,
        "decided_by": pair.decided_by,
    }
    figures = pair.figures
    if figures:
        row |= {
            "free_drawers": figures.fewest_free,
            "fewest_free": figures.fewest_free,
            "fewest_free_proved": figures.fewest_free_proved,
            "most_free": figures.most_free,
            "most_free_bound": figures.most_free_bound,
            "most_free_proved": figures.most_free == figures.most_free_bound,
            "tightest_mm": to_mm(figures.tightest),
            "load_use": None if figures.load_use is None else round(figures.load_use, 4),
        } | dict.fromkeys(COUNTS, 0)
        row |= {name: count for name, how in COUNTS.items() if (count := figures.count(how))}
    if pair.reasons:
        first = pair.reasons[0]
        row |= {
            "scope": pair.scope,
            "code": first.code,
            "reason": "; ".join(reason.text for reason in pair.reasons),
            "short_mm": None if first.short is None else to_mm(first.short),
        }
    return row


def _write(path: Path, tables: Iterable[pa.Table]) -> None:
    """All blocks in one file, a row group each."""
    write = _write_csv if path.suffix.lower() == ".csv" else _write_parquet
    renamed(path, lambda temporary: write(temporary, tables))


def _write_parquet(path: Path, tables: Iterable[pa.Table]) -> None:
    with pq.ParquetWriter(path, SCHEMA) as writer:
        for table in tables:
            writer.write_table(table)


def _write_csv(path: Path, tables: Iterable[pa.Table]) -> None:
    options = pa_csv.WriteOptions(include_header=False, quoting_style="needed")
    with path.open("wb") as stream:
        stream.write((",".join(SCHEMA.names) + "\n").encode())
        for table in tables:
            pa_csv.write_csv(_guarded(table), stream, options)


def _guarded(table: pa.Table) -> pa.Table:
    """Texts that a spreadsheet would run as a formula are kept texts."""
    for place, field in enumerate(table.schema):
        if field.type == pa.string():
            column = table.column(place)
            formula = pc.match_substring_regex(column, r"^[=+\-@]")
            table = table.set_column(
                place, field, pc.if_else(formula, pc.binary_join_element_wise("'", column, ""), column)
            )
    return table


def screened(
    asked: Sweep, paths: Sequence[Path], crew: Crew, told: ToldStage | None = None
) -> Generator[pa.Table, None, None]:
    """All blocks of a sweep in order, as tables, streamed to the files.

    With files, only blocks that an earlier run did not finish are worked out, and the tables come when all are done.

    Raises
    ------
    UsageError
        A file cannot be written, or a folder of parts is not one.
    """
    if not paths:
        yield from (table for _, table in swept(asked, pairs_table, crew, told=told))
        return
    parts = Parts(paths[0], asked.identity(), len(asked.blocks))
    with closing(swept(asked, pairs_table, crew, parts.done, told)) as blocks:
        for number, table in blocks:
            parts.add(number, table)
    yield from parts.tables()
    for path in paths:
        _write(path, parts.tables())
    parts.remove()


def pairs_frame(pairs: Iterable[Pair]) -> pd.DataFrame:
    """One row per pair, columns as in the files."""
    frame: pd.DataFrame = pairs_table(list(pairs)).to_pandas()
    return frame
