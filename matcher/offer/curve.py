"""The whole trade-off: the most that can be gained with 0, 1, 2, ... new sizes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from matcher.offer.model import Choice, Fewest, Market, best, fewest


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """The best choice with at most ``limit`` new sizes."""

    limit: int
    choice: Choice


@dataclass(frozen=True, slots=True)
class LastWorth:
    """The fewest new sizes beyond which no number of them keeps or gains more; ``proved`` is about that number."""

    limit: int
    proved: bool


@dataclass(frozen=True, slots=True)
class Next:
    """The next step beyond a point: how many more new sizes it takes, and what that brings, in promises and in cents.

    ``more_gain`` may be below 0 where one more promise is kept. ``choice`` is ``None`` where no number of sizes brings
    more; ``proved`` is about the number.
    """

    more_sizes: int
    more_kept: int
    more_gain: int
    choice: Choice | None
    proved: bool


def trade_off(
    market: Market, most_sizes: int, most_bundles: int | None, work: float, seed: int
) -> tuple[CurvePoint, ...]:
    """Points for 0 to ``most_sizes`` new sizes, each no worse than the one before.

    A proved point that uses fewer sizes than its limit is also the best of every limit down to those it uses.
    """
    choices: dict[int, Choice] = {}
    for limit in range(most_sizes, -1, -1):
        above = choices.get(limit + 1)
        reused = above is not None and above.proved and len(above.sizes) <= limit
        choices[limit] = above if above and reused else best(market, min(limit, market.sizes), most_bundles, work, seed)
    for limit in range(1, most_sizes + 1):
        choices[limit] = _no_worse(choices[limit], choices[limit - 1])
    return tuple(CurvePoint(limit, choices[limit]) for limit in range(most_sizes + 1))


def _no_worse(choice: Choice, before: Choice) -> Choice:
    """What was found with fewer sizes holds with more, if the search did not find as much."""
    if (before.kept, before.gain) <= (choice.kept, choice.gain):
        return choice
    return Choice(before.bundles, before.sizes, before.kept, before.gain, choice.bound, proved=False)


def stops_paying(points: Sequence[CurvePoint], unlimited: Choice) -> LastWorth | None:
    """Where on the curve more new sizes stop paying; ``None`` where it still rises at its end.

    ``unlimited`` is the best choice whatever the number of new sizes.
    """
    best_known = unlimited.kept, unlimited.gain
    enough = [(point.choice.kept, point.choice.gain) >= best_known for point in points]
    if not any(enough):
        return None
    at = enough.index(True)
    return LastWorth(points[at].limit, unlimited.proved and (at == 0 or points[at - 1].choice.proved))


def next_step(market: Market, at: Choice, most_bundles: int | None, work: float, seed: int) -> Next:
    """The fewest new sizes with which one more promise is kept than at ``at``, or as many and more is gained."""
    steps = [fewest(market, at.kept, at.gain + 1, most_bundles, work, seed)]
    if at.kept < len(market.promises):
        steps.append(fewest(market, at.kept + 1, None, most_bundles, work, seed))
    found = [step.choice for step in steps if step.choice]
    if not found:
        return Next(0, 0, 0, None, all(step.proved for step in steps))
    count = min(len(choice.sizes) for choice in found)
    reached = best(market, count, most_bundles, work, seed)
    better = max([*found, reached], key=lambda choice: (len(choice.sizes) <= count, choice.kept, choice.gain))
    proved = reached.proved and all(step.proved or step.bound >= count for step in steps)
    return Next(len(better.sizes) - len(at.sizes), better.kept - at.kept, better.gain - at.gain, better, proved)


def for_all_promises(market: Market, most_bundles: int | None, work: float, seed: int) -> Fewest:
    """The fewest new sizes with which every promise is kept, whatever they cost."""
    return fewest(market, len(market.promises), None, most_bundles, work, seed)
