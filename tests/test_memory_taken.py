"""How much memory a long series takes, in a process of its own; and how many tools of a group are too many."""

import subprocess
import sys
from pathlib import Path

import pytest

from matcher.planning.grouping import MOST_TOOLS, groups_of
from matcher.records.errors import UsageError
from tests.builders import catalogue, piece

STATUS = Path("/proc/self/status")
LAID_OUT = """
from pathlib import Path
from matcher.layout.curves import curve
from tests.pieces import HOUSE, group_of, socket
assert curve(group_of(*[socket(8 + n // 40, kind="deep socket") for n in range(800)]), HOUSE)
print(Path("/proc/self/status").read_text().split("VmHWM:")[1].split()[0])
"""
"""The peak of this program alone: what `resource` tells also counts what the starting process held."""
MOST_MEGABYTES = 500
"""The program itself takes 190; with all working tables kept, in eight bytes, the same run took 680."""


@pytest.mark.slow
@pytest.mark.skipif(not STATUS.exists(), reason="the system tells no peak of one program")
def test_eight_hundred_sockets_are_laid_out_in_little_memory() -> None:
    told = subprocess.run([sys.executable, "-c", LAID_OUT], capture_output=True, text=True, check=True)
    assert int(told.stdout) / 1000 < MOST_MEGABYTES


def test_a_group_of_too_many_tools_is_refused_with_its_row_and_what_to_do() -> None:
    given = catalogue([piece("bit", count=10_000, set="Oak"), piece("block", set="Oak")])
    with pytest.raises(
        UsageError, match=r"of Oak has 10,001 tools, 10,000 of them in row 'bit'.*column group of tools"
    ):
        groups_of(given, "Oak")


def test_the_greatest_number_of_tools_of_a_group_is_taken() -> None:
    given = catalogue([piece("bit", count=MOST_TOOLS, set="Oak")])
    assert sum(one.piece.count for one in groups_of(given, "Oak")[0].pieces) == MOST_TOOLS
