"""The notebooks' outputs, made anew: ``python -m tests.notebook_outputs`` writes them into the files."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import nbformat
from nbclient import NotebookClient

FOLDER = Path(__file__).resolve().parents[1] / "notebooks"
NOTEBOOKS = sorted(FOLDER.glob("*.ipynb"))
SECONDS = 1200
"""How long a cell may take at most."""


def read(path: Path) -> Any:
    """A notebook as it stands in its file."""
    return nbformat.read(path, as_version=4)


def executed(path: Path) -> Any:
    """A notebook run from top to bottom, without what depends on the clock or the machine."""
    notebook = read(path)
    NotebookClient(notebook, timeout=SECONDS, resources={"metadata": {"path": str(FOLDER)}}).execute()
    notebook.metadata["language_info"] = {"name": "python"}
    for cell in notebook.cells:
        cell.metadata = {}
    return notebook


def shown(notebook: Any) -> Iterator[tuple[int, str, str]]:
    """Every output as cell, sort and content: text as it is, a picture in pixels in base 64.

    Of a figure the words for it are left out, for they hold its address in memory.
    """
    for number, cell in enumerate(notebook.cells):
        for output in cell.get("outputs", ()):
            if output.output_type == "stream":
                yield number, output.name, output.text
            for sort, content in sorted(output.get("data", {}).items()):
                if sort != "text/plain" or "<" not in content[:1]:
                    yield number, sort, content


if __name__ == "__main__":
    for path in NOTEBOOKS:
        nbformat.write(executed(path), path)
        print(path.name)
