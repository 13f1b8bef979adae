"""The demonstration catalogue, written for somebody who has none yet."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

WORKSHOP = Path(__file__).resolve().parents[1] / "data" / "workshop"


def contents(folder: Path) -> dict[str, bytes]:
    """All files of a folder by name."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_the_demonstration_is_the_bundled_catalogue(run, tmp_path):
    for name in ("new", "empty"):
        folder = tmp_path / name
        if name == "empty":
            folder.mkdir()
        code, out, err = run("check", "--demo", folder)
        assert (code, out) == (0, "")
        assert f"'matcher check {folder}'" in err
        assert contents(folder) == contents(WORKSHOP)
    assert run("check", tmp_path / "new") == run("check", WORKSHOP)


@pytest.mark.parametrize("place", ["full", "file.txt", "missing/new"])
def test_no_file_is_touched_where_the_demonstration_cannot_go(run, tmp_path, place):
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "tools.csv").write_text("mine")
    (tmp_path / "file.txt").write_text("mine")
    code, out, err = run("check", "--demo", tmp_path / place)
    assert (code, out) == (2, "")
    assert err.startswith(f"error: {tmp_path / place}")
    assert contents(tmp_path / "full") == {"tools.csv": b"mine"}
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file.txt", "full"]


def test_a_demonstration_that_is_broken_off_leaves_nothing(run, tmp_path, monkeypatch):
    real = Path.write_bytes

    def broken(path, held):
        if path.name == "tools.csv":
            raise OSError(errno.ENOSPC, "No space left on device")
        return real(path, held)

    monkeypatch.setattr(Path, "write_bytes", broken)
    code, _, err = run("check", "--demo", tmp_path / "new")
    assert code == 2
    assert "No space left on device" in err
    assert list(tmp_path.iterdir()) == []
