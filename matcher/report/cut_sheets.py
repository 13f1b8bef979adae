"""What is to be cut as documents, rows and text: blanks, sheets, setup sheets. Shows, never computes."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.cutting import Cut, Guess, InStock, Job, Refit, Sheet, SheetCount, Stock, by_group
from matcher.planning import Fits, together_words
from matcher.records import counted, to_mm
from matcher.report.answer_lines import but_lines, left_out_lines
from matcher.report.caution_views import caution_lines, cautions_of
from matcher.report.document import Document, plan_document
from matcher.report.grids import Grid
from matcher.report.setup_sheets import NOT_FOR_PRODUCTION, setup_document, setup_lines

READ_FIRST = "Caution: read the setup sheet, the foam's safety data sheet and the machine's manual first."
"""On every drawing and list that foam is cut from. Common practice, no source."""


def cut_document(made: Cut) -> Document:
    """Everything to be cut; the lists are empty without a plan, whose verdict and reasons stand beside them."""
    planned = plan_document(made.outcome)
    return {
        **{name: planned[name] for name in ("set", "cabinet", "verdict", "left_out", "fits_but", "reasons")},
        "cautions": [row for row in planned["cautions"] if row["level"] != "info"],
        "work_cautions": list(made.work_cautions),
        "production": made.production,
        "note": "" if made.production else NOT_FOR_PRODUCTION,
        "batch": made.batch,
        "sheets": made.sheets,
        "machine_minutes": round(made.minutes, 2),
        "material_cost": _money(made.cost),
        "blanks": [_blank(job) for job in made.jobs],
        "refits": [_refit(refit) for refit in made.refits],
        "in_stock": [_in_stock(ready) for ready in made.in_stock],
        "stocks": [_stock(stock, layer, made) for layer, stock in _layers(made)],
        "guesses": [guess_document(guess) for guess in made.guesses],
        "together_in_words": planned["together_in_words"],
        "setup_sheets": [setup_document(job.setup) for job in made.jobs],
        "run": planned["run"],
    }


def cut_rows(made: Cut) -> list[Document]:
    """One row a blank, with what to mind in short."""
    note = "" if made.production else NOT_FOR_PRODUCTION
    return [{**_blank(job), "batch": made.batch, "note": note, "caution": cut_caution(made)} for job in made.jobs]


def cut_caution(made: Cut) -> str:
    """What to mind before cutting, in one line: what to read first, and errors of the plan by number and code."""
    errors = [one.code for one in cautions_of(made.outcome) if one.level == "error"]
    told = f" The plan has {counted(len(errors), 'error')}: {', '.join(dict.fromkeys(errors))}." if errors else ""
    return f"{READ_FIRST}{told}"


def cut_view(made: Cut) -> RenderableType:
    """Blanks, organizers to trim or shim, sheets, setup sheets, guesses; or why there is nothing to cut."""
    outcome = made.outcome
    head = Text.assemble((outcome.set, "bold"), " in ", (outcome.cabinet, "bold"), f": {outcome.verdict}")
    outside = left_out_lines(outcome.question.left_out)
    if not isinstance(outcome, Fits):
        return Stack(
            head, *outside, *but_lines(outcome), *(Text(f"{reason.code}: {reason.text}") for reason in outcome.reasons)
        )
    parts: list[RenderableType] = [head, *outside, Text(_totals(made)), *map(Text, together_words(outcome))]
    if made.jobs:
        parts.append(_blank_table(made))
    parts += [Text(_refit_line(refit)) for refit in made.refits]
    parts += [Text(_in_stock_line(ready)) for ready in made.in_stock]
    parts += [Text(line) for layer, stock in _layers(made) for line in _stock_lines(stock, layer, made)]
    parts += [Text(line) for job in made.jobs for line in setup_lines(job.setup)]
    parts += [*caution_lines(cautions_of(outcome)), *(Text(f"! {caution}") for caution in made.work_cautions)]
    parts += [Text(f"! not measured: {line}") for line in by_group(made.guesses)]
    return Stack(*parts)


# --------------------------------------------------------------------------------------------------------- documents


def _blank(job: Job) -> Document:
    blank = job.blank
    return {
        "group": blank.group,
        "drawer": blank.drawer,
        "how": blank.how,
        "width_mm": to_mm(blank.width),
        "depth_mm": to_mm(blank.depth),
        "thickness_mm": to_mm(job.drawing.thickness),
        "least_thickness_mm": to_mm(blank.least),
        "foam": job.foam.name if job.foam else "",
        "base_thickness_mm": to_mm(job.setup.base_thickness),
        "base": job.setup.base,
        "pocket_minutes": round(job.minutes.pockets, 2),
        "profile_minutes": round(job.minutes.profile, 2),
        "material_cost": _money(job.cost),
    }


def _refit(refit: Refit) -> Document:
    return {
        "group": refit.group,
        "drawer": refit.drawer,
        "part": refit.part,
        "how": refit.how,
        "from_width_mm": to_mm(refit.from_width),
        "from_depth_mm": to_mm(refit.from_depth),
        "width_mm": to_mm(refit.width),
        "depth_mm": to_mm(refit.depth),
        "strip_width_mm": to_mm(refit.strip_width),
        "strip_depth_mm": to_mm(refit.strip_depth),
    }


def _in_stock(ready: InStock) -> Document:
    return {
        "group": ready.group,
        "drawer": ready.drawer,
        "part": ready.part,
        "in_stock": ready.stock,
        "wanted": ready.wanted,
        "lacking": ready.lacking,
    }


def _layers(made: Cut) -> list[tuple[str, Stock]]:
    """Every stock, and whether it is for top sheets or bases; nothing where all foam is one sheet."""
    top = "top sheet" if any(job.blank.base for job in made.jobs) else ""
    return [*((top, stock) for stock in made.stocks), *(("base", stock) for stock in made.bases)]


def _stock(stock: Stock, layer: str, made: Cut) -> Document:
    foam = stock.foam
    return {
        "foam": foam.name,
        "layer": layer,
        "length_mm": to_mm(foam.length),
        "width_mm": to_mm(foam.width),
        "thickness_mm": to_mm(foam.thickness),
        "price": foam.price,
        "cost": _money(stock.cost),
        "free": _count(stock.free, made),
        "guillotine": _count(stock.guillotine, made),
    }


def _count(count: SheetCount, made: Cut) -> Document:
    return {
        "value": count.value,
        "bound": count.bound,
        "proved": count.proved,
        "sheets": [_sheet(sheet, made) for sheet in count.sheets],
    }


def _sheet(sheet: Sheet, made: Cut) -> Document:
    left, front, width, depth = map(to_mm, sheet.offcut)
    return {
        "note": "" if made.production else NOT_FOR_PRODUCTION,
        "blanks": [
            {
                "group": made.jobs[placed.blank].blank.group,
                "left_mm": to_mm(placed.left),
                "front_mm": to_mm(placed.front),
                "turned": placed.turned,
            }
            for placed in sheet.placed
        ],
        "offcut": {"left_mm": left, "front_mm": front, "width_mm": width, "depth_mm": depth},
    }


def guess_document(guess: Guess) -> Document:
    """A row of tools to cut for that nobody measured."""
    return {
        "group": guess.group,
        "tool": guess.tool,
        "count": guess.count,
        "basis": guess.basis,
        "source": guess.source,
    }


def _money(amount: float | None) -> float | None:
    return None if amount is None else round(amount, 2)


# -------------------------------------------------------------------------------------------------------------- text


def _totals(made: Cut) -> str:
    cost = "" if made.cost is None else f", foam {made.cost:.2f} a bundle"
    line = (
        f"{counted(len(made.jobs), 'blank')}, batch of {made.batch}, {counted(made.sheets, 'sheet')}, "
        f"{made.minutes:.1f} machine minutes a bundle (tool change, loading and cleaning come on top){cost}"
    )
    return line if made.production else f"{line}\n{NOT_FOR_PRODUCTION.upper()}"


def _blank_table(made: Cut) -> Grid:
    table = Grid("~group", "drawer", "=how", "mm (w x d x thick)", "~foam", "*minutes", "*cost")
    for job in made.jobs:
        blank = job.blank
        size = " x ".join(f"{to_mm(side):.1f}" for side in (blank.width, blank.depth, job.drawing.thickness))
        foam = job.foam.name if job.foam else "none fits"
        foam += f" on {job.base.name if job.base else 'no base that fits'}" if blank.base else ""
        cost = "" if job.cost is None else f"{job.cost:.2f}"
        table.add_row(blank.group, blank.drawer, blank.how, size, foam, f"{job.minutes.total:.1f}", cost)
    return table


def _refit_line(refit: Refit) -> str:
    old, new = ((refit.from_width, refit.from_depth), (refit.width, refit.depth))
    parts = []
    if old != new:
        parts.append(f"trim {' x '.join(f'{to_mm(side):.1f}' for side in old)} mm to {_by(new)}")
    strips = (("width", refit.strip_width), ("depth", refit.strip_depth))
    parts += [f"fill {to_mm(gap):.1f} mm of {axis} with strips" for axis, gap in strips if gap]
    return f"{refit.group} (part {refit.part or 'without number'}), drawer {refit.drawer}: {'; '.join(parts)}"


def _in_stock_line(ready: InStock) -> str:
    told = "stock not given" if ready.stock is None else f"{ready.stock} in stock"
    short = f": {ready.lacking} short" if ready.lacking else ""
    part = ready.part or "without number"
    return f"{ready.group} (part {part}), drawer {ready.drawer}: {told}, {ready.wanted} wanted{short}"


def _by(sides: tuple[int, int]) -> str:
    return f"{to_mm(sides[0]):.1f} x {to_mm(sides[1]):.1f} mm"


def _stock_lines(stock: Stock, layer: str, made: Cut) -> Iterator[str]:
    name = f"{stock.foam.name}, {layer}" if layer else stock.foam.name
    yield f"{name}: {_proof(stock.free)}; by straight cuts only {_proof(stock.guillotine)}"
    for number, sheet in enumerate(stock.free.sheets, 1):
        names = ", ".join(made.jobs[placed.blank].blank.group for placed in sheet.placed)
        yield f"  sheet {number}: {names}; largest rectangle left {_by(sheet.offcut[2:])}"


def _proof(count: SheetCount) -> str:
    known = "proved" if count.proved else f"not proved, at least {count.bound}"
    return f"{counted(count.value, 'sheet')} ({known})"
