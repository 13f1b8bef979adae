"""Runs a CP-SAT model under a deterministic work budget, so that the same input gives the same answer anywhere.

Only a person ends a search before its budget: see `stoppable` and `ending`.
"""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from concurrent.futures import Future, wait
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from threading import Event, Thread, current_thread, main_thread
from typing import Literal, TypeAlias

from ortools.sat.python import cp_model

from matcher.records import forget

SolveStatus: TypeAlias = Literal["optimal", "feasible", "infeasible", "unknown"]

_STATUS: dict[object, SolveStatus] = {
    cp_model.OPTIMAL: "optimal",
    cp_model.FEASIBLE: "feasible",
    cp_model.INFEASIBLE: "infeasible",
    cp_model.UNKNOWN: "unknown",
}


LISTEN = 0.1
"""Seconds after which a running search looks again whether a person has asked to stop."""


@dataclass(frozen=True, slots=True)
class Stop:
    """How a person ends what runs inside `ending`: ``soon`` with the best plan so far, ``now`` without an answer."""

    soon: Event = field(default_factory=Event)
    now: Event = field(default_factory=Event)


class AbandonedError(KeyboardInterrupt):
    """A person ended the work without an answer. Like Ctrl-C it passes whatever tells faults of the program."""


_STOP: ContextVar[Stop | None] = ContextVar("how a person may stop", default=None)
"""What a person sets to stop the work of this context; ``None`` where nobody can."""


@dataclass(frozen=True, slots=True)
class Solved:
    """What a search found, and the deterministic time ``work`` that it took.

    ``value`` is that of the objective, ``None`` without an objective or a solution. ``bound`` is what no solution can
    beat, ``None`` without an objective, if there is no solution, or if the search did not begin.
    """

    status: SolveStatus
    value: int | None
    bound: int | None
    work: float
    solver: cp_model.CpSolver

    @property
    def found(self) -> bool:
        """Whether there is a solution to read."""
        return self.status in ("optimal", "feasible")

    def of(self, expression: cp_model.LinearExprT) -> int:
        """Value of a variable or expression in the solution."""
        return int(self.solver.value(expression))


def solve(
    model: cp_model.CpModel, work: float, seed: int = 1, *, yielding: bool = False, **parameters: object
) -> Solved:
    """Solve ``model`` with at most ``work`` units of deterministic time on one worker.

    ``parameters`` set further CP-SAT parameters by name. Clock limits are never set here. A search is ``yielding`` if
    its caller can do without it, because it only improves on a known answer: once a person has asked to stop (see
    `stoppable`) it ends with what it has found, and one that begins later ends at once with the status ``unknown``.

    Raises
    ------
    AbandonedError
        A person ended the work without an answer.
    ValueError
        The model is malformed (a fault of the caller).
    """
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = work
    solver.parameters.catch_sigint_signal = False
    for name, value in parameters.items():
        setattr(solver.parameters, name, value)
    abandon()
    if yielding and stopped():
        return Solved("unknown", None, None, 0.0, solver)
    heard = _STOP.get() is not None or current_thread() is main_thread()
    status = _watched(solver, model, yielding=yielding) if heard else solver.solve(model)
    if status == cp_model.MODEL_INVALID:
        raise ValueError(f"malformed model: {model.validate()[:200]}")
    outcome = _STATUS[status]
    scored = model.has_objective() and outcome in ("optimal", "feasible")
    return Solved(
        status=outcome,
        value=round(solver.objective_value) if scored else None,
        bound=round(solver.best_objective_bound) if model.has_objective() and outcome != "infeasible" else None,
        work=solver.response_proto.deterministic_time,
        solver=solver,
    )


@contextmanager
def stoppable(told: Callable[[], None]) -> Iterator[None]:
    """In this context the first Ctrl-C ends yielding searches, and a second one raises `KeyboardInterrupt`.

    ``told`` is called at the first. What is found after it depends on when it came, so at the end of the context all
    remembered answers are forgotten then.
    """
    stop = Stop()

    def heard(*_: object) -> None:
        if stop.soon.is_set():
            raise KeyboardInterrupt
        stop.soon.set()
        told()

    before = signal.signal(signal.SIGINT, heard)
    try:
        with ending(stop):
            yield
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def ending(stop: Stop) -> Iterator[None]:
    """In this context somebody else, in another thread, may end the work by ``stop``.

    What is found after ``soon`` depends on when that came, so at the end all remembered answers are forgotten then.
    """
    token = _STOP.set(stop)
    try:
        yield
    finally:
        _STOP.reset(token)
        if stop.soon.is_set():
            forget()


def stopped() -> bool:
    """Whether a person has asked to stop."""
    stop = _STOP.get()
    return stop is not None and stop.soon.is_set()


def abandon() -> None:
    """Go no further if a person has ended the work.

    Raises
    ------
    AbandonedError
        They have.
    """
    stop = _STOP.get()
    if stop is not None and stop.now.is_set():
        raise AbandonedError


def _watched(solver: cp_model.CpSolver, model: cp_model.CpModel, *, yielding: bool) -> object:
    """The status of a search that runs in a thread of its own, so that this one hears meanwhile that it is to end.

    The main thread hears signals, any thread its ``stop``: a ``yielding`` search ends ``soon`` with what it has found.
    """
    answer: Future[object] = Future()

    def search() -> None:
        try:
            answer.set_result(solver.solve(model))
        except BaseException as raised:  # told where the answer is waited for
            answer.set_exception(raised)

    Thread(target=search, daemon=True).start()
    try:
        while not wait([answer], LISTEN).done:
            abandon()
            if yielding and stopped():
                solver.stop_search()
    except BaseException:
        solver.stop_search()
        raise
    return answer.result()
