"""The pictures of the README, as the commands named beside them there draw them.

``python -m tests.readme_pictures`` draws them anew; `tests/test_readme_pictures.py` compares.
"""

from __future__ import annotations

from pathlib import Path

from matcher import default_house, plan, read_catalogue
from matcher.report import drawing_of, poster_svg

ROOT = Path(__file__).resolve().parents[1]
SET, CABINET, GROUP = "Birch-134", "Glen-7", "chrome sockets"


def pictures() -> dict[Path, str]:
    """Every picture's text by its file."""
    outcome = plan(read_catalogue(ROOT / "data" / "workshop"), default_house(), SET, CABINET)
    folder = ROOT / "data" / "pictures"
    return {folder / "poster.svg": poster_svg(outcome), folder / "organizer.svg": drawing_of(outcome, GROUP)}


if __name__ == "__main__":
    for path, text in pictures().items():
        path.write_text(text, encoding="utf-8")
