"""What the desk remembers while it runs: catalogues, earlier plans and answers, in memory only, the oldest forgotten
first."""

from __future__ import annotations

from concurrent.futures import Future
from dataclasses import dataclass, field
from threading import Lock, Semaphore, Thread
from time import monotonic
from typing import Any

from matcher.desk.answering import Answer, Planned, answered
from matcher.desk.asking import Ask, asked_before, key_of
from matcher.desk.earlier import EarlierPlan
from matcher.desk.matrices import Matrix, filled, small
from matcher.desk.progress import HowFar
from matcher.desk.uploads import Source
from matcher.house import House
from matcher.packing import Stop, ending
from matcher.records import Catalogue

CATALOGUES, ANSWERS, PLANS = 8, 100, 50
"""How many are remembered."""
AT_ONCE = 2
"""How many asks are worked on at the same time; the others wait."""


class ForgottenError(Exception):
    """A page of a catalogue or an answer that is not, or no longer, remembered."""


@dataclass(slots=True)
class AskedWork:
    """An ask, its answer once there is one, how far it is, and what ends it.

    ``told`` is none before its turn; ``begun`` is when it was asked, by the clock that never goes back.
    """

    ask: Ask
    told: HowFar | None = None
    begun: float = field(default_factory=monotonic)
    answer: Future[Answer] = field(default_factory=Future)
    stop: Stop = field(default_factory=Stop)

    @property
    def seconds(self) -> int:
        """Whole seconds since it was asked."""
        return int(monotonic() - self.begun)

    def tell(self, told: HowFar) -> None:
        """Take down how far it is."""
        self.told = told


class DeskMemory:
    """Catalogues by digest with where they came from and their matrices, earlier plans by key, work by the key of its
    ask."""

    def __init__(self, catalogue: Catalogue, name: str, rules: House, source: Source):
        self.rules = rules
        self.first = catalogue.digest
        self._catalogues = {self.first: (catalogue, name)}
        self._sources: dict[str, Source] = {self.first: source}
        self._plans: dict[str, EarlierPlan] = {}
        self._matrices: dict[str, Matrix] = {}
        self._works: dict[str, AskedWork] = {}
        self._turns = Semaphore(AT_ONCE)
        self._lock = Lock()

    def add(self, catalogue: Catalogue, name: str, source: Source) -> str:
        """Remember a catalogue and where it came from; its key."""
        with self._lock:
            self._catalogues[catalogue.digest] = catalogue, name
            self._sources.setdefault(catalogue.digest, source)
            others = [key for key in self._catalogues if key not in (self.first, catalogue.digest)]
            _forget(self._catalogues, others, CATALOGUES)
            _forget(self._sources, [key for key in self._sources if key not in self._catalogues], 0)
        return catalogue.digest

    def catalogue(self, key: str) -> tuple[Catalogue, str]:
        """A catalogue and what it is called."""
        if key not in self._catalogues:
            raise ForgottenError("this catalogue is not remembered here; upload it again")
        return self._catalogues[key]

    def source(self, key: str) -> Source:
        """Where a catalogue that is remembered came from."""
        return self._sources[key]

    def add_plan(self, plan: EarlierPlan) -> EarlierPlan:
        """Remember an earlier plan; the same plan."""
        with self._lock:
            self._plans.pop(plan.key, None)
            self._plans[plan.key] = plan
            _forget(self._plans, list(self._plans), PLANS)
        return plan

    def plan(self, key: str) -> EarlierPlan:
        """An earlier plan."""
        if key not in self._plans:
            raise ForgottenError("this earlier plan is not remembered here; open its document again")
        return self._plans[key]

    # ------------------------------------------------------------------------------------------------------- matrices

    def matrix(self, key: str) -> Matrix | None:
        """The matrix of a catalogue, as far as it is filled; none where nobody began to."""
        return self._matrices.get(key)

    def fill_matrix(self, key: str) -> None:
        """Have every set looked at in every cabinet, unless that has begun or there are too many to look at."""
        catalogue, _ = self.catalogue(key)
        with self._lock:
            known = self._matrices.get(key)
            if (known and known.state != "ended") or not small(catalogue):
                return
            matrix = self._matrices[key] = Matrix()
            _forget(self._matrices, [one for one in self._matrices if one not in self._catalogues], 0)
        Thread(target=filled, args=(matrix, catalogue, self.rules, self._turns), daemon=True).start()

    # -------------------------------------------------------------------------------------------------------- answers

    def begin(self, ask: Ask, *, anew: bool = False) -> None:
        """Have an ask worked on, unless it was asked before. What somebody ended begins again; of what they stopped
        with the best plan so far, only ``anew``.

        The thread ends with the program, so Ctrl-C never waits for a long plan.
        """
        key, (catalogue, _) = key_of(ask), self.catalogue(ask.catalogue)
        with self._lock:
            known = self._works.get(key)
            if known and not known.stop.now.is_set() and not (anew and known.stop.soon.is_set()):
                return
            work = self._works[key] = AskedWork(ask)
            _forget(self._works, list(self._works), ANSWERS)
        Thread(target=self._do, args=(work, catalogue), daemon=True).start()

    def work(self, ask: Ask) -> AskedWork | None:
        """What is or was worked on for an ask, if it was asked in this run and is remembered."""
        return self._works.get(key_of(ask))

    def _do(self, work: AskedWork, catalogue: Catalogue) -> None:
        with self._turns:
            work.tell(HowFar())
            try:
                with ending(work.stop):
                    work.answer.set_result(self._answer(catalogue, work.ask, work))
            except BaseException as fault:  # kept, and raised again for whoever looks at the answer
                work.answer.set_exception(fault)

    def _answer(self, catalogue: Catalogue, ask: Ask, work: AskedWork) -> Answer:
        """The answer, worked out with the plan before its last wish, and that one too where it is not remembered."""
        before = asked_before(ask)
        earlier = self._known(before) or self._answer(catalogue, before, work) if before else None
        assert earlier is None or isinstance(earlier, Planned)
        made = answered(catalogue, self.rules, ask, work.tell, earlier)
        if ask is not work.ask and not work.stop.soon.is_set():
            self._keep(ask, made)
        return made

    def _known(self, ask: Ask) -> Answer | None:
        """A remembered answer; none where there is none yet, or it failed."""
        work = self.work(ask)
        done = work is not None and work.answer.done() and work.answer.exception() is None
        return work.answer.result() if work and done else None

    def _keep(self, ask: Ask, made: Answer) -> None:
        """Remember an answer that was worked out on the way to another."""
        done = AskedWork(ask, HowFar())
        done.answer.set_result(made)
        with self._lock:
            self._works.setdefault(key_of(ask), done)


def ended(work: AskedWork) -> bool:
    """Whether somebody ended a work that has no answer."""
    if not work.answer.done():
        return work.stop.now.is_set()
    return isinstance(work.answer.exception(), KeyboardInterrupt)


def _forget(kept: dict[str, Any], oldest_first: list[str], most: int) -> None:
    for key in oldest_first[: max(0, len(oldest_first) - most)]:
        del kept[key]
