"""A short campaign (`tests.campaign`), on cases of the day; and that a campaign sees what differs."""

from collections import Counter
from datetime import UTC, datetime

import pytest

from tests import campaign


@pytest.mark.slow
def test_a_minute_of_the_days_campaign_finds_no_difference() -> None:
    """The seed is the date: a failure names the comparison and the number that show it again on any day."""
    seed, counts = int(datetime.now(UTC).strftime("%Y%m%d")), Counter[str]()
    assert list(campaign.differences(60, seed, counts)) == []
    assert sum(counts.values()) > 0


def test_a_difference_is_told_with_what_shows_it_again(monkeypatch: pytest.MonkeyPatch) -> None:
    def differing(number: int) -> int:
        assert number < 0, "one more"
        return 1

    monkeypatch.setattr(campaign, "COMPARISONS", {"wrong": differing})
    told = next(campaign.differences(1, 5, Counter()))
    number = int(told.partition("--number ")[2].partition(":")[0])
    assert told.startswith(f"--only 'wrong' --number {number}: AssertionError: one more")
    with pytest.raises(AssertionError, match="one more"):
        differing(number)


def test_two_campaigns_of_one_seed_are_alike_and_of_two_seeds_are_not(monkeypatch: pytest.MonkeyPatch) -> None:
    def numbers(seed: int) -> list[int]:
        asked = list[int]()

        def noted(number: int) -> int:
            asked.append(number)
            if len(asked) == 20:
                raise KeyboardInterrupt
            return 1

        monkeypatch.setattr(campaign, "COMPARISONS", {"noted": noted})
        with pytest.raises(KeyboardInterrupt):
            list(campaign.differences(60, seed, Counter()))
        return asked

    assert numbers(1) == numbers(1)
    assert not set(numbers(1)) & set(numbers(2))


@pytest.mark.parametrize("name", ["brute force", "offers", "sheets"])
def test_quick_comparisons_agree(name: str) -> None:
    assert [campaign.COMPARISONS[name](number) for number in range(10)] == [1] * 10
