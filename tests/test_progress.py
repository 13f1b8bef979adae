"""Progress: a line every few seconds where no bar can be drawn, on standard error only, and without inner numbers."""

from time import sleep

import pytest

from matcher import drafting, studies
from matcher.cli import progress


@pytest.fixture(autouse=True)
def hasty(monkeypatch):
    monkeypatch.setattr(progress, "EVERY", 0.05)


def test_without_a_terminal_a_line_comes_every_few_seconds_on_standard_error(capsys):
    with progress.progress(json=False) as told:
        told(2, 7, "Glen-7")
        sleep(0.3)
    out, err = capsys.readouterr()
    assert out == ""
    lines = err.splitlines()
    assert len(lines) >= 2
    assert set(lines) == {"0 s: 2 of 7, planning Glen-7"}


def test_what_ends_sooner_says_nothing_and_json_never_does(capsys):
    with progress.progress(json=False):
        pass
    with progress.progress(json=True) as told:
        assert told is None
        sleep(0.2)
    assert capsys.readouterr() == ("", "")


def test_goals_are_told_in_words(capsys):
    with progress.goal_progress(json=False) as told:
        told("recut", 14 * 10**9 + 3140096, 0)
        told("order", 3, 3)
        sleep(0.2)
    line = capsys.readouterr().err.splitlines()[-1]
    assert "proving recut 14 steps of work, gaps 9812.8 mm (at best 0 steps of work, gaps 0.0 mm)" in line
    assert "order" not in line
    assert "14003140096" not in line


def test_it_ends_with_the_work_also_when_that_fails(capsys):
    with pytest.raises(ValueError, match="gone"), progress.shown(json=False):
        raise ValueError("gone")
    capsys.readouterr()
    sleep(0.15)
    assert capsys.readouterr().err == ""


def test_a_question_on_the_phone_and_a_list_tell_that_they_go_on(run, folder, tmp_path, monkeypatch):
    def slow(genuine):
        def called(*given):
            sleep(0.3)
            return genuine(*given)

        return called

    for module, name in ((studies, "ask_drawers"), (drafting, "draft")):
        monkeypatch.setattr(module, name, slow(getattr(module, name)))
    _, _, err = run("ask", folder, "trays in 3 of 560 x 405 x 100 mm")
    assert "0 s: laying out organizers, looking for a plan" in err
    _, _, quiet = run("ask", folder, "trays in 3 of 560 x 405 x 100 mm", "--json")
    assert quiet == ""
    supplied = tmp_path / "list.csv"
    supplied.write_text('item,description\n1,"combination wrench 10 mm"\n', encoding="utf-8")
    _, _, err = run("draft", supplied)
    assert "0 s: reading the list line by line" in err
