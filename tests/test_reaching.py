"""Goal reach: bands of hand height, use, rank where no use is given, single heavy pieces; all derived by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import permutations

import pytest

from matcher.fitting.reach import counted_uses, hand_height, reach_cost
from matcher.house.reading import read_house
from matcher.planning.answering import plan
from matcher.planning.outcome import Fits
from matcher.records.given import GroupRule
from matcher.records.laid_out import use_of
from matcher.records.units import PER_INCH, kg, mm
from matcher.verification.goals import recount
from tests.builders import HOUSE, cabinet, catalogue, drawer, group, organizer, piece, sized_piece

TALL = 50
"""Height of every organizer here, mm."""


@pytest.mark.parametrize(
    ("inches", "share"),
    [
        ("0", "0.4"),
        ("11.99", "0.4"),
        ("12", "0.8"),
        ("28.99", "0.8"),
        ("29", "1"),
        ("42", "1"),
        ("42.01", "0.8"),
        ("48", "0.8"),
        ("48.01", "0.4"),
        ("70", "0.4"),
    ],
)
def test_height_bands_and_their_edges(inches: str, share: str) -> None:
    """Bands 12, 29, 42, 48 in with scores 0.4, 0.8, 1, 0.8, 0.4 (HSE lifting filter over 25 kg, from memory); an edge
    belongs to the better band."""
    hand = round(Decimal(inches) * PER_INCH)
    assert HOUSE.height.score(hand) == Decimal(share)
    assert reach_cost(Decimal(5), hand, HOUSE) == 5000 * (1 - Decimal(share))


def test_the_house_may_move_the_bands(tmp_path) -> None:
    path = tmp_path / "house.toml"
    path.write_text("[height]\nshoulder_mm = 1400\nnear_share = 0.75\n", encoding="utf-8")
    assert reach_cost(Decimal(1), mm(1300), read_house(path)) == 250
    assert reach_cost(Decimal(1), mm(1300), HOUSE) == 600


def test_hands_are_at_the_top_of_the_organizer() -> None:
    """Floor at 700 mm, liner 3 mm, organizer 50 mm: 753 mm, which is above the knuckle (736.6 mm) as 703 mm is not."""
    box = drawer(above_ground=mm(700), liner=mm(3))
    assert hand_height(box, mm(50)) == mm(753)
    assert reach_cost(Decimal(1), hand_height(box, mm(50)), HOUSE) == 0
    assert reach_cost(Decimal(1), hand_height(box, mm(0)), HOUSE) == 200


def test_an_unknown_height_is_not_held_against_a_drawer() -> None:
    assert hand_height(drawer(), mm(50)) is None
    assert reach_cost(Decimal(5), None, HOUSE) == 0


def test_uses_add_up_as_written() -> None:
    """0.1 + 0.2 times a week are 0.3, whatever binary fractions make of it."""
    rows = [sized_piece(piece("a", use=0.1)), sized_piece(piece("b", use=0.2))]
    assert use_of(rows) == 0.3
    assert use_of([sized_piece(piece("c"))]) is None


def test_without_any_use_the_rank_of_the_tier_takes_its_place() -> None:
    """Tiers 1, 3, 3, 7: three tiers from the first to the last, two from the second, one from the last."""
    groups = [group(name, tier=tier) for name, tier in (("a", 1), ("b", 3), ("c", 3), ("d", 7))]
    assert counted_uses(groups, HOUSE) == (3, 2, 2, 1)
    assert counted_uses([*groups[:3], replace(groups[3], use=4.5)], HOUSE) == (0, 0, 0, Decimal("4.5"))


def test_a_single_piece_from_3_kg_counts_as_what_is_used_most() -> None:
    """ISO 11228-1 and EN 1005-2 begin at 3 kg; two of 2 kg are no single piece of 3."""
    light = group("light", piece("a", mass=2, count=2), use=1.0)
    lift = group("lift", piece("b", mass=3), use=1.0)
    assert counted_uses([group("often", use=9.0), light, lift], HOUSE) == (9, 1, 9)


def bench(uses: list[float | None], inches: list[int], masses: list[int] | None = None):
    """Groups that may not share, each with a ready-made organizer, over drawers with hands at these heights."""
    boxes = [
        drawer(str(row), row=row, above_ground=height * PER_INCH - mm(TALL)) for row, height in enumerate(inches, 1)
    ]
    names = [f"g{index}" for index in range(len(uses))]
    return catalogue(
        [
            piece(name, group=name, use=use, mass=mass)
            for name, use, mass in zip(names, uses, masses or [1] * len(uses), strict=True)
        ],
        [organizer(name, height=TALL, tier=1) for name in names],
        [cabinet(*boxes)],
        group_rules=tuple(GroupRule(name, "family", share=False) for name in names),
    )


def reach(known) -> tuple[int, dict[str, str]]:
    outcome = plan(known, HOUSE, "set", "cabinet")
    assert isinstance(outcome, Fits)
    (goal,) = (goal for goal in outcome.goals if goal.name == "reach")
    assert goal.proved
    assert recount(known, HOUSE, outcome.plan)["reach"] == goal.value
    return goal.value, {placed.group: placed.drawer for placed in outcome.plan.placements}


@pytest.mark.parametrize("uses", list(permutations([1.0, 9.0, 4.0])))
def test_what_is_used_most_takes_the_best_heights(uses) -> None:
    """Rearrangement inequality (Hardy, Littlewood, Polya 1934, section 10.2, from memory): in equal drawers, uses
    falling against losses rising cost least.

    Losses 0.6, 0.2, 0 for 55, 45 and 35 in; uses 1, 4, 9: 1 x 0.6 + 4 x 0.2 = 1.4 times a week.
    """
    value, places = reach(bench(list(uses), [55, 45, 35]))
    assert value == 1400
    assert [places[f"g{list(uses).index(use)}"] for use in (1.0, 4.0, 9.0)] == ["1", "2", "3"]


def test_a_heavy_piece_takes_the_best_height_from_what_is_used_less_than_most() -> None:
    """At 60 in 0.6 are lost. Used 9, 5 and 1 times a week: the last goes up, at 0.6; if it weighs 4 kg it counts as 9
    and the one used 5 times goes up, at 3."""
    light, places = reach(bench([9, 5, 1], [60, 40, 35]))
    assert (light, places["g2"]) == (600, "1")
    heavy, places = reach(bench([9, 5, 1], [60, 40, 35], [1, 1, 4]))
    assert (heavy, places["g1"]) == (3000, "1")


def test_the_plan_says_what_is_lost_and_why_it_counts() -> None:
    outcome = plan(bench([None, None], [60, 60], [1, 4]), HOUSE, "set", "cabinet")
    told = outcome.goals[-1].contributions
    assert outcome.goals[-1].value == 2 * 600
    assert told[0].startswith("not at the best height, worth 0.4 of it: g0 (drawer 1, tier 1, no use given: counts ")
    assert "at a hand height of 1524.0 mm" in told[0]
    assert "a single piece weighs 3.0 kg or more: counts as the most used, 1" in told[0]
    assert len(told) == 1, "what is worth the same is told at once"


@pytest.mark.parametrize(("floor", "told"), [(700, False), (800, True)])
def test_the_recount_keeps_silent_where_groups_share_a_drawer_of_two_bands(floor: float, told: bool) -> None:
    """Beside others an organizer may lie lower than alone, on which the goal counts; the knuckle is at 736.6 mm."""
    rows = [organizer(name, width=250, height=TALL, family="family", tier=1, mass=kg(1)) for name in ("a", "b")]
    known = catalogue((), rows, [cabinet(drawer("1", above_ground=mm(floor)))])
    outcome = plan(known, HOUSE, "set", "cabinet", "pack")
    assert isinstance(outcome, Fits)
    assert ("reach" in recount(known, HOUSE, outcome.plan)) == told
