"""Plans, comparisons and an offer for the tests of pages: small, planned in well under a second."""

from dataclasses import replace
from functools import lru_cache

from matcher.offer.deciding import offer
from matcher.offer.decisions import limits_of
from matcher.planning.answering import plan, with_best_part
from matcher.planning.outcome import Outcome, Undecided
from matcher.records.answered import Reason
from matcher.records.given import Cabinet
from matcher.records.units import kg, mm
from matcher.report.pages.comparison_page import comparison_page
from matcher.report.pages.offer_page import offer_page
from matcher.report.pages.plan_page import plan_page
from matcher.studies.comparison import compare
from matcher.studies.variants import steps
from tests import builders, offer_cases
from tests.builders import HOUSE

SIZES = {"socket 10": 40, "socket 11": 42, "socket 12": 44}
HOSTILE = (
    "<script>alert(1)</script>",
    "\"quoted\" & 'single'",
    "=cmd|' /C calc'!A0",
    "x" * 300,
    "עברית מגירה",
    "🔧🧰 wrench",
)
"""Names a spreadsheet may bring: markup, quotes, a formula, one too long, one right to left, emoji."""


def cabinet(name="cabinet", low=False, names=("A1", "B1", "AB2", "A3", "B3")) -> Cabinet:
    """Two banks: two drawers over one that spans both over a blocked one and one that takes no foam."""
    rows = {1: 900, 2: 750, 3: 400}
    height = 15 if low else 100
    one, two, wide, shut, bare = (name for name in names)
    made = builders.cabinet(
        builders.drawer(one, 1, 1, above_ground=mm(rows[1]), load_rating=kg(45), height=height, cabinet=name),
        builders.drawer(two, 2, 1, above_ground=mm(rows[1]), load_rating=kg(45), height=height, cabinet=name),
        builders.drawer(wide, 1, 2, 1150, last_bank=2, above_ground=mm(rows[2]), height=height + 20, cabinet=name),
        builders.drawer(shut, 1, 3, above_ground=mm(rows[3]), slot="blocked", height=200, cabinet=name),
        builders.drawer(bare, 2, 3, above_ground=mm(rows[3]), slot="no foam", height=200, cabinet=name),
        name=name,
    )
    return replace(made, label="two banks", width=mm(1260), depth=mm(520), height=mm(1050), price=900.0)


def catalogue(cabinets, set_name="set", groups=("sockets", "trays", "drill"), tools=tuple(SIZES)):
    """Pieces of one group, a ready-made organizer of another, one cased group."""
    pieces = [
        builders.piece(tool, 60, size, 30, set=set_name, group=groups[0], system=system)
        for (tool, size), system in zip(
            zip(tools, SIZES.values(), strict=True), ("inch", "metric", "metric"), strict=True
        )
    ]
    pieces.append(builders.piece("drill in its case", 300, 250, 120, kind="cased", set=set_name, group=groups[2]))
    ready = builders.organizer(groups[1], 500, 380, 20, set_name=set_name, part="P-1", revision="B")
    return builders.catalogue(pieces, [ready], cabinets)


@lru_cache
def planned(low=False) -> Outcome:
    """The set in the cabinet; ``low`` drawers take it not."""
    return plan(catalogue([cabinet(low=low)]), HOUSE, "set", "cabinet")


@lru_cache
def part() -> Outcome:
    """A refusal with the best part found: cased things and a ready-made organizer too large stay outside."""
    given = catalogue([cabinet(low=True)])
    more = [builders.piece(f"plate {n}", 200, 200, 6, group="plates") for n in range(3)]
    more += [builders.piece("pin", 40, 10, 6, group="pins")]
    return with_best_part(plan(replace(given, pieces=(*given.pieces, *more)), HOUSE, "set", "cabinet"))


@lru_cache
def undecided() -> Undecided:
    """An outcome that found neither plan nor proof."""
    refused = planned(low=True)
    reasons = (Reason("undecided", "neither a plan nor a proof was found", groups=("sockets",)),)
    return Undecided(refused.question, refused.run, reasons)


@lru_cache
def hostile() -> Outcome:
    """A plan in which every name is a hostile one."""
    script, quoted, formula, long, right_to_left, emoji = HOSTILE
    chosen = replace(cabinet(script, names=(quoted, formula, long, right_to_left, emoji)), label=script)
    given = catalogue([chosen], quoted, (script, right_to_left, emoji), (formula, long, script + quoted))
    return plan(given, HOUSE, quoted, script)


@lru_cache
def compared(sets=1):
    """Three cabinets, one of them too low, for one set or two equal ones."""
    cabinets = [cabinet("a"), replace(cabinet("b"), drawers=cabinet("b").drawers[:-1]), cabinet("c", low=True)]
    given, more = catalogue(cabinets), catalogue(cabinets, "twin")
    given = replace(given, pieces=given.pieces + more.pieces, organizers=given.organizers + more.organizers)
    found = [compare(given, HOUSE, name) for name in ("set", "twin")[:sets]]
    return found, [steps(one) for one in found]


@lru_cache
def offered():
    """A set in two cabinets that need sizes of their own, of which only one may be new."""
    cabinets = [offer_cases.one_drawer("near"), offer_cases.one_drawer("wide", width=900, depth=500)]
    given, plans = offer_cases.simple(cabinets, units=500)
    rules = offer_cases.with_offer(setup_cost=100.0)
    return offer(given, rules, plans, limits_of(rules, 1, None, None, each_set=False))


def pages() -> dict[str, str]:
    """One page of each sort."""
    return {
        "plan": plan_page(planned()),
        "refusal": plan_page(planned(low=True)),
        "part": plan_page(part()),
        "undecided": plan_page(undecided()),
        "hostile": plan_page(hostile()),
        "compare": comparison_page(*compared()),
        "many": comparison_page(*compared(2)),
        "offer": offer_page(offered()),
    }
