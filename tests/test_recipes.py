"""The contributors' recipes hold: each is applied to a copy of the package as it stands in DEVELOPERS.md, and tried."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
TEXT = (ROOT / "DEVELOPERS.md").read_text()


def _recipe(heading: str) -> str:
    """The diff under a heading."""
    section = re.split(r"^### ", TEXT, flags=re.M)
    (own,) = [part for part in section if part.startswith(heading)]
    return own.partition("```diff\n")[2].partition("```")[0]


def _apply(recipe: str, root: Path) -> None:
    for change in recipe.split("--- ")[1:]:
        name, _, lines = change.partition("\n")
        was = "".join(line[1:] + "\n" for line in lines.splitlines() if line[0] in " -")
        now = "".join(line[1:] + "\n" for line in lines.splitlines() if line[0] in " +")
        was, now = (text.rstrip("\n") if name.endswith(".csv") else text for text in (was, now))
        path = root / name
        text = path.read_text()
        assert text.count(was) == 1, f"{name} does not hold once: {was}"
        path.write_text(text.replace(was, now))


@pytest.fixture
def copied(tmp_path):
    """A copy of the package, with a way to run Python on it."""
    shutil.copytree(ROOT / "matcher", tmp_path / "matcher", ignore=shutil.ignore_patterns("__pycache__"))

    def run(*arguments: str) -> str:
        command = [sys.executable, *arguments]
        done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, env={"PYTHONPATH": str(tmp_path)})
        assert done.returncode == 0, done.stderr
        return done.stdout

    return tmp_path, run


def _catalogue(folder: Path, tools: str) -> Path:
    folder.mkdir()
    (folder / "tools.csv").write_text(tools)
    (folder / "drawers.csv").write_text(
        "cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm\nbox,A1,1,1,560,400,75\n"
    )
    return folder


def test_a_new_kind_of_tool_is_known_sized_drawn_and_placed(copied):
    root, run = copied
    _apply(_recipe("A kind of tool"), root)
    assert re.search(r"^ *riveter .*size or length", run("-m", "matcher", "check", "--kinds"), re.M)
    own = _catalogue(root / "own", "set,tool,kind,count,length_mm\nS,riveter 250,riveter,1,250\n")
    plan = run("-m", "matcher", "plan", str(own), "S", "box")
    assert re.search(r"A1 .*pliers +new", plan)


def test_a_new_column_is_read_and_kept(copied):
    root, run = copied
    _apply(_recipe("A column of a table"), root)
    own = _catalogue(root / "own", "set,tool,kind,count,length_mm,note\nS,snips 250,snips,1,250,left hand\n")
    script = "import sys; from pathlib import Path; from matcher import read_catalogue\n"
    script += "print(read_catalogue(Path(sys.argv[1])).pieces[0].note)"
    assert run("-c", script, str(own)) == "left hand\n"


def test_a_new_house_rule_is_read(copied):
    root, run = copied
    _apply(_recipe("A house rule"), root)
    (root / "house.toml").write_text("[clearance]\nbetween_mm = 5\n")
    script = "import sys; from pathlib import Path; from matcher import default_house, read_house\n"
    script += "print(default_house().clearance.between, read_house(Path(sys.argv[1])).clearance.between)"
    assert run("-c", script, str(root / "house.toml")) == f"0 {5 * 320}\n"


def test_every_file_that_contributors_are_sent_to_is_there():
    named = set(re.findall(r"`((?:\w+/)+[\w.]*)`", TEXT))
    assert len(named) > 25
    here = named - {"shared/checks"}
    missing = [name for name in sorted(here) if not ((ROOT / name).exists() or (ROOT / "matcher" / name).exists())]
    assert missing == []
