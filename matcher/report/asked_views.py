"""The answer to a question on the phone: two sentences that can be pasted into a reply, and what they rest on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from rich.console import Group as Stack
from rich.text import Text

from matcher.planning import Fits
from matcher.records import (
    PER_INCH,
    PER_MM,
    Margin,
    Placement,
    TypedDrawer,
    TypedSize,
    counted,
    in_inches,
    listed,
    show_mm,
    to_mm,
)
from matcher.report.document import plan_document
from matcher.studies import AskedDrawers, Condition, sizes_typed

IN_WORDS = {"inside width": "wide", "inside depth": "deep", "clear height": "high"}
HOW_WORDS = {
    "as is": "as it is",
    "shim": "with a strip of foam beside it",
    "trim": "trimmed",
    "re-cut": "cut anew",
    "new": "in foam cut for it",
    "unordered": "in foam cut for it, unordered",
    "cased": "in its case",
}

NOT_SAID = "Nothing is said of load and tip-over: the ratings and the manual of the cabinet maker decide."


def asked_view(asked: AskedDrawers) -> Stack:
    """The answer and what to measure next, for the terminal; then what it says nothing of."""
    return Stack(*(Text(sentence) for sentence in asked_sentences(asked)), Text(NOT_SAID, style="dim"))


def asked_shown(asked: AskedDrawers) -> dict[str, Any]:
    """What a page shows, by the names it goes by there."""
    return {"asked": {**asked_document(asked), "set": asked.outcome.set}, "not_said": NOT_SAID}


def asked_document(asked: AskedDrawers) -> dict[str, Any]:
    """The same as JSON, with the plan or the reasons in full; lengths in mm."""
    return {
        "asked": asked.what,
        "groups": [group.name for group in asked.groups],
        "drawers": [_drawer_document(one) for one in asked.drawers],
        "verdict": asked.verdict,
        "sentences": list(asked_sentences(asked)),
        "conditions": [
            {
                "drawer": one.drawer,
                "dimension": one.dimension,
                "at_least_mm": to_mm(one.at_least),
                "guess_mm": None if one.told is None else to_mm(one.told),
                "less_is_too_little": one.needed,
            }
            for one in asked.conditions
        ],
        "plan": plan_document(asked.outcome),
    }


def _drawer_document(drawer: TypedDrawer) -> dict[str, Any]:
    names = ("inside_width_mm", "inside_depth_mm", "clear_height_mm")
    sizes = zip(names, sizes_typed(drawer), strict=True)
    told: dict[str, Any] = {"drawer": drawer.name, "slot": drawer.slot}
    for name, size in sizes:
        told[name] = None if size.length is None else to_mm(size.length)
        told[name.replace("_mm", "_guessed")] = size.guessed
    return told


def asked_sentences(asked: AskedDrawers) -> tuple[str, str]:
    """Whether and how it goes in; then what to measure next."""
    if isinstance(asked.outcome, Fits):
        return _how_it_goes_in(asked, asked.outcome), _measure_next(asked, asked.outcome)
    reason = asked.outcome.reasons[0].text if asked.outcome.reasons else "nothing more is known"
    where = _where(asked.drawers)
    if asked.outcome.verdict == "undecided":
        first = f"Whether {_what(asked)} {_verb(asked, 'go')} into {where} is not decided: {reason}."
    else:
        first = f"{_subject(asked)} {_verb(asked, 'do')} not go into {where}: {reason}."
    return first, _what_would_do(asked, asked.outcome.change)


def _what_would_do(asked: AskedDrawers, change: str) -> str:
    if not asked.would_do:
        return f"It would go in with this change: {change}." if change else "No single change that helps was found."
    (drawer,) = asked.drawers
    ways = [
        f"{_length(one.at_least, drawer.inches)} {one.dimension} "
        f"({_length(one.at_least - (one.told or 0), drawer.inches)} more)"
        for one in asked.would_do
    ]
    return f"It would go in with at least {' or '.join(ways)}, the other sizes as told; measure that side again first."


def _how_it_goes_in(asked: AskedDrawers, outcome: Fits) -> str:
    what, where = _subject(asked), _where(asked.drawers)
    how = _ways(asked, outcome)
    if not asked.conditions:
        return f"{what} {_verb(asked, 'go')} into {where}{how}."
    needs = listed([_condition(asked, one) for one in asked.conditions])
    return f"{what} {_verb(asked, 'go')} into {where}{how} if {needs}."


def _ways(asked: AskedDrawers, outcome: Fits) -> str:
    """How the organizers go in: of one in full, of several counted."""
    placed = outcome.plan.placements
    inches = any(one.inches for one in asked.drawers)
    if len(placed) == 1:
        return f" {HOW_WORDS[placed[0].how]}{_trimmed(outcome, placed[0], inches)}"
    counts = Counter(HOW_WORDS[one.how] for one in placed)
    return " with " + listed([f"{counted(number, 'organizer')} {words}" for words, number in counts.items()])


def _trimmed(outcome: Fits, placed: Placement, inches: bool) -> str:
    """By how much an organizer is cut smaller."""
    (group,) = (one for one in outcome.plan.groups if one.name == placed.group)
    if placed.how != "trim" or group.organizer is None:
        return ""
    off = (("width", group.organizer.width - placed.width), ("depth", group.organizer.depth - placed.depth))
    return ": " + listed([f"{_length(by, inches)} off its {side}" for side, by in off if by > 0])


def _condition(asked: AskedDrawers, one: Condition) -> str:
    inches = any(drawer.inches for drawer in asked.drawers if drawer.name == one.drawer)
    subject = "it" if len(asked.drawers) == 1 else f"drawer {one.drawer}"
    needed = f"{subject} is at least {_length(one.at_least, inches)} {IN_WORDS[one.dimension]} inside"
    beside = []
    if one.told is not None:
        beside.append(f"{'the guess is' if one.met else 'more than the guess of'} {_length(one.told, inches)}")
    if not one.needed:
        beside.append("perhaps a little less would do")
    return f"{needed} ({'; '.join(beside)})" if beside else needed


def _measure_next(asked: AskedDrawers, outcome: Fits) -> str:
    inches = any(one.inches for one in asked.drawers)
    if asked.conditions:
        first = asked.conditions[0]
        others = [f"the {one.dimension} of drawer {one.drawer}" for one in asked.conditions[1:]]
        then = f", then {listed(others)}" if others else ""
        return f"Measure the {first.dimension} of drawer {first.drawer} next{then}."
    tightest = outcome.margins[0]
    spare, dimension = _tightest(tightest)
    return (
        f"Measure the {dimension} of drawer {tightest.drawer} first, at front and back: as planned it has "
        f"{_length(spare, inches)} to spare."
    )


def _tightest(margin: Margin) -> tuple[int, str]:
    spares = (margin.spare_width, margin.spare_depth, margin.spare_height)
    return min(zip(spares, IN_WORDS, strict=True))


def _what(asked: AskedDrawers) -> str:
    """What was asked about, as it was asked; several groups that are meant are named."""
    names = [group.name for group in asked.groups]
    set_name = asked.outcome.set
    if asked.what == set_name:
        return set_name
    return f"the {listed(names)} of {set_name}"


def _verb(asked: AskedDrawers, verb: str) -> str:
    """The verb in the number of what was asked about."""
    single = asked.what == asked.outcome.set
    return {"go": "goes", "do": "does"}[verb] if single else verb


def _where(drawers: Sequence[TypedDrawer]) -> str:
    sizes = [_sizes(one) for one in drawers]
    if len(drawers) == 1:
        return f"a drawer of {sizes[0]} inside"
    told = Counter(sizes)
    return f"{counted(len(drawers), 'drawer')} ({'; '.join(_each(size, n) for size, n in told.items())} inside)"


def _each(size: str, number: int) -> str:
    return size if number == 1 else f"{number} of {size}"


def _sizes(drawer: TypedDrawer) -> str:
    return " x ".join(_size(size, drawer.inches) for size in sizes_typed(drawer)) + (" in" if drawer.inches else " mm")


def _size(size: TypedSize, inches: bool) -> str:
    if size.length is None:
        return "?"
    words = in_inches(size.length) if inches else f"{to_mm(size.length):g}"
    return f"about {words}" if size.guessed else words


def _length(length: int, inches: bool) -> str:
    """A length as told: in the nearest sixteenth of an inch above, or in mm."""
    if not inches:
        return f"{to_mm(length):g} mm" if length % PER_MM == 0 else show_mm(length)
    step = PER_INCH // 16
    return f"{in_inches(-(-length // step) * step)} in"


def _subject(asked: AskedDrawers) -> str:
    """What was asked about, at the beginning of a sentence; a set's name stays as it is."""
    words = _what(asked)
    return words if words == asked.outcome.set else words[:1].upper() + words[1:]
