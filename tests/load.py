"""Many people at one desk: how long they wait, what fails, what memory it takes; ``python -m tests.load --help``.

Each of them looks at the first page, has a plan made of some set in some cabinet, waits for it, takes its document, and
cancels one in five. Whatever waits for its turn must not keep the first page from anybody.
"""

from __future__ import annotations

import argparse
import signal
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from statistics import quantiles
from threading import Thread
from urllib.error import HTTPError
from urllib.parse import urlencode
from urllib.request import OpenerDirector

from tests.test_desk import WORKSHOP, let_in

SETS, CABINETS = ("Alder-64", "Birch-134"), ("Glen-3", "Glen-5", "Glen-7", "Glen-9", "Moor-11", "Moor-13")


@dataclass
class Load:
    """Seconds that requests took, those for the first page apart from all others; what failed; megabytes over time."""

    seconds: list[float] = field(default_factory=list)
    first_page: list[float] = field(default_factory=list)
    failed: list[str] = field(default_factory=list)
    megabytes: list[int] = field(default_factory=list)

    def __str__(self) -> str:
        kinds = ("first page", self.first_page), ("others", self.seconds)
        told = ", ".join(f"{name} {_spread(found)}" for name, found in kinds)
        asked = len(self.seconds) + len(self.first_page)
        return f"{asked} requests, {len(self.failed)} failed; {told}; megabytes {self.megabytes}"


def _spread(seconds: list[float]) -> str:
    cuts = quantiles(seconds, n=20)
    return f"median {cuts[9]:.2f} s, 95 % under {cuts[18]:.2f} s, longest {max(seconds):.2f} s"


@dataclass
class Visitors:
    """Those who ask, of a desk at an address, what its forms ask; what came of it is noted in ``load``."""

    opened: OpenerDirector
    address: str
    form: dict[str, str]
    load: Load

    def request(self, path: str, fields: dict[str, str] | None = None) -> str:
        """Where a request led, if it led anywhere."""
        begun = time.monotonic()
        try:
            body = urlencode(fields).encode() if fields else None
            with self.opened.open(f"{self.address}{path}", body, timeout=120) as answer:
                answer.read()
                return answer.url.removeprefix(self.address)
        except HTTPError as refused:
            if refused.code != 404:  # a file of an answer that is not there yet
                self.load.failed.append(f"{path}: {refused}")
        except OSError as broken:
            self.load.failed.append(f"{path}: {broken}")
        finally:
            took = time.monotonic() - begun
            (self.load.seconds if path else self.load.first_page).append(took)
        return ""

    def visit(self, rng: Random, end: float) -> None:
        """Look, plan, wait and take the document, or cancel, again and again."""
        while time.monotonic() < end:
            self.request("")
            fields = {**self.form, "set": rng.choice(SETS), "cabinet": rng.choice(CABINETS)}
            page = self.request("plan", fields)
            if rng.random() < 0.2:
                self.request("plan/end", fields)
            elif page:
                self.request(page)
                self.request(page.replace("plan?", "plan/plan.json?"))


def load(clients: int, seconds: float, seed: int = 1) -> Load:
    """So many clients at a desk of the bundled catalogue for so long."""
    found = Load()
    command = [sys.executable, "-u", "-m", "matcher", "desk", str(WORKSHOP), "--port", "0"]
    with subprocess.Popen(command, cwd=WORKSHOP.parents[1], stdout=subprocess.PIPE, text=True) as desk:
        visitors = Visitors(*let_in(desk), found)
        end = time.monotonic() + seconds
        rngs = [Random(seed * 1000 + number) for number in range(clients)]
        threads = [Thread(target=visitors.visit, args=(rng, end), daemon=True) for rng in rngs]
        for one in threads:
            one.start()
        while time.monotonic() < end:
            time.sleep(seconds / 6)
            found.megabytes.append(_megabytes(desk.pid))
        for one in threads:
            one.join(150)
        desk.send_signal(signal.SIGINT)
        if desk.wait(20) != 0:
            found.failed.append("the desk did not end in order")
    return found


def _megabytes(process: int) -> int:
    return int(Path(f"/proc/{process}/statm").read_text().split()[1]) * 4 // 1000


def main() -> None:
    """Say what a load of so many clients was like."""
    asked = argparse.ArgumentParser(prog="python -m tests.load", description=__doc__.splitlines()[0])
    asked.add_argument("--clients", type=int, default=50)
    asked.add_argument("--seconds", type=float, default=60)
    given = asked.parse_args()
    found = load(given.clients, given.seconds)
    print(found, *found.failed[:10], sep="\n")


if __name__ == "__main__":
    main()
