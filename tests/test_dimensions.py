"""Dimensions agree with the published series, what the catalogue gives wins, and the basis is honest."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise
from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.records.given import Piece
from matcher.records.laid_out import SizedPiece
from matcher.records.units import inch, mm, to_mm
from matcher.records.words import System
from matcher.tools.dimensions import sized
from matcher.tools.kinds import KINDS
from matcher.tools.notation import SizingError
from matcher.tools.series import DRIVES, across, inch_opening
from matcher.tools.wrench_rules import box_ring
from tests.tool_pieces import DRIVES as DRIVE_NAMES
from tests.tool_pieces import a_piece, sizes_of

GRID = 1 / 320  # mm: lengths are rounded up to this


def piece(kind: str, size: str, drive: str = "", system: System = "metric") -> SizedPiece:
    return sized(Piece("set", "tool", kind, 1, system=system, size=size, drive=drive))


def feature(tool: SizedPiece, name: str) -> float:
    return to_mm(dict(tool.features)[name])


# ------------------------------------------------------------------------------------------ checks from the standards


@pytest.mark.parametrize(
    ("s", "long", "short"),
    [("5", 85, 33), ("10", 122, 50), ("2.5", 58.5, 20.5), ("17", 177, 80), ("19", 199, 89)],
)
def test_metric_hex_keys(s: str, long: float, short: float) -> None:
    """ISO 2936, arms l1 and l2, read at second hand."""
    key = piece("hex key", s)
    assert (key.length, key.width) == (mm(long), mm(short))
    assert key.basis == "from standard"
    assert "ISO 2936" in key.source


@pytest.mark.parametrize(
    ("s", "e"),
    [(1.5, 1.68), (2, 2.25), (2.5, 2.82), (3, 3.39), (4, 4.53), (5, 5.67), (6, 6.81), (8, 9.09), (10, 11.37)],
)
def test_metric_hex_keys_across_corners(s: float, e: float) -> None:
    """ISO 2936, e max, read at second hand; a key on its side is as high as it is across corners."""
    assert to_mm(piece("hex key", f"{s:g}").height) == pytest.approx(e, abs=0.005)


@pytest.mark.parametrize(("w", "c", "b"), [("1/4", 3.344, 1.219), ("3/8", 4.344, 1.469)])
def test_inch_hex_keys(w: str, c: float, b: float) -> None:
    """ASME B18.3, arms C and B of the short-arm series, read at second hand."""
    key = piece("hex key", w, system="inch")
    assert to_mm(key.length) == pytest.approx(25.4 * c, abs=GRID)
    assert to_mm(key.width) == pytest.approx(25.4 * b, abs=GRID)
    assert key.basis == "from standard"


def test_inch_hex_keys_across_corners_and_along_the_series() -> None:
    """ASME B18.3: Y of 1/4 is .2845 in; C = 8 W + 1.344 within 0.006 in over the series (read at second hand)."""
    assert to_mm(piece("hex key", "1/4", system="inch").height) == pytest.approx(25.4 * 0.2845, abs=GRID)
    for sixty_fourths in (4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 20, 24, 28, 32, 36, 40, 48):
        w = sixty_fourths / 64
        assert to_mm(piece("hex key", str(w), system="inch").length) / 25.4 == pytest.approx(8 * w + 1.344, abs=0.0062)


@pytest.mark.parametrize(
    ("w", "c", "b"),
    [("0.028", 1.312, 0.312), ("0.035", 1.312, 0.438), ("7/8", 8.344, 2.469), ("1", 9.344, 2.719), ("2", 17.5, 4.75)],
)
def test_the_smallest_and_largest_inch_hex_keys_are_known_from_memory_and_say_so(w: str, c: float, b: float) -> None:
    """ASME B18.3, arms C and B, from memory: no such page was seen, so that nothing of them is from standard."""
    key = piece("hex key", w, system="inch")
    assert to_mm(key.length) == pytest.approx(25.4 * c, abs=GRID)
    assert to_mm(key.width) == pytest.approx(25.4 * b, abs=GRID)
    assert key.basis == "estimated"
    assert "ASME B18.3 hex keys, from memory" in key.source
    assert piece("long-arm hex key", w, system="inch").basis == "estimated"


def test_every_inch_hex_key_of_the_standard_is_known() -> None:
    """ASME B18.3, sizes from 0.028 to 2 in; those from 0.050 to 3/4 in were read, the others are from memory."""
    sizes = (
        "0.028 0.035 0.050 1/16 5/64 3/32 7/64 1/8 9/64 5/32 3/16 7/32 1/4 5/16 3/8 7/16 1/2 9/16 5/8 3/4 7/8 "
        "1 1-1/4 1-1/2 1-3/4 2"
    )
    keys = [piece("hex key", size, system="inch") for size in sizes.split()]
    assert all(one.length <= other.length and one.width < other.width for one, other in pairwise(keys))
    assert [key.basis for key in keys] == 2 * ["estimated"] + 18 * ["from standard"] + 6 * ["estimated"]


@pytest.mark.parametrize(
    ("s", "least"),
    [(10, 110), (13, 135), (19, 185), (24, 230), (30, 285), (36, 335), (41, 380), (46, 425), (50, 460)],
)
def test_combination_wrenches_are_not_shorter_than_the_medium_series(s: int, least: int) -> None:
    """ISO 7738:2015 Table 1, medium series, read at second hand."""
    for kind in ("combination wrench", "ratcheting wrench", "flex-head ratcheting wrench"):
        assert piece(kind, str(s)).length >= mm(least)


@pytest.mark.parametrize(("s", "most"), [(10, 109), (13, 134), (19, 184)])
def test_a_stubby_wrench_pocket_takes_the_longest_of_the_short_series(s: int, most: int) -> None:
    """ISO 7738:2015 Table 1, short series, read at second hand; a pocket may be longer, by 5 mm at most."""
    assert mm(most) <= piece("stubby combination wrench", str(s)).length <= mm(most + 5)


@pytest.mark.parametrize(("s", "head"), [(10, 28.0), (19, 46.9), (13, 2.1 * 13 + 7), (32, 2.1 * 32 + 7)])
def test_open_end_heads(s: int, head: float) -> None:
    """ISO 3318:2016, greatest head width 2.1 s + 7, read at second hand."""
    for kind, size in (("combination wrench", f"{s}"), ("open-end wrench", f"{s - 1}x{s}")):
        assert to_mm(piece(kind, size).width) == pytest.approx(head, abs=GRID)


HAND_ROOM = {
    5.5: 11,
    7: 13,
    8: 15,
    10: 18,
    13: 24,
    16: 28,
    18: 33,
    21: 36,
    24: 40,
    27: 43,
    30: 46,
    34: 54,
    36: 58,
    41: 61,
}
IMPACT_ROOM = {10: 20, 13: 26, 16: 33, 18: 36, 21: 43, 24: 46, 27: 50, 30: 54, 34: 61, 36: 73}


@pytest.mark.parametrize(
    ("kind", "drive", "room", "least", "most"),
    [
        ("socket", "1/4", HAND_ROOM, 5.5, 19),
        ("socket", "3/8", HAND_ROOM, 5.5, 19),
        ("socket", "1/2", HAND_ROOM, 10, 32),
        ("socket", "3/4", HAND_ROOM, 19, 41),
        ("impact socket", "1/2", IMPACT_ROOM, 10, 27),
        ("impact socket", "3/4", IMPACT_ROOM, 18, 36),
    ],
)
def test_sockets_enter_the_counterbores_made_for_them(
    kind: str, drive: str, room: dict[float, int], least: float, most: float
) -> None:
    """DIN 974-2 counterbore diameters, rows 1 and 2, read at second hand: the nut end d1 must go in."""
    tried = [s for s in room if least <= s <= min(most, DRIVES[drive].largest)]
    assert len(tried) > 3
    for s in tried:
        assert feature(piece(kind, f"{s:g}", drive), "nut end") <= room[s]


@pytest.mark.parametrize(("w", "diameter"), [(1 / 2, 25.4 * 0.775), (3 / 4, 25.4 * 1.125)])
def test_box_rings(w: float, diameter: float) -> None:
    """US Commercial Item Description A-A-1346A, page 2, read at second hand: 0.775 and 1.125 in."""
    assert box_ring(25.4 * w) == pytest.approx(diameter, abs=0.2)


@pytest.mark.parametrize(("w", "least", "greatest"), [(0.5, 0.504, 0.510), (0.75, 0.755, 0.763), (1, 1.006, 1.015)])
def test_inch_openings(w: float, least: float, greatest: float) -> None:
    """ASME B18.2.2 appendix (Machinery's Handbook, 31st ed., p. 1688), inches."""
    assert [limit / 25.4 for limit in inch_opening(25.4 * w)] == pytest.approx([least, greatest], abs=0.001)


def test_the_mouth_of_an_inch_wrench_is_not_drawn_wider_than_its_least_opening() -> None:
    """ASME B18.2.2 appendix: 3/4 opens 0.755 in at least."""
    wrench = piece("combination wrench", "3/4", system="inch")
    assert feature(wrench, "opening") / 25.4 == pytest.approx(0.755, abs=0.001)


@pytest.mark.parametrize(("number", "a"), [(6, 1.75), (10, 2.80), (25, 4.50), (40, 6.75)])
def test_hexalobular_sizes(number: int, a: float) -> None:
    """ISO 10664, point to point A, read at second hand."""
    assert across("T", number) == a


@pytest.mark.parametrize(
    ("bolt", "size", "system", "units"),
    [
        ("M6", "10", "metric", 3200),
        ("M8", "13", "metric", 4160),
        ("M10", "16", "metric", 5120),
        ("M12", "18", "metric", 5760),
        ("M16", "24", "metric", 7680),
        ("M20", "30", "metric", 9600),
        ("M24", "36", "metric", 11520),
        ("1/4", "7/16", "inch", 3556),
        ("1/2", "3/4", "inch", 6096),
    ],
)
def test_there_is_a_wrench_and_a_socket_for_standard_bolts(bolt: str, size: str, system: System, units: int) -> None:
    """Flats of ISO 4014 (M6 to M24) and of ASME B18.2.1 (1/4 and 1/2 in): units are s x 320, or inches x 8128."""
    assert piece("combination wrench", size, system=system).rank == units
    assert piece("socket", size, "1/2", system).rank == units


# -------------------------------------------------------------------------------------------------------- properties


def metric_series(drive: str) -> Iterator[int]:
    return iter(range(int(DRIVES[drive].smallest), int(DRIVES[drive].largest) + 1))


@pytest.mark.parametrize("drive", DRIVE_NAMES)
@pytest.mark.parametrize("kind", ["socket", "deep socket", "impact socket", "deep impact socket"])
def test_sockets_hold_their_hexagon_and_grow_with_it(kind: str, drive: str) -> None:
    """A hexagon is 2/sqrt(3) of its flats across corners: plain geometry."""
    series = [(s, piece(kind, str(s), drive)) for s in metric_series(drive)]
    for s, socket in series:
        assert feature(socket, "nut end") > 2 / sqrt(3) * s
        assert socket.diameter == max(socket.width, socket.height)
        assert to_mm(socket.width) >= DRIVES[drive].square
    for (_, smaller), (_, larger) in pairwise(series):
        assert smaller.rank < larger.rank
        assert smaller.length <= larger.length
        assert smaller.width <= larger.width


@given(st.integers(min_value=30, max_value=850))
def test_box_ends_hold_their_hexagon(tenths: int) -> None:
    for kind in ("combination wrench", "ratcheting wrench"):
        wrench = piece(kind, f"{tenths / 10:g}")
        assert feature(wrench, "box") > 2 / sqrt(3) * tenths / 10
        assert feature(wrench, "box") <= to_mm(wrench.width)


@pytest.mark.parametrize("kind", sorted(kind.word for kind in KINDS.values() if kind.form in ("flats", "two flats")))
def test_larger_sizes_are_never_smaller(kind: str) -> None:
    if kind.endswith("hex key"):
        sizes = ["1.5", "2", "2.5", "3", "4", "5", "6", "8", "10", "12", "14", "17"]
    else:
        sizes = [f"{s}x{s + 1}" if KINDS[kind].form == "two flats" else str(s) for s in range(6, 30)]
    pieces = [sized(replace(a_piece(kind), size=size)) for size in sizes]
    for smaller, larger in pairwise(pieces):
        assert smaller.length <= larger.length
        assert smaller.width <= larger.width
        assert smaller.height <= larger.height
        assert smaller.rank <= larger.rank


def test_deep_sockets_are_longer_and_impact_sockets_wider() -> None:
    for drive in DRIVE_NAMES:
        for s in metric_series(drive):
            plain, deep, impact = (piece(kind, str(s), drive) for kind in ("socket", "deep socket", "impact socket"))
            assert plain.length <= deep.length
            assert plain.width == deep.width <= impact.width


@pytest.mark.parametrize("kind", list(KINDS))
@settings(max_examples=20, deadline=None)
@given(data=st.data())
def test_what_is_given_wins_dimension_by_dimension(kind: str, data: st.DataObject) -> None:
    lengths = st.integers(min_value=1, max_value=mm(2000))
    given_lengths = data.draw(st.dictionaries(st.sampled_from(("length", "width", "height", "mass")), lengths))
    size, drive = data.draw(st.sampled_from(sizes_of(kind))), data.draw(st.sampled_from(DRIVE_NAMES[1:4]))
    try:
        tool = sized(a_piece(kind, size, drive, **given_lengths))
    except SizingError:
        assert len(given_lengths) < 4  # a size outside the drive's series, with a dimension left to the rules
        return
    for axis in {"length", "width", "height"} & given_lengths.keys():
        assert getattr(tool, axis) == given_lengths[axis]
    if "mass" in given_lengths:
        assert tool.mass_low == tool.mass_high == given_lengths["mass"]
    assert 0 < tool.mass_low <= tool.mass_high
    assert min(tool.length, tool.width, tool.height) > 0
    assert all(length > 0 for _, length in tool.features)
    if {"length", "width", "height"} <= given_lengths.keys():
        assert tool.basis == "measured"


def test_the_basis_is_the_worst_of_the_dimensions() -> None:
    key = a_piece("hex key", "5")
    assert sized(key).basis == "from standard"
    assert sized(replace(key, length=mm(85))).basis == "from standard"
    wrench = a_piece("combination wrench", "13", length=mm(170), width=mm(30))
    assert sized(wrench).basis == "estimated"  # its thickness is from memory
    assert sized(replace(wrench, height=mm(9))).basis == "measured"


def test_a_round_piece_is_measured_by_length_and_diameter() -> None:
    socket = sized(a_piece("socket", "13", "1/2", length=mm(40), width=mm(22)))
    assert (socket.width, socket.height, socket.diameter) == (mm(22), mm(22), mm(22))
    assert socket.basis == "measured"


def test_remembered_and_practice_values_are_called_so() -> None:
    assert "from memory" in piece("socket", "13", "1/2").source
    assert "common practice, no source" in sized(a_piece("torque wrench")).source
    for kind in KINDS:
        tool = sized(a_piece(kind))
        told = any(word in tool.source for word in ("from memory", "common practice, no source"))
        assert told == (tool.basis == "estimated")


def test_a_measured_head_scales_what_is_drawn_from_it() -> None:
    full = sized(a_piece("combination wrench", "13"))
    slim = sized(a_piece("combination wrench", "13", width=full.width // 2))
    assert feature(slim, "box") == pytest.approx(feature(full, "box") / 2, rel=0.01)


def test_lengths_are_rounded_up_to_the_grid() -> None:
    assert piece("hex key", "1/4", system="inch").length == inch(3.344)  # 27180.03 units, so 27181
    assert inch(3.344) > 3.344 * 8128


ISO_1085 = (
    "4x5 5x5.5 5.5x7 6x7 7x8 8x9 8x10 9x11 10x11 10x12 10x13 11x13 12x13 12x14 13x14 13x15 13x16 13x17 14x15 14x17 "
    "16x17 16x18 17x19 18x19 18x21 19x22 20x22 21x23 21x24 22x24 24x27 25x28 24x30 27x30 27x32 30x32 30x36 32x36 36x41 "
    "41x46 46x50 50x55 55x60"
)


@pytest.mark.parametrize("size", ISO_1085.split())
def test_every_pair_of_openings_is_a_double_ended_wrench(size: str) -> None:
    """ISO 1085 pairs, from memory: no page of it was seen."""
    small, large = size.split("x")
    kinds = [kind.word for kind in KINDS.values() if kind.form == "two flats"]
    assert len(kinds) == 6
    for kind in kinds:
        if kind == "ignition wrench" and float(large) > 36:
            continue
        wrench = piece(kind, size)
        assert piece(kind, f"{large} x {small}").length == wrench.length
        for opening, flats in (("opening", large), ("small opening", small)):
            slot = 0.6 if kind == "flare-nut wrench" else 1.0
            assert feature(wrench, opening) == pytest.approx(slot * float(flats), abs=0.01)


# ---------------------------------------------------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("kind", "size", "drive", "system", "column", "expected"),
    [
        ("socket", "32", "1/4", "metric", "size", "from 3 to 17 mm on a 1/4 drive"),
        ("impact socket", "10", "3/4", "metric", "size", "from 12 to 80 mm"),
        ("hex key", "5.2", "", "metric", "size", "arms are known here, 0.7 to 36"),
        ("hex key", "13/16", "", "inch", "size", "arms are known here, 0.028 to 2 in"),
        ("combination wrench", "150", "", "metric", "size", "from 3 to 85 mm"),
        ("combination pliers", "20", "", "", "size", "from 80 to 500 mm"),
        ("hexalobular key", "T11", "", "", "size", "a size T of"),
        ("screwdriver", "PH9", "", "", "size", "a size PH of 0, 1, 2, 3, 4"),
        ("socket", "13", "", "metric", "drive", "a drive, which a socket needs"),
        ("socket", "13", "5/8", "metric", "drive", "1/4, 3/8, 1/2, 3/4 or 1"),
        ("ratchet", "", "", "", "drive", "a drive"),
        ("adapter", "2", "3/8", "", "size", "the other end's drive"),
    ],
)
def test_sizes_outside_their_series(
    kind: str, size: str, drive: str, system: System, column: str, expected: str
) -> None:
    with pytest.raises(SizingError) as refused:
        piece(kind, size, drive, system)
    assert refused.value.column == column
    assert expected in refused.value.expected


def test_a_size_outside_its_series_is_welcome_once_it_is_measured() -> None:
    odd = a_piece("combination wrench", "150", length=mm(900), width=mm(300), height=mm(60))
    assert sized(odd).basis == "measured"
    assert sized(a_piece("hex key", "5.2", length=mm(85), width=mm(33), height=mm(6))).rank == mm(Decimal("5.2"))


@pytest.mark.parametrize(
    ("kind", "size", "system"),
    [
        ("hexalobular key", "T11", ""),
        ("hexalobular key", "T47", ""),
        ("hex key", "0.028", "inch"),
        ("hex key", "0.032", "inch"),
        ("hex key", "7/8", "inch"),
        ("screwdriver", "PH5", ""),
    ],
)
def test_any_size_is_taken_where_its_sizes_are_given(kind: str, size: str, system: System) -> None:
    whole = Piece("set", "tool", kind, 1, system, size, length=mm(100), width=mm(20), height=mm(5))
    tool = sized(whole)
    assert tool.basis == "measured"
    assert 0 < tool.mass_low < tool.mass_high


@pytest.mark.parametrize("number", [*range(1, 11), 15, 20, 25, 27, 30, 35, 40, 45, 47, 50, 55, 60, 70, 80, 90, 100])
def test_every_hexalobular_size_of_the_trade_has_a_key(number: int) -> None:
    """Common practice, no source."""
    assert sized(Piece("set", "tool", "hexalobular key", 1, size=f"T{number}")).length > 0


@pytest.mark.parametrize(("size", "low", "high"), [("10", 125, 160), ("13", 160, 180), ("19", 225, 245)])
def test_likely_lengths_of_combination_wrenches_lie_well_among_real_ones(size: str, low: float, high: float) -> None:
    """What common wrenches measure, common practice, no source; the bounds of the rule hold all of them."""
    tool = sized(Piece("set", "tool", "combination wrench", 1, size=size))
    assert tool.spread is not None
    assert low < to_mm(tool.spread.length.likely) < high
    assert to_mm(tool.spread.length.low) < low
    assert to_mm(tool.spread.length.high) > high


def test_an_impact_socket_is_as_wide_at_its_drive_end_as_impact_drives_ask_for() -> None:
    """Small impact sockets are wider than hand ones of their drive."""
    pair = [sized(Piece("set", "tool", kind, 1, size="10", drive="1/2")) for kind in ("socket", "impact socket")]
    assert [to_mm(one.width) for one in pair] == [24, 30]
