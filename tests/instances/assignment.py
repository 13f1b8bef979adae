"""Published instances that a plan of groups in drawers models honestly, each with its source and optimum."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class BinPacking:
    """Groups of one size each, any of which may share, in equal drawers: the fewest drawers in ``pack``."""

    name: str
    source: str
    capacity: int
    sizes: tuple[int, ...]
    drawers: int


@dataclass(frozen=True)
class CostTable:
    """Groups (columns) in drawers (rows) at a cost; ``sizes`` are loads against ``capacity``, or one group a drawer."""

    name: str
    source: str
    costs: tuple[tuple[int, ...], ...]
    cost: int
    sizes: tuple[int, ...] = ()
    capacity: int = 0


@dataclass(frozen=True)
class Quadratic:
    """Groups on a grid of drawers, ``flows`` as weights of `near`; ``cost`` counts every pair once."""

    name: str
    source: str
    rows: int
    banks: int
    flows: tuple[tuple[int, ...], ...]
    cost: int


BIN_PACKINGS = (
    BinPacking(
        "worked example",
        "OR-Tools documentation, 'The Bin Packing Problem'",
        100,
        (48, 30, 19, 36, 36, 27, 42, 42, 36, 24, 30),
        4,
    ),
    BinPacking(
        "trap: the sum says 3",
        "Martello and Toth, 'Knapsack Problems' (1990), example of MTP, data only; proved with CP-SAT",
        100,
        (70, 60, 50, 33, 33, 33, 11, 7, 3),
        4,
    ),
)

COST_TABLES = (
    CostTable(
        "five workers, four tasks",
        "OR-Tools documentation, 'Solving an Assignment Problem'",
        (
            (90, 80, 75, 70),
            (35, 85, 55, 65),
            (125, 95, 90, 95),
            (45, 110, 95, 115),
            (50, 100, 90, 100),
        ),
        265,
    ),
    CostTable(
        "tasks with sizes",
        "OR-Tools sample assignment_task_sizes",
        (
            (90, 76, 75, 70, 50, 74, 12, 68),
            (35, 85, 55, 65, 48, 101, 70, 83),
            (125, 95, 90, 105, 59, 120, 36, 73),
            (45, 110, 95, 115, 104, 83, 37, 71),
            (60, 105, 80, 75, 59, 62, 93, 88),
            (45, 65, 110, 95, 47, 31, 81, 34),
            (38, 51, 107, 41, 69, 99, 115, 48),
            (47, 85, 57, 71, 92, 77, 109, 36),
            (39, 63, 97, 49, 118, 56, 92, 61),
            (47, 101, 71, 60, 88, 109, 52, 90),
        ),
        326,
        sizes=(10, 7, 3, 12, 15, 4, 11, 5),
        capacity=15,
    ),
)

QUADRATICS = (
    Quadratic(
        "first six facilities of nug12 on a 2x3 grid",
        "QAPLIB: Nugent, Vollmann and Ruml (1968); flows from memory; 86 there, where every pair counts twice",
        2,
        3,
        (
            (0, 5, 2, 4, 1, 0),
            (5, 0, 3, 0, 2, 2),
            (2, 3, 0, 0, 0, 0),
            (4, 0, 0, 0, 5, 2),
            (1, 2, 0, 5, 0, 10),
            (0, 2, 0, 2, 10, 0),
        ),
        43,
    ),
)
