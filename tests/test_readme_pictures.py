"""What the README shows is what the program draws today."""

import re

import pytest

from tests.readme_pictures import CABINET, GROUP, ROOT, SET, pictures

README = (ROOT / "README.md").read_text(encoding="utf-8")
SHOWN = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)


@pytest.mark.slow
def test_the_pictures_of_the_readme_are_what_the_program_draws():
    """Made by ``python -m tests.readme_pictures``."""
    drawn = pictures()
    assert {ROOT / name for name in SHOWN} == set(drawn)
    for path, text in drawn.items():
        assert path.read_text(encoding="utf-8") == text, f"{path.name} is stale"


def test_the_readme_opens_with_the_poster_and_names_the_commands():
    assert SHOWN[0] == "data/pictures/poster.svg"
    assert README.index(SHOWN[0]) < README.index("```"), "before the first command"
    assert f"plan data/workshop {SET} {CABINET} --out poster.svg" in README
    assert f"plan data/workshop {SET} {CABINET} --group '{GROUP}' --out organizer.svg" in README
