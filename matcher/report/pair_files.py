"""Screened pairs as rows, streamed to .csv or .parquet: block by block, so that a run can be taken up again.

The file is made of the blocks' parts (see `parts`) at the end, in their order.
"""

from __future__ import annotations

import csv
from collections.abc import Generator, Iterable, Sequence
from contextlib import closing
from pathlib import Path
from typing import Any

import pandas as pd

from matcher.records import How, need, to_mm
from matcher.report.files import cell
from matcher.report.parts import PairRow, Parts, renamed
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
COLUMNS: dict[str, type] = {
    "set": str,
    "cabinet": str,
    "verdict": str,
    "free_drawers": int,
    "fewest_free": int,
    "fewest_free_proved": bool,
    "most_free": int,
    "most_free_bound": int,
    "most_free_proved": bool,
    **dict.fromkeys(COUNTS, int),
    "tightest_mm": float,
    "load_use": float,
    "scope": str,
    "code": str,
    "reason": str,
    "short_mm": float,
    "decided_by": str,
}
"""``most_free`` is what a plan is known for, ``most_free_bound`` what none exceeds; equal where it is proved."""


def rows_of(pairs: Iterable[Pair]) -> list[PairRow]:
    """A row of `COLUMNS` for each pair; without a plan its figures are ``None``."""
    return [tuple(map(_row(pair).get, COLUMNS)) for pair in pairs]


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


def _write(path: Path, blocks: Iterable[Sequence[PairRow]]) -> None:
    """Write all blocks to one file."""
    write = _write_csv if path.suffix.lower() == ".csv" else _write_parquet
    renamed(path, lambda temporary: write(temporary, blocks))


def _write_parquet(path: Path, blocks: Iterable[Sequence[PairRow]]) -> None:
    """Write a row group for each block."""
    import pyarrow as pa
    from pyarrow.parquet import ParquetWriter

    kinds = {str: pa.string(), int: pa.int32(), bool: pa.bool_(), float: pa.float64()}
    schema = pa.schema([(name, kinds[kind]) for name, kind in COLUMNS.items()])
    with ParquetWriter(path, schema) as writer:
        for rows in blocks:
            named = [dict(zip(COLUMNS, row, strict=True)) for row in rows]
            writer.write_table(pa.Table.from_pylist(named, schema))


def _write_csv(path: Path, blocks: Iterable[Sequence[PairRow]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(COLUMNS)
        for rows in blocks:
            writer.writerows(map(cell, row) for row in rows)


def screened(
    asked: Sweep, paths: Sequence[Path], crew: Crew, told: ToldStage | None = None
) -> Generator[Sequence[PairRow], None, None]:
    """The rows of each block of a sweep in order, streamed to the files.

    With files, only blocks that an earlier run did not finish are worked out, and the rows come when all are done.

    Raises
    ------
    UsageError
        A file cannot be written, or a folder of parts is not one.
    MissingExtraError
        What writes .parquet is not installed.
    """
    if any(path.suffix.lower() == ".parquet" for path in paths):
        need("parquet", "a .parquet file")
    if not paths:
        yield from (rows for _, rows in swept(asked, rows_of, crew, told=told))
        return
    with closing(Parts(paths[0], asked.identity(), len(asked.blocks))) as parts:
        with closing(swept(asked, rows_of, crew, parts.done, told, parts)) as blocks:
            for number, rows in blocks:
                parts.add(number, rows)
        yield from parts.rows()
        for path in paths:
            _write(path, parts.rows())
        parts.remove()


def pairs_frame(pairs: Iterable[Pair]) -> pd.DataFrame:
    """One row per pair, columns as in the files."""
    return pd.DataFrame(rows_of(pairs), columns=list(COLUMNS))
