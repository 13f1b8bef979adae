"""Runs a CP-SAT model under a deterministic work budget, so that the same input gives the same answer anywhere."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from ortools.sat.python import cp_model

Status: TypeAlias = Literal["optimal", "feasible", "infeasible", "unknown"]

_STATUS: dict[object, Status] = {
    cp_model.OPTIMAL: "optimal",
    cp_model.FEASIBLE: "feasible",
    cp_model.INFEASIBLE: "infeasible",
    cp_model.UNKNOWN: "unknown",
}


@dataclass(frozen=True, slots=True)
class Answer:
    """What a search found. ``value`` and ``bound`` are of the objective, ``None`` without solution or objective."""

    status: Status
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


def solve(model: cp_model.CpModel, work: float, seed: int = 1, **parameters: object) -> Answer:
    """Solve ``model`` with at most ``work`` units of deterministic time on one worker.

    ``parameters`` set further CP-SAT parameters by name. Clock limits are never set here.

    Raises
    ------
    ValueError
        The model is malformed (a fault of the caller).
    """
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = work
    for name, value in parameters.items():
        setattr(solver.parameters, name, value)
    status = solver.solve(model)
    if status == cp_model.MODEL_INVALID:
        raise ValueError(f"malformed model: {model.validate()[:200]}")
    outcome = _STATUS[status]
    scored = model.has_objective() and outcome in ("optimal", "feasible")
    return Answer(
        status=outcome,
        value=round(solver.objective_value) if scored else None,
        bound=round(solver.best_objective_bound) if model.has_objective() and outcome != "infeasible" else None,
        work=solver.response_proto.deterministic_time,
        solver=solver,
    )
