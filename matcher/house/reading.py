"""House rules from files: the shipped defaults, overridden key by key. Rounding is always against the fit."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from decimal import Decimal
from importlib.resources import files
from pathlib import Path
from typing import Any

from matcher.house.faults import GOAL_NAMES, RuleFault, Tables, base_unfit, edges_out_of_order, faults_in
from matcher.house.rules import (
    CartonRules,
    Clearance,
    CutRules,
    Cutter,
    GoalRules,
    HeightRules,
    House,
    LayoutRules,
    LengthRules,
    LiftRules,
    MeasureRules,
    NotchRules,
    OfferRules,
    OrderRules,
    PocketRules,
    SideRules,
    TipRules,
    TogetherRules,
    WorkBudgets,
)
from matcher.records import NEWTONS_PER_LBF, CatalogueError, CellError, Toward, bounded_text, kg, mm

SIDES = ("left", "outermost")
"""Keys of ``[layout]`` that say which side is which."""

LARGEST_FILE = 1_000_000
"""Bytes of a file of house rules, at most; own choice."""


def default_house() -> House:
    """The house rules as shipped."""
    return _house(_default_tables())


def read_house(path: Path) -> House:
    """House rules from a planner's file on top of the defaults.

    Raises
    ------
    CatalogueError
        The file is no TOML, or names an unknown key, or gives a value of the wrong kind.
    """
    defaults = _default_tables()
    try:
        given = tomllib.loads(bounded_text(path, LARGEST_FILE), parse_float=Decimal)
        _refuse(path, faults_in(given, defaults))
    except OSError as closed:
        raise CatalogueError([CellError(path.name, 0, "", closed.strerror or "", "a readable TOML file")]) from closed
    except RecursionError as nested:
        raise CatalogueError([CellError(path.name, 0, "", "", "tables and lists a few levels deep")]) from nested
    except ValueError as broken:
        raise CatalogueError([CellError(path.name, 0, "", str(broken), "a readable TOML file")]) from broken
    merged = _merged(defaults, given)
    _refuse(path, [*edges_out_of_order(merged["height"]), *base_unfit(merged["pocket"], merged["cutter"])])
    return _house(merged)


def _refuse(path: Path, faults: Iterable[RuleFault]) -> None:
    cells = [CellError(path.name, 0, key, value, wanted) for key, value, wanted in faults]
    if cells:
        raise CatalogueError(cells)


def _default_tables() -> dict[str, Any]:
    text = (files("matcher.house") / "defaults" / "house.toml").read_text(encoding="utf-8")
    return tomllib.loads(text, parse_float=Decimal)


def _merged(defaults: Tables, given: Tables) -> dict[str, Any]:
    both = dict(defaults)
    for key, value in given.items():
        both[key] = _merged(defaults[key], value) if isinstance(value, dict) and key in defaults else value
    return both


def _house(tables: Tables) -> House:
    clearance, pocket, cut, work = tables["clearance"], tables["pocket"], tables["cut"], tables["work"]
    lift, height, carton = tables["lift"], tables["height"], tables["carton"]
    return House(
        clearance=Clearance(
            side=mm(clearance["side_mm"]),
            top=mm(clearance["top_mm"]),
            gap=mm(clearance["gap_mm"], Toward.DOWN),
            strip_min=mm(clearance["strip_min_mm"], Toward.DOWN),
            wide_gap_share=float(clearance["wide_gap_share"]),
        ),
        pocket=PocketRules(
            fit=mm(pocket["fit_mm"]),
            web=mm(pocket["web_mm"]),
            web_share=Decimal(pocket["web_share"]),
            margin=mm(pocket["margin_mm"]),
            floor=mm(pocket["floor_mm"]),
            depth_share=tuple((kind, Decimal(share)) for kind, share in pocket["depth_share"].items()),
            depth_max=tuple((kind, mm(depth)) for kind, depth in pocket["depth_max_mm"].items()),
            stock=tuple(sorted(mm(thick) for thick in pocket["stock_mm"])),
            stock_tolerance=mm(pocket["stock_tolerance_mm"]),
            base=mm(pocket["base_mm"]),
            estimates=pocket["estimates"],
            depth_step=mm(pocket["depth_step_mm"]),
            corner_relief=pocket["corner_relief"],
        ),
        cutters=tuple(Cutter(mm(row["diameter_mm"]), mm(row["reach_mm"], Toward.DOWN)) for row in tables["cutter"]),
        notch=NotchRules(
            width=mm(tables["notch"]["width_mm"]),
            shared=tuple(tables["notch"]["shared"]),
            grip=mm(tables["notch"]["grip_mm"]),
        ),
        layout=LayoutRules(
            **{key: value for key, value in tables["layout"].items() if key not in (*SIDES, "nests")},
            nests=tuple(tables["layout"]["nests"]),
            sides=SideRules(**{key: tables["layout"][key] for key in SIDES}),
        ),
        caution_share=float(tables["load"]["caution_share"]),
        order=OrderRules(
            level=mm(tables["order"]["level_mm"], Toward.DOWN),
            swap=tuple((first, second) for first, second in tables["order"]["swap"]),
        ),
        offer=OfferRules(
            setup_cost=float(tables["offer"]["setup_cost"]),
            max_new_sizes=tables["offer"]["max_new_sizes"],
            budget=float(tables["offer"]["budget"]),
            shim_cost=float(tables["offer"]["shim_cost"]),
            trim_cost=float(tables["offer"]["trim_cost"]),
            recut_cost=float(tables["offer"]["recut_cost"]),
            empty_share=float(tables["offer"]["empty_share"]),
        ),
        cut=CutRules(
            spacing=mm(cut["spacing_mm"]),
            edge=mm(cut["edge_mm"]),
            kerf=mm(cut["kerf_mm"]),
            bed_length=mm(cut["bed_length_mm"], Toward.DOWN),
            bed_width=mm(cut["bed_width_mm"], Toward.DOWN),
            feed_mm_min=float(cut["feed_mm_min"]),
            pass_depth=mm(cut["pass_depth_mm"], Toward.DOWN),
            turn=cut["turn"],
            strip_step=mm(cut["strip_step_mm"]),
        ),
        together=TogetherRules(**tables["together"]),
        goals=GoalRules(
            fill=tables["goals"]["fill"],
            order=tuple(dict.fromkeys(["together", *tables["goals"]["order"], *GOAL_NAMES])),
            off=tuple(tables["goals"]["off"]),
            parts_weight=tables["goals"]["parts_weight"],
        ),
        tip=TipRules(
            push_n=float(tables["tip"]["push_lbf"]) * NEWTONS_PER_LBF,
            slope_deg=float(tables["tip"]["slope_deg"]),
            cg_forward=mm(tables["tip"]["cg_forward_mm"]),
        ),
        lift=LiftRules(
            mass=kg(lift["mass_kg"], Toward.DOWN),
            reach_share=float(lift["reach_share"]),
            per_minute=float(lift["per_minute"]),
            hours=float(lift["hours"]),
            grip=lift["grip"],
            twist_deg=float(lift["twist_deg"]),
            bench=mm(lift["bench_mm"]),
        ),
        height=HeightRules(
            lower_leg=mm(height["lower_leg_mm"]),
            knuckle=mm(height["knuckle_mm"]),
            elbow=mm(height["elbow_mm"]),
            shoulder=mm(height["shoulder_mm"]),
            best=Decimal(height["best_share"]),
            near=Decimal(height["near_share"]),
            far=Decimal(height["far_share"]),
        ),
        measure=MeasureRules(
            tape=mm(tables["measure"]["tape_mm"]),
            off=mm(tables["measure"]["off_mm"]),
            doubt=mm(tables["measure"]["doubt_mm"]),
            doubt_readings=tables["measure"]["doubt_readings"],
        ),
        lengths=LengthRules(tables["lengths"]["unit"]),
        carton=CartonRules(
            pad=mm(carton["pad_mm"]),
            wall=mm(carton["wall_mm"]),
            board_kg_m2=float(carton["board_kg_m2"]),
            stack=mm(carton["stack_mm"], Toward.DOWN),
            most=kg(carton["most_kg"], Toward.DOWN),
        ),
        work=WorkBudgets(
            seed=work["seed"],
            **{name: float(work[name]) for name in WorkBudgets.__dataclass_fields__ if name != "seed"},
        ),
    )
