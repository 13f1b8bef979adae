"""Linear costs on a board, and several of them as one number in which no lower one can outweigh a higher one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import gcd
from typing import TypeAlias

from ortools.sat.python.cp_model import IntVar, LinearExpr, LinearExprT

from matcher.assignment.problem import Places

Selection: TypeAlias = Sequence[tuple[int, IntVar]]

LARGEST = 2**53
"""Whole numbers up to here are exact as floating point, in which the solver reports its objective."""


@dataclass(frozen=True, slots=True)
class Layer:
    """A cost to be minimized: ``offset + unit x (sum of coefficient x variable)``, with ``reach`` the largest sum.

    ``value`` counts the same cost in a plan. ``joint`` marks a cost over pairs of groups.
    """

    terms: tuple[tuple[int, IntVar], ...]
    value: Callable[[Places], int]
    offset: int
    unit: int
    reach: int
    joint: bool = False

    @property
    def total(self) -> int:
        """Sum of all coefficients."""
        return sum(coefficient for coefficient, _ in self.terms)

    def steps(self, value: int) -> int:
        """The sum that belongs to a value."""
        return (value - self.offset) // self.unit

    def at(self, steps: int) -> int:
        """The value that belongs to a sum."""
        return self.offset + self.unit * steps


def layer(choices: Iterable[Selection], value: Callable[[Places], int], *, joint: bool = False) -> Layer:
    """A cost made up of choices, in each of which exactly one variable is true and costs what stands beside it."""
    offset, most, terms = 0, 0, []
    for choice in choices:
        low = min(cost for cost, _ in choice)
        offset += low
        most += max(cost for cost, _ in choice) - low
        terms += [(cost - low, variable) for cost, variable in choice if cost > low]
    unit = gcd(*(cost for cost, _ in terms)) or 1
    return Layer(tuple((cost // unit, variable) for cost, variable in terms), value, offset, unit, most // unit, joint)


def count(variables: Iterable[IntVar], value: Callable[[Places], int]) -> Layer:
    """The number of true variables as a cost."""
    terms = tuple((1, variable) for variable in variables)
    return Layer(terms, value, offset=0, unit=1, reach=len(terms))


def weights(layers: Sequence[Layer]) -> list[int]:
    """Factors by which one step of a layer outweighs all layers after it."""
    found = [1]
    for lower in reversed(layers[1:]):
        found.append(found[-1] * (lower.reach + 1))
    return found[::-1]


def fits(layers: Sequence[Layer]) -> bool:
    """Whether the layers make one number that the solver handles exactly."""
    return sum(weight * part.total for weight, part in zip(weights(layers), layers, strict=True)) < LARGEST


def one_number(layers: Sequence[Layer]) -> LinearExprT:
    """All layers as one objective."""
    terms = [
        (weight * coefficient, variable)
        for weight, part in zip(weights(layers), layers, strict=True)
        for coefficient, variable in part.terms
    ]
    return LinearExpr.weighted_sum([variable for _, variable in terms], [factor for factor, _ in terms])
