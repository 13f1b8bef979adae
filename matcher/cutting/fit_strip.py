"""A fit strip: one offcut with the same pocket at five clearances, to try a new batch of foam before it is cut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from matcher.cutting.blanks import Blank, depths
from matcher.cutting.contours import Contour
from matcher.cutting.cut_order import in_cutting_order
from matcher.cutting.drawings import Drawing, DrawnWords, bond_note, cuts
from matcher.cutting.guesses import Guess, GuessedSizesError, guesses
from matcher.cutting.layers import bought
from matcher.cutting.setup import SetupSheet, setup_sheet
from matcher.house import House
from matcher.layout import trial_pockets
from matcher.planning import Fits, Outcome
from matcher.records import Group, Layout, Pocket, UnknownNameError, UsageError, mm, show_mm, with_nearest

POCKETS = 5
LETTERS, ROUND = mm(5), mm(2)
"""Height of the clearance written in front of each pocket, and the foam round it; own choice."""
WIDEST = 0.65
"""Width of a letter by its height."""


@dataclass(frozen=True, slots=True)
class FitStrip:
    """Pockets of one tool, one for each of ``fits`` (clearance on each side), of which ``house`` is the house's.

    With ``guesses`` the tool's size is not measured, and the strip is not for production.
    """

    set: str
    cabinet: str
    group: str
    tool: str
    standing: bool
    house: int
    fits: tuple[int, ...]
    drawing: Drawing
    setup: SetupSheet
    guesses: tuple[Guess, ...]


def fit_strip(outcome: Outcome, tool: str, *, allow_estimates: bool = False, batch: int = 1) -> FitStrip:
    """The strip for a tool of a plan: its pocket there at five clearances, the house's in the middle.

    Raises
    ------
    UnknownNameError
        No piece of the sets is called so.
    UsageError
        There is no plan, the tool has no pocket in it, or the house's clearance leaves no room for smaller ones.
    GuessedSizesError
        The size of the tool is not measured, and estimates are not allowed.
    """
    question, house = outcome.question, outcome.question.house
    group, planned, pocket = _found(outcome, tool)
    piece = group.pieces[pocket.piece]
    fits = _fits(house)
    guessed = guesses([replace(group, pieces=(piece,))])
    if guessed and not allow_estimates:
        raise GuessedSizesError(guessed)
    marks = [show_mm(fit) for fit in fits]
    layout = trial_pockets(group, planned, pocket, house, fits, int(max(map(len, marks)) * LETTERS * WIDEST))
    margin, front = house.pocket.margin, max(house.pocket.margin, LETTERS + 2 * ROUND)
    blank = Blank(
        group=f"fit strip of {piece.piece.tool}",
        drawer="",
        how="new",
        width=layout.width + 2 * margin,
        depth=layout.depth + front + margin,
        needed=house.pocket.floor + depths(layout)[-1],
        planned=layout.thickness,
        base=layout.base,
    )
    sheets = bought([blank], question.catalogue.foam, house, batch)
    foam, base = (next((stock.foam for stock in some), None) for some in (sheets.tops, sheets.bases))
    setup = setup_sheet(blank, foam, base, layout, house.cutters, batch, not guessed)
    return FitStrip(
        set=question.set,
        cabinet=question.cabinet.name,
        group=group.name,
        tool=piece.piece.tool,
        standing=pocket.standing,
        house=house.pocket.fit,
        fits=fits,
        drawing=Drawing(
            name=blank.group,
            width=blank.width,
            depth=blank.depth,
            thickness=setup.thickness,
            contours=in_cutting_order(
                [
                    *cuts(layout, margin, front),
                    Contour("outer", setup.thickness, _rectangle(blank.width, blank.depth)),
                ]
            ),
            sizes=tuple(_marked(layout, marks, margin, front)),
            production=not guessed,
            note="; ".join([f"clearance on each side, house {show_mm(house.pocket.fit)}", *_bond(layout)]),
        ),
        setup=setup,
        guesses=guessed,
    )


def _found(outcome: Outcome, tool: str) -> tuple[Group, Layout, Pocket]:
    """The first pocket of a tool in the plan, with the group and the layout that it is in."""
    known = {piece.piece.tool for group in outcome.question.groups for piece in group.pieces}
    if tool not in known:
        raise UnknownNameError(f"fit strip: {with_nearest(f'no piece {tool!r} in {outcome.set}', tool, known)}")
    if not isinstance(outcome, Fits):
        raise UsageError(f"fit strip: there is no plan of {outcome.set} in {outcome.cabinet} with a pocket of {tool!r}")
    groups = {group.name: group for group in outcome.plan.groups}
    for placed in outcome.plan.placements:
        group = groups[placed.group]
        for pocket in placed.layout.pockets if placed.layout and not group.cased else ():
            if group.pieces[pocket.piece].piece.tool == tool:
                assert placed.layout is not None
                return group, placed.layout, pocket
    raise UsageError(f"fit strip: {tool!r} lies in a case or a ready-made organizer, no pocket is cut for it")


def _fits(house: House) -> tuple[int, ...]:
    """Five clearances a step apart, the house's in the middle."""
    fit, step = house.pocket.fit, house.cut.strip_step
    below = POCKETS // 2
    if fit < below * step:
        raise UsageError(
            f"fit strip: the house's clearance, {show_mm(fit)}, leaves no room for {below} smaller ones "
            f"{show_mm(step)} apart; expected a smaller strip_step_mm in [cut] of the house rules"
        )
    return tuple(fit + step * (n - below) for n in range(POCKETS))


def _bond(layout: Layout) -> list[str]:
    return [bond_note(layout)] if layout.base else []


def _rectangle(width: int, depth: int) -> tuple[tuple[int, int, float], ...]:
    return (0, 0, 0.0), (width, 0, 0.0), (width, depth, 0.0), (0, depth, 0.0)


def _marked(layout: Layout, marks: list[str], left: int, front: int) -> Iterator[DrawnWords]:
    """Each clearance in front of its pocket."""
    for pocket, text in zip(layout.pockets, marks, strict=True):
        across = [x for x, _ in pocket.ring]
        yield DrawnWords(text, left + (min(across) + max(across)) // 2, front // 2, LETTERS)
