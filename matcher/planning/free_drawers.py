"""The drawers that a plan leaves to the buyer: how large they are, and where the hand is that reaches into them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from fractions import Fraction

from matcher.fitting import hand_height
from matcher.planning.posing import usable
from matcher.planning.question import Question
from matcher.records import Drawer, DrawerSize, FreeDrawer, Plan, counted

SMALL, LARGE = Fraction(2, 3), Fraction(4, 3)
"""A drawer is small up to, and large from, this share of the volume of the cabinet's average drawer; own choice."""


def free_drawers(question: Question, plan: Plan) -> tuple[FreeDrawer, ...]:
    """The free drawers with their clear sizes, the highest first."""
    drawers = usable(question.cabinet)
    average = Fraction(sum(map(_volume, drawers)), len(drawers) or 1)
    found = [_free(drawer, average, question) for drawer in drawers if drawer.name in plan.free_drawers]
    return tuple(sorted(found, key=lambda drawer: (-drawer.height, drawer.drawer)))


def free_told(free: Iterable[FreeDrawer]) -> tuple[tuple[str, tuple[FreeDrawer, ...]], ...]:
    """Free drawers that are alike told as one, e.g. ``3 small drawers between knuckle and elbow``, with those meant."""
    alike: dict[tuple[str, str], list[FreeDrawer]] = defaultdict(list)
    for drawer in free:
        alike[f"{drawer.size} drawer", _where(drawer)].append(drawer)
    return tuple((f"{counted(len(held), kind)}{where}", tuple(held)) for (kind, where), held in alike.items())


def _where(drawer: FreeDrawer) -> str:
    """What tells where a drawer is of use."""
    return f"{' without foam' if drawer.slot == 'no foam' else ''}{drawer.reach and ' ' + drawer.reach}"


def _free(drawer: Drawer, average: Fraction, question: Question) -> FreeDrawer:
    floor = hand_height(drawer, 0)
    return FreeDrawer(
        drawer=drawer.name,
        width=drawer.inside_width,
        depth=drawer.inside_depth,
        height=drawer.clear_height - drawer.liner,
        slot=drawer.slot,
        load_left=drawer.load_rating,
        above_ground=floor,
        size=_size(_volume(drawer) / average),
        reach="" if floor is None else question.house.height.band(floor),
    )


def _volume(drawer: Drawer) -> int:
    return drawer.inside_width * drawer.inside_depth * drawer.clear_height


def _size(share: Fraction) -> DrawerSize:
    return "small" if share <= SMALL else "large" if share >= LARGE else "medium"
