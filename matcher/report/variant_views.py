"""What changes from one variant to the next: documents and lines. Shows, never computes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.console import Group as Stack
from rich.console import RenderableType
from rich.text import Text

from matcher.planning import Fits
from matcher.records import HOWS, to_mm
from matcher.report.document import Document
from matcher.report.grids import Grid
from matcher.report.measuring_views import carried_words
from matcher.studies import Carry, Step, Variant, carry_counts


def steps_document(steps: Iterable[Step]) -> list[Document]:
    """One object per pair of neighbors in ranked order."""
    return [
        {
            "before": step.before,
            "after": step.after,
            "why": step.why,
            "drawers_gained": list(step.gained),
            "drawers_lost": list(step.lost),
            "drawers_changed": list(step.resized),
            "organizers": [_carry(carry) for carry in step.carries],
            "changes": list(step.changes),
        }
        for step in steps
    ]


def steps_view(steps: Sequence[Step]) -> RenderableType:
    """Each step: why it ranks so, drawers, organizers that carry over, moves."""
    return Stack(*(line for step in steps for line in _step_lines(step)))


def steps_table(variants: Sequence[Variant], steps: Sequence[Step]) -> Grid:
    """A row a variant: its free drawers, then what is other than in the variant above it; one row where nothing is."""
    rows: list[tuple[str, ...]] = []
    for variant, step in zip(variants, (None, *steps), strict=True):
        name, free = variant.outcome.cabinet, _free(variant)
        if step and rows and free == rows[-1][1] and _nothing_changes(step):
            rows[-1] = (f"{rows[-1][0]}, {name}", *rows[-1][1:])
        else:
            rows.append((name, free, *(_step_cells(step) if step else ("", "", ""))))
    table = Grid("cabinet", "*free", "drawers", "~carried over", "*moved")
    for row in rows:
        table.add_row(*row)
    return table


def _free(variant: Variant) -> str:
    return str(variant.free) if isinstance(variant.outcome, Fits) else variant.outcome.verdict


def _nothing_changes(step: Step) -> bool:
    """Whether drawers and places of groups are those of the variant before."""
    drawers = step.gained or step.lost or step.resized
    return not drawers and all(one.before == one.after for one in step.carries)


def _step_cells(step: Step) -> tuple[str, str, str]:
    """Drawers more, fewer and other; organizers by how they carry over; groups in another drawer."""
    drawers = [f"{sign}{len(names)}" for sign, names in (("+", step.gained), ("-", step.lost)) if names]
    told = [" ".join(drawers), f"{len(step.resized)} changed" if step.resized else ""]
    moved = sum(carry.before != carry.after for carry in step.carries)
    return ", ".join(filter(None, told)) or "the same", _carried(step), str(moved) if step.carries else ""


def _carried(step: Step) -> str:
    counts = carry_counts(step)
    return ", ".join(f"{counts[how]} {how}" for how in HOWS if counts[how])


def _step_lines(step: Step) -> list[Text]:
    lines = [Text.assemble((step.before, "bold"), " -> ", (step.after, "bold"), f": {step.why}")]
    lines += [Text(f"  drawers gained: {', '.join(step.gained)}")] if step.gained else []
    lines += [Text(f"  drawers lost: {', '.join(step.lost)}")] if step.lost else []
    lines += [Text(f"  {told}") for told in step.resized]
    carried = _carried(step)
    lines += [Text(f"  organizers carried over: {carried}")] if carried else []
    lines += [
        Text(f"  {carry.group}: {carried_words(carry.carried)}")
        for carry in step.carries
        if carry.carried.how != "as is"
    ]
    return [*lines, *(Text(f"  {change}") for change in step.changes)]


def _carry(carry: Carry) -> Document:
    return {
        "group": carry.group,
        "drawer_before": carry.before,
        "drawer_after": carry.after,
        "how": carry.carried.how,
        "change_width_mm": to_mm(carry.carried.width),
        "change_depth_mm": to_mm(carry.carried.depth),
        "lacks": carry.carried.lacks,
        "short_mm": to_mm(carry.carried.short),
    }
