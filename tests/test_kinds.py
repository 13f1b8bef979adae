"""Every word that names a kind is known, says what it needs, and is enough to size a piece."""

from __future__ import annotations

import csv
from dataclasses import replace
from importlib.resources import files

import pytest

from matcher.records.given import Piece
from matcher.records.units import mm
from matcher.tools.dimensions import INCH_RULES, RULES, sized
from matcher.tools.kind_words import kinds_like
from matcher.tools.kinds import KINDS, Kind, counted_kind
from matcher.tools.notation import SizingError
from tests.tool_pieces import a_piece

WORDS = """socket, deep socket, impact socket, deep impact socket, bit socket, spark plug socket, ratchet,
flex-head ratchet, breaker bar, sliding T-handle, extension, wobble extension, adapter, universal joint, torque wrench;
combination wrench, stubby combination wrench, ratcheting wrench, reversible ratcheting wrench,
flex-head ratcheting wrench, stubby ratcheting wrench, double box wrench, open-end wrench, flare-nut wrench,
crowfoot wrench, ignition wrench, adjustable wrench; hex key, T-handle hex key; screwdriver, stubby screwdriver,
nut driver; combination pliers, diagonal cutters, long-nose pliers, slip-joint pliers, locking pliers; hammer, punch,
chisel, pry bar, file; tape measure, caliper, feeler gauge, mirror, pick, magnetic pick-up; insert bit, bit holder,
hexalobular key, external hexalobular socket, universal-joint socket, snap-ring pliers, snips, wire stripper,
pipe wrench, hacksaw; tap, die, tap wrench, die stock, thread gauge, screw extractor; long-arm hex key,
ball-end long-arm hex key; long-pattern combination wrench, half-moon wrench, ratcheting double box wrench;
swivel impact socket, impact universal joint, impact adapter, stubby ratchet, spinner handle, socket rail; mallet,
dead-blow hammer, ball-peen hammer, cross-peen hammer, sledge hammer, soft-face hammer; scraper, clamp, rule, square,
knife, flashlight, needle file; torque screwdriver; left-cut snips, right-cut snips, hose-clamp pliers, water-pump
pliers;
other; cased"""
"""The trade's words as the catalogue's description lists them."""


def words() -> set[str]:
    return {" ".join(word.split()) for word in WORDS.replace(";", ",").split(",")}


def test_every_word_of_the_trade_is_a_kind_and_no_other() -> None:
    assert set(KINDS) == words()


@pytest.mark.parametrize(
    ("count", "kind", "told"),
    [
        (1, "socket", "1 socket"),
        (14, "socket", "14 sockets"),
        (2, "combination wrench", "2 combination wrenches"),
        (3, "punch", "3 punches"),
        (2, "hex key", "2 hex keys"),
        (1, "snips", "1 snips"),
        (2, "diagonal cutters", "2 diagonal cutters"),
        (2, "magnetic pick-up", "2 magnetic pick-ups"),
        (2, "other", "2 other"),
        (2, "cased", "2 cased"),
    ],
)
def test_many_tools_of_a_kind_are_told_in_the_plural(count: int, kind: str, told: str) -> None:
    assert counted_kind(count, kind) == told


def test_every_kind_has_a_plural_of_english() -> None:
    """By rule: -ch takes -es, what ends in -s stays, all others take -s but knife."""
    assert counted_kind(2, "knife") == "2 knives"
    for kind in set(KINDS) - {"other", "cased", "knife"}:
        plural = counted_kind(2, kind).removeprefix("2 ")
        assert plural == (kind if kind.endswith("s") else kind + ("es" if kind.endswith("ch") else "s"))


def test_every_kind_has_a_rule_in_both_systems() -> None:
    assert set(RULES) == set(INCH_RULES) == set(KINDS)


def test_the_default_groups_know_every_kind_that_goes_into_foam() -> None:
    text = (files("matcher.house") / "defaults" / "groups.csv").read_text(encoding="utf-8")
    grouped = {kind.strip() for row in csv.DictReader(text.splitlines()) for kind in row["kinds"].split(";")}
    assert grouped - {"other", "cased"} == set(KINDS) - {"other", "cased"}


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.word)
def test_what_a_kind_needs_is_enough(kind: Kind) -> None:
    assert sized(a_piece(kind.word)).length > 0


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.word)
def test_without_what_a_kind_needs_the_column_is_named(kind: Kind) -> None:
    piece = Piece("set", "tool", kind.word, 1)
    for need in kind.needs:
        columns = need.split(" or ")
        without = replace(a_piece(kind.word), **{column: getattr(piece, column) for column in columns})
        with pytest.raises(SizingError) as refused:
            sized(without)
        assert refused.value.column in columns


@pytest.mark.parametrize(
    ("kind", "size"),
    [
        ("bit socket", "T30"),
        ("bit socket", "6"),
        ("socket", "13"),
        ("socket", "5.5"),
        ("socket", "3/8"),
        ("hex key", "2.5"),
        ("hex key", "0.028"),
        ("socket", "0.5"),
    ],
)
def test_a_size_that_says_its_system_needs_none(kind: str, size: str) -> None:
    assert sized(Piece("set", "tool", kind, 1, size=size, drive="3/8")).rank > 0


@pytest.mark.parametrize(("kind", "size"), [("socket", "1"), ("socket", "3.5"), ("hex key", "0.9")])
def test_a_size_that_may_be_either_asks_for_the_system(kind: str, size: str) -> None:
    """A plain 1 may be a socket of an inch, 0.9 a key of 0.9 mm or of a decimal inch."""
    with pytest.raises(SizingError, match="metric or inch") as refused:
        sized(Piece("set", "tool", kind, 1, size=size, drive="1/4"))
    assert refused.value.column == "system"


def test_only_short_pieces_stand_on_end() -> None:
    """Common practice, no source: sockets and bits stand, handles and wrenches lie."""
    standing = {kind.word for kind in KINDS.values() if kind.stands}
    assert {"socket", "deep socket", "impact socket", "bit socket", "insert bit"} <= standing
    assert not {"ratchet", "combination wrench", "screwdriver", "hex key", "cased"} & standing


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("Sockets", "socket"),
        ("combination wrenches", "combination wrench"),
        ("hexkey", "hex key"),
        ("plyers", "combination pliers"),
        ("rachet", "ratchet"),
        ("ball peen hammer", "ball-peen hammer"),
        ("adjustable spanner", "adjustable wrench"),
        ("ring spanner", "double box wrench"),
        ("water pump plier", "water-pump pliers"),
        ("crowbar", "pry bar"),
        ("driver", "screwdriver"),
        ("side cutters", "diagonal cutters"),
        ("extension bar", "extension"),
        ("star key", "hexalobular key"),
        ("tin snips", "snips"),
    ],
)
def test_the_kind_that_is_meant_is_among_the_three_offered(word: str, meant: str) -> None:
    offered = kinds_like(word)
    assert len(set(offered)) == 3
    assert meant in offered


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("torque driver", "torque screwdriver"),
        ("socket wrench", "ratchet"),
        ("line wrench", "flare-nut wrench"),
        ("obstruction wrench", "half-moon wrench"),
        ("circlip pliers", "snap-ring pliers"),
        ("tongue and groove pliers", "water-pump pliers"),
        ("needle nose pliers", "long-nose pliers"),
        ("left aviation snips", "left-cut snips"),
        ("aviation snips left", "left-cut snips"),
        ("tin snips right", "right-cut snips"),
        ("soft face hammer", "soft-face hammer"),
        ("mallet hammer", "mallet"),
        ("claw hammer", "hammer"),
        ("die wrench", "die stock"),
        ("tapwrench", "tap wrench"),
        ("pitch gauge", "thread gauge"),
        ("feeler gage", "feeler gauge"),
        ("hex wrench", "hex key"),
        ("long arm hex key", "long-arm hex key"),
        ("wobble socket", "universal-joint socket"),
        ("impact swivel", "swivel impact socket"),
        ("extension bar", "extension"),
        ("bolt extractor", "screw extractor"),
        ("putty knife", "scraper"),
        ("utility knife", "knife"),
        ("drift", "punch"),
        ("saw", "hacksaw"),
        ("torch", "flashlight"),
    ],
)
def test_what_the_trade_calls_a_kind_besides_is_known(word: str, meant: str) -> None:
    """Common practice, no source."""
    assert kinds_like(word)[0] == meant


def test_a_bare_head_noun_offers_the_common_kinds_of_it() -> None:
    assert kinds_like("wrench") == ("combination wrench", "open-end wrench", "adjustable wrench")


@pytest.mark.parametrize("kind", list(KINDS))
def test_a_kind_spelled_with_capitals_and_in_the_plural_is_offered_first(kind: str) -> None:
    if kind not in ("other", "cased"):
        assert kinds_like(counted_kind(2, kind).removeprefix("2 ").upper())[0] == kind


def test_an_unknown_kind_is_refused_with_the_nearest() -> None:
    with pytest.raises(SizingError, match="nearest: socket, ") as refused:
        sized(Piece("set", "tool", "sockte", 1, length=mm(1), width=mm(1), height=mm(1)))
    assert refused.value.column == "kind"
