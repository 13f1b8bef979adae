"""Commands ended at random moments: what they leave behind, and whether the next run says the same.

``python -m tests.interruptions --times 100 --seed 1`` runs commands that plan, compare, sweep, offer, cut, release and
copy, and ends each at a random moment of its run: killed, terminated, interrupted once or twice. After every end the
files asked for are there as a whole run writes them or not at all, standard error holds no traceback, and what ended
in an orderly way has left nothing else. All runs share one store, and a folder for what is temporary. After its last
end each command runs through and must write the bytes that it wrote before all that.
"""

from __future__ import annotations

import argparse
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from tests.catalogue_files import folder

SIGNALS: Mapping[str, tuple[signal.Signals, ...]] = {
    "killed": (signal.SIGKILL,),
    "terminated": (signal.SIGTERM,),
    "interrupted": (signal.SIGINT,),
    "interrupted twice": (signal.SIGINT, signal.SIGINT),
}
ORDERLY = {0, 1, 3, 130, 143, -signal.SIGTERM, -signal.SIGINT}
"""Exit codes of commands that ended by themselves, or by a signal that is not a kill."""
PARTS = ".parts"
"""How the folder of a sweep's parts ends; a sweep that was ended leaves it to the next one."""
LONGEST = 60
"""Seconds within which a command that was told to end has ended."""

PLANNED = "Oak", "Wide"
COMMANDS: Mapping[str, tuple[str, ...]] = {
    "fit": ("fit", "{catalogue}", "Oak", "--out", "{made}/fit.json", "--out", "{made}/fit.csv"),
    "plan": (
        "plan", "{catalogue}", *PLANNED, "--out", "{made}/plan.json", "--out", "{made}/plan.html",
        "--out", "{made}/plan.xlsx", "--out", "{made}/plan.pdf",
    ),
    "compare": ("compare", "{catalogue}", "Oak", "--out", "{made}/variants.html", "--out", "{made}/variants.xlsx"),
    "compare by processes": ("compare", "{catalogue}", "Oak", "--workers", "2", "--out", "{made}/spread.json"),
    "sweep": ("compare", "{catalogue}", "--workers", "2", "--out", "{made}/pairs.csv"),
    "offer": ("offer", "{catalogue}", "--out", "{made}/offer.json"),
    "cut": ("cut", "{catalogue}", *PLANNED, "--allow-estimates", "--out", "{made}/foam.dxf"),
    "release": ("release", "{catalogue}", *PLANNED, "--part-prefix", "F-", "--out", "{made}/released.xlsx"),
    "check": ("check", "{catalogue}", "--out", "{made}/copy.xlsx"),
    "check into a folder": ("check", "{catalogue}", "--out", "{made}/copied"),
}  # fmt: skip


@dataclass
class Found:
    """How often a command was ended in which way, and what was wrong after it."""

    ended: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Place:
    """Where commands run: a catalogue, a folder of results, a store and a folder for what is temporary."""

    root: Path

    def __post_init__(self) -> None:
        for empty in (self.made, self.temporary):
            empty.mkdir(parents=True)
        folder(self.root / "catalogue")

    @property
    def made(self) -> Path:
        """The folder of results."""
        return self.root / "made"

    @property
    def temporary(self) -> Path:
        """The folder of what is temporary."""
        return self.root / "temporary"

    def started(self, name: str) -> subprocess.Popen[bytes]:
        """The command in a process of its own, which has a group of its own."""
        words = [word.format(catalogue=self.root / "catalogue", made=self.made) for word in COMMANDS[name]]
        return subprocess.Popen(
            [sys.executable, "-m", "matcher", *words],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            env={**os.environ, "XDG_CACHE_HOME": str(self.root / "store"), "TMPDIR": str(self.temporary)},
            start_new_session=True,
        )

    def results(self) -> dict[str, bytes]:
        """Every file of the folder of results, by its name."""
        return {
            str(path.relative_to(self.made)): path.read_bytes()
            for path in self.made.rglob("*")
            if path.is_file() and not path.parent.name.endswith(PARTS)
        }

    def swept(self) -> None:
        """Empty both folders, but for the parts that a sweep goes on from."""
        for place in (self.made, self.temporary):
            for path in sorted(place.rglob("*"), reverse=True):
                if not any(part.endswith(PARTS) for part in path.parts):
                    path.rmdir() if path.is_dir() and not path.is_symlink() else path.unlink()


def ended(place: Place, name: str, how: str, after: float, whole: Mapping[str, bytes]) -> Iterator[str]:
    """What is wrong where the command is ended in this way after so many seconds; ``whole`` is what it should write."""
    process = place.started(name)
    try:
        process.wait(after)
    except subprocess.TimeoutExpired:
        for number in SIGNALS[how]:
            process.send_signal(number)
            time.sleep(0.05)
    try:
        told = process.communicate(timeout=LONGEST)[1].decode(errors="replace")
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        process.communicate()
        yield f"still running {LONGEST} s later"
        return
    if "Traceback" in told:
        yield f"a traceback: {told.strip()[-600:]}"
    if how != "killed" and process.returncode not in ORDERLY:
        yield f"exit code {process.returncode}: {told.strip()[-200:]}"
    for file, content in place.results().items():
        if file in whole and content != whole[file] and not _said_partial(told):
            yield f"{file} is not what a whole run writes"
        if file not in whole and how != "killed":
            yield f"{file} is left"
    for left in place.temporary.iterdir():
        if how != "killed":
            yield f"{left.name} is left where temporary files are"


def _said_partial(told: str) -> bool:
    """Whether the command said that it stops with what it has: then its files say so, too."""
    return "stopping with the best plan so far" in told


def tried(place: Place, name: str, dice: Random, times: int) -> Found:
    """A command ended so often at random moments, between two runs that go through."""
    found = Found()
    begun = time.monotonic()
    place.started(name).communicate()
    seconds, whole = time.monotonic() - begun, place.results()
    if not whole:
        found.wrong.append("a whole run writes nothing")
    place.swept()
    for number in range(times):
        how = dice.choice(sorted(SIGNALS))
        after = dice.uniform(0, 1.1 * seconds)
        found.ended[how] += 1
        found.wrong += [
            f"{how} after {after:.3f} s, number {number}: {told}" for told in ended(place, name, how, after, whole)
        ]
        place.swept()
    place.started(name).communicate()
    again = place.results()
    found.wrong += [f"{path.name} is left after all that" for path in place.made.iterdir() if path.name.endswith(PARTS)]
    found.wrong += [
        f"{file} differs after all that"
        for file in sorted(whole.keys() | again.keys())
        if whole.get(file) != again.get(file)
    ]
    place.swept()
    return found


def main() -> int:
    """Try all commands, or those named; 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("commands", nargs="*", metavar="COMMAND", help=f"some of: {', '.join(COMMANDS)} (none: all)")
    parser.add_argument("--times", type=int, default=10, help="how often each command is ended")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        place = Place(Path(folder) / "place")
        for name in asked.commands or COMMANDS:
            found = tried(place, name, Random(f"{asked.seed} {name}"), asked.times)
            print(f"{name}: {', '.join(f'{count} {how}' for how, count in sorted(found.ended.items()))}", flush=True)
            for told in found.wrong:
                print(f"  {told}", flush=True)
            wrong += len(found.wrong)
    print(f"{wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
