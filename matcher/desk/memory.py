"""What the desk remembers while it runs: catalogues and answers, in memory only, the oldest forgotten first."""

from __future__ import annotations

from concurrent.futures import Future
from dataclasses import dataclass, field
from threading import Semaphore, Thread
from typing import Any

from matcher.desk.answering import Answer, answered
from matcher.desk.asking import Ask, key_of
from matcher.house import House
from matcher.records import Catalogue

CATALOGUES, ANSWERS = 8, 100
"""How many are remembered."""
AT_ONCE = 2
"""How many asks are worked on at the same time; the others wait."""


class ForgottenError(Exception):
    """A page of a catalogue or an answer that is not, or no longer, remembered."""


@dataclass(slots=True)
class AskedWork:
    """An ask, its answer once there is one, and in words what is being done for it."""

    ask: Ask
    told: str = "waiting for its turn"
    answer: Future[Answer] = field(default_factory=Future)

    def tell(self, words: str) -> None:
        """Take down what is being done."""
        self.told = words


class DeskMemory:
    """Catalogues by digest, work by the key of its ask. Only the server's one event loop adds to it."""

    def __init__(self, catalogue: Catalogue, name: str, rules: House):
        self.rules = rules
        self.first = catalogue.digest
        self._catalogues = {self.first: (catalogue, name)}
        self._works: dict[str, AskedWork] = {}
        self._turns = Semaphore(AT_ONCE)

    def add(self, catalogue: Catalogue, name: str) -> str:
        """Remember a catalogue; its key."""
        self._catalogues[catalogue.digest] = catalogue, name
        others = [key for key in self._catalogues if key not in (self.first, catalogue.digest)]
        _forget(self._catalogues, others, CATALOGUES)
        return catalogue.digest

    def catalogue(self, key: str) -> tuple[Catalogue, str]:
        """A catalogue and what it is called."""
        if key not in self._catalogues:
            raise ForgottenError("this catalogue is not remembered here; upload it again")
        return self._catalogues[key]

    def begin(self, ask: Ask) -> str:
        """Have an ask worked on, unless it was asked before; the key of its answer.

        The thread ends with the program, so Ctrl-C never waits for a long plan.
        """
        key = key_of(ask)
        if key not in self._works:
            work = self._works[key] = AskedWork(ask)
            _forget(self._works, list(self._works), ANSWERS)
            Thread(target=self._do, args=(work, self.catalogue(ask.catalogue)[0]), daemon=True).start()
        return key

    def work(self, key: str) -> AskedWork:
        """What is or was worked on under a key."""
        if key not in self._works:
            raise ForgottenError("this answer is not remembered here; choose set and cabinet again")
        return self._works[key]

    def _do(self, work: AskedWork, catalogue: Catalogue) -> None:
        with self._turns:
            work.tell("laying out organizers, looking for a plan")
            try:
                work.answer.set_result(answered(catalogue, self.rules, work.ask, work.tell))
            except BaseException as fault:  # kept, and raised again for whoever looks at the answer
                work.answer.set_exception(fault)


def _forget(kept: dict[str, Any], oldest_first: list[str], most: int) -> None:
    for key in oldest_first[: max(0, len(oldest_first) - most)]:
        del kept[key]
