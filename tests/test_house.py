"""House rules: defaults, overrides, and what a planner mistypes."""

import pytest

from matcher.house.reading import default_house, read_house
from matcher.records.errors import CatalogueError
from matcher.records.units import mm


def _read(tmp_path, text):
    path = tmp_path / "house.toml"
    path.write_text(text, encoding="utf-8")
    return read_house(path)


def test_an_empty_file_gives_the_defaults(tmp_path):
    assert _read(tmp_path, "") == default_house()


def test_one_key_overrides_one_default_and_nothing_else(tmp_path):
    changed = _read(tmp_path, "[clearance]\nside_mm = 2.5\n")
    assert changed.clearance.side == mm(2.5)
    assert changed.clearance.top == default_house().clearance.top
    assert changed.pocket == default_house().pocket


def test_the_web_grows_with_the_pocket_depth():
    # web = max(6 mm, 0.3 x depth): common practice, no source
    pocket = default_house().pocket
    assert pocket.web_for(mm(10)) == mm(6)
    assert pocket.web_for(mm(40)) == mm(12)
    assert pocket.web_for(8128) == 2439, "three tenths of 8128 units are 2438.4"


@pytest.mark.parametrize(
    ("text", "column", "expected"),
    [
        ("[clearance]\nside = 2", "clearance.side", "nearest: side_mm"),
        ("[clearence]\nside_mm = 2", "clearence", "nearest: clearance"),
        ("[clearance]\nside_mm = -1", "clearance.side_mm", "at least 0"),
        ("[clearance]\nside_mm = 'wide'", "clearance.side_mm", "a number"),
        ("[clearance]\nside_mm = nan", "clearance.side_mm", "a number"),
        ("[clearance]\nside_mm = inf", "clearance.side_mm", "a number"),
        ("[clearance]\nside_mm = 20000", "clearance.side_mm", "at most 10000"),
        ("[cut]\nfeed_mm_min = 0", "cut.feed_mm_min", "above 0"),
        ("[notch]\nwidth_mm = 0", "notch.width_mm", "above 0"),
        ("[cut]\npass_depth_mm = 0.0", "cut.pass_depth_mm", "above 0"),
        ("[[cutter]]\ndiameter_mm = 0\nreach_mm = 9", "cutter.diameter_mm", "above 0"),
        ("[[cutter]]\ndiameter_mm = 6\nreach_mm = 0", "cutter.reach_mm", "above 0"),
        ("[load]\ncaution_share = 1.5", "load.caution_share", "from 0 to 1"),
        ("[pocket]\ncorner_relief = 'round'", "pocket.corner_relief", "none or dog-bone"),
        ("[pocket]\ndepth_step_mm = -1", "pocket.depth_step_mm", "at least 0"),
        ("[layout]\nleft = 'right'", "layout.left", "inch or metric"),
        ("[layout]\noutermost = 'middle'", "layout.outermost", "largest or smallest"),
        ("[layout]\nstagger = 'yes'", "layout.stagger", "true or false"),
        ("[goals]\nfill = 'most'", "goals.fill", "spread or pack"),
        ("[goals]\norder = ['order', 'drawers']", "goals.order", "begins with drawers"),
        ("[goals]\noff = ['weight']", "goals.off", "goal names"),
        ("[goals]\nparts_weight = 0.5", "goals.parts_weight", "whole number"),
        ("[order]\nswap = [4, 5]", "order.swap", "pairs of tiers"),
        ("[work]\nseed = 1.5", "work.seed", "whole number"),
        ("clearance = 3", "clearance", "a table"),
        ("[[cutter]]\ndiameter_mm = 6", "cutter.reach_mm", "to be given"),
        ("[pocket]\nbase_mm = 7.5", "pocket.base_mm", "0, or at least 7.6"),
        ("[pocket]\nbase_mm = 9\nstock_mm = [38.1]", "pocket.base_mm", "thinnest in stock_mm is 38.1, depth_max_mm of"),
        ("[pocket]\nbase_mm = 9\ndepth_max_mm = { file = 12 }", "pocket.base_mm", "depth_max_mm of file is 12"),
        ("[pocket]\nbase_mm = 9\n[[cutter]]\ndiameter_mm = 3\nreach_mm = 12", "pocket.base_mm", "reach_mm is 12"),
        ("[pocket]\nestimates = 'most'", "pocket.estimates", "likely or high"),
        ("[measure]\nestimate_share = 0.1", "measure.estimate_share", "a known key"),
        ("[clearance\n", "", "a readable TOML file"),
    ],
)
def test_a_mistyped_rule_is_named_with_what_was_expected(tmp_path, text, column, expected):
    with pytest.raises(CatalogueError) as refused:
        _read(tmp_path, text)
    (cell,) = refused.value.cells
    assert ", column" not in str(cell).partition(":")[0], "a rule is a key, not a column"
    assert cell.file == "house.toml"
    assert cell.column == column
    assert expected in cell.expected


def test_all_faults_are_told_at_once(tmp_path):
    with pytest.raises(CatalogueError) as refused:
        _read(tmp_path, "[clearance]\nside = 1\ntop_mm = -3\n[pockets]\nweb_mm = 4\n")
    assert [cell.column for cell in refused.value.cells] == ["clearance.side", "clearance.top_mm", "pockets"]
