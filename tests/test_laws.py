"""What can only help never makes an answer worse, on generated catalogues of real tools (see `tests.laws`)."""

from __future__ import annotations

import pytest

from tests.generated import catalogue
from tests.laws import decided, helped

SEEDS = range(100, 106)


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
def test_what_can_only_help_never_makes_it_worse(seed: int) -> None:
    known = catalogue(seed, sets=1, cabinets=1, pieces=(40, 150))
    before = decided(known)
    for change, other in helped(known, seed) if before.verdict == "fits" else ():
        after = decided(other)
        assert after.verdict == "fits", change
        assert after.together.value <= before.together.value or not before.together.proved, change
