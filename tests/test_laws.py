"""What can only help never turns a fit into anything else, on generated catalogues of real tools (see `tests.laws`).

Nor does it raise `together` where that was proved the least; where it was not, a search may find less for one question
than for another, which no test holds it to.
"""

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
