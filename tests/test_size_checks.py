"""Every dimension rule comes near to real tools, within bounds that it states itself, and says what it rests on."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from matcher.house.reading import default_house
from matcher.planning.answering import plan
from matcher.records.given import Piece
from matcher.records.laid_out import widest
from matcher.records.units import PER_GRAM, mm, to_mm
from matcher.tools.dimensions import sized
from matcher.tools.kinds import KINDS
from tests.benchmarks.size_closeness import GROUNDS, RULES, checks_of, grounds
from tests.builders import cabinet, catalogue, drawer
from tests.size_checks import CHECKS, FITTED, PUBLISHED, SizeCheck
from tests.tool_pieces import a_piece, every_piece

BAND = 0.15
GREATEST = ("stubby combination wrench", "stubby ratcheting wrench")
"""Kinds whose likely length is the greatest of ISO 7738's short series, so that a pocket is never too short."""
OPEN_ENDED = ("combination wrench", "open-end wrench")
"""Kinds whose likely width is the greatest of ISO 3318, so that a pocket is never too narrow."""


def named(check: SizeCheck) -> str:
    return " ".join(filter(None, (check.kind, check.size, check.drive, check.axis)))


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.kinds[0])
def test_every_rule_has_a_value_that_it_was_not_fitted_to(rule) -> None:
    assert checks_of(rule)


@pytest.mark.parametrize("check", CHECKS + FITTED, ids=named)
def test_a_real_tool_lies_within_the_bounds_of_its_rule(check: SizeCheck) -> None:
    """From memory but for hex keys; the published ones name their standard in `size_checks`."""
    assert check.within


@pytest.mark.parametrize("check", [one for one in CHECKS + FITTED if one.axis != "mass"], ids=named)
def test_likely_sizes_are_within_fifteen_percent(check: SizeCheck) -> None:
    """Common practice, from memory."""
    greatest = check.kind in GREATEST or (check.kind in OPEN_ENDED and check.axis == "width")
    assert 0 <= check.miss < 0.35 if greatest else abs(check.miss) <= BAND


@pytest.mark.parametrize("check", [one for one in FITTED if one.axis == "mass"], ids=named)
def test_masses_that_rules_were_fitted_to_are_met_within_fifteen_percent(check: SizeCheck) -> None:
    """Common practice, from memory."""
    assert abs(check.miss) <= BAND


@pytest.mark.parametrize("check", PUBLISHED, ids=named)
def test_published_sizes_are_met_within_two_percent(check: SizeCheck) -> None:
    """ISO 2936 and ASME B18.3, read at second hand."""
    assert abs(check.miss) < 0.02


@pytest.mark.parametrize("kind", list(KINDS))
def test_least_likely_and_greatest_come_in_this_order(kind: str) -> None:
    for tool in every_piece(kind):
        spread = tool.spread
        assert spread is not None
        for axis in ("length", "width", "height"):
            span = getattr(spread, axis)
            assert 0 < span.low <= span.likely <= span.high
            assert getattr(tool, axis) == span.likely
        assert (tool.mass_low, tool.mass_high) == (spread.mass.low, spread.mass.high)
        assert tool.mass_low < spread.mass.likely < tool.mass_high


@pytest.mark.parametrize(("s", "long", "short"), [("3", 63, 20), ("5", 80, 28), ("8", 100, 36), ("10", 112, 40)])
def test_shorter_hex_keys_of_an_older_series_lie_within_the_bounds(s: str, long: float, short: float) -> None:
    """DIN 911, from memory: no page of it was seen."""
    spread = sized(a_piece("hex key", s)).spread
    assert spread is not None
    assert to_mm(spread.length.low) <= long <= to_mm(spread.length.high)
    assert to_mm(spread.width.low) <= short <= to_mm(spread.width.high)
    bar = 7.85e-3 * 0.866 * float(s) ** 2 * (long + short - float(s))
    assert spread.mass.low <= bar * PER_GRAM <= spread.mass.high


def test_what_is_given_is_never_off() -> None:
    tool = sized(a_piece("ratchet", drive="1/2", length=mm(250), width=mm(44), height=mm(40), mass=12345))
    assert widest([tool], "high") == widest([tool], "low") == 0
    assert tool.spread is not None
    assert tool.spread.mass.low == tool.spread.mass.likely == tool.spread.mass.high == 12345


@pytest.mark.parametrize("s", [10, 13, 19, 24, 30, 36, 41, 46, 50])
def test_a_length_over_published_least_ones_reaches_further_up_than_down(s: int) -> None:
    """Rules over ISO 7738's least lengths (read at second hand): no bound lies below the least by much."""
    minima = {10: 110, 13: 135, 19: 185, 24: 230, 30: 285, 36: 335, 41: 380, 46: 425, 50: 460}
    for rule in RULES:
        if rule.length.least:
            assert rule.length.off.above > rule.length.off.below
            spread = sized(a_piece(rule.kinds[0], str(s))).spread
            assert spread is not None
            assert to_mm(spread.length.low) >= minima[s]


def test_pockets_take_the_greatest_sizes_where_the_house_wants_it() -> None:
    """A combination wrench of 13 mm in a drawer that has room for its likely length and not for its greatest."""
    wrench = Piece("set", "wrench 13", "combination wrench", 1, system="metric", size="13")
    spread = sized(wrench).spread
    assert spread is not None
    house = default_house()
    careful = replace(house, pocket=replace(house.pocket, estimates="high"))
    box = drawer("A", width=to_mm(spread.length.likely) + 2 * (0.8 + 12 + 1.6), depth=75)
    known = catalogue([wrench], (), [cabinet(box)])
    assert plan(known, house, "set", "cabinet").verdict == "fits"
    assert plan(known, careful, "set", "cabinet").verdict != "fits"
    wide = drawer("A", width=to_mm(spread.length.high) + 2 * (0.8 + 12 + 1.6), depth=75)
    outcome = plan(catalogue([wrench], (), [cabinet(wide)]), careful, "set", "cabinet")
    assert outcome.verdict == "fits"
    assert any("pockets take the greatest" in caution.text for caution in outcome.cautions)


def test_the_readme_tells_how_many_rules_rest_on_what() -> None:
    readme = " ".join((Path(__file__).parents[1] / "README.md").read_text().split())
    told = re.search(
        r"Of (\d+) rules for sizes (\d+) rest on published values, (\d+) in part, (\d+) on remembered values of "
        r"standards and (\d+) on common practice",
        readme,
    )
    assert told
    found = grounds()
    assert tuple(map(int, told.groups())) == (len(RULES), *(found[name] for name in GROUNDS))
