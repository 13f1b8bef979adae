"""Every notebook runs from top to bottom."""

from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

FOLDER = Path(__file__).resolve().parents[1] / "notebooks"


@pytest.mark.slow
@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.ipynb")), ids=lambda path: path.stem)
def test_the_notebook_runs_and_shows_a_table(path):
    notebook = nbformat.read(path, as_version=4)
    NotebookClient(notebook, timeout=300, resources={"metadata": {"path": str(FOLDER)}}).execute()
    shown = [output for cell in notebook.cells for output in cell.get("outputs", ())]
    assert any("text/html" in output.get("data", {}) for output in shown)
