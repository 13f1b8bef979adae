"""A few people at one desk for some seconds; `tests.load` does so with more for longer."""

import pytest

from tests.load import load


@pytest.mark.slow
def test_a_desk_with_a_dozen_visitors_fails_nobody_and_takes_little_more_memory() -> None:
    found = load(clients=12, seconds=15)
    assert found.failed == []
    assert len(found.first_page) > 12
    assert found.megabytes[-1] < 1.3 * found.megabytes[0] + 100
