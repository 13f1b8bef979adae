"""Every notebook runs from top to bottom, and its file holds what its cells give today."""

import base64
import io

import numpy as np
import pytest
from PIL import Image

from tests.notebook_outputs import NOTEBOOKS, executed, read, shown

AS_PICTURES = "image/png"
NEAR = 6.0
"""By how much pixels may differ in the mean, of 255: fonts and their smoothing differ from machine to machine."""


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_notebook_ships_with_its_tables_and_pictures(path):
    sorts = {sort for _, sort, _ in shown(read(path))}
    assert "text/html" in sorts
    assert sorts & {AS_PICTURES, "image/svg+xml"}
    assert "stderr" not in sorts


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_every_cell_that_shows_something_has_been_run_in_order(path):
    counts = [cell.execution_count for cell in read(path).cells if cell.cell_type == "code"]
    assert counts == list(range(1, len(counts) + 1))


@pytest.mark.slow
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_what_a_notebook_ships_is_what_its_cells_give_today(path):
    """Mend with ``python -m tests.notebook_outputs``. Pictures in pixels are compared by how near they are."""
    kept, made = list(shown(read(path))), list(shown(executed(path)))
    assert [entry[:2] for entry in kept] == [entry[:2] for entry in made]
    for (cell, sort, before), (_, _, now) in zip(kept, made, strict=True):
        if sort == AS_PICTURES:
            assert _apart(before, now) <= NEAR, f"picture of cell {cell}"
        else:
            assert before == now, f"{sort} of cell {cell}"


def _apart(one: str, other: str) -> float:
    """The mean difference of two pictures' pixels, drawn at one size."""
    pictures = [Image.open(io.BytesIO(base64.b64decode(text))).convert("L") for text in (one, other)]
    first, second = (np.asarray(picture.resize((400, 300)), dtype=float) for picture in pictures)
    return float(np.abs(first - second).mean())
