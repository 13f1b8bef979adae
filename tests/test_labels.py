"""What is written beside pockets, and where: common practice, no source."""

from __future__ import annotations

from dataclasses import replace

from matcher.layout.cutouts import Ring
from matcher.layout.labels import HEIGHTS, labelled
from matcher.records.given import Piece
from matcher.records.laid_out import Label, Layout, Notch, Pocket, SizedPiece
from matcher.report.drawing import organizer_svg
from tests.cutting_cases import NOTCHED, ROUNDED, tools
from tests.cutting_cases import placement as placed
from tests.pieces import made, mm


def ring(left: float, front: float, width: float, depth: float) -> Ring:
    right, back = mm(left + width), mm(front + depth)
    return (mm(left), mm(front)), (right, mm(front)), (right, back), (mm(left), back)


def written(rings: list[Ring], pieces: list[SizedPiece], *notches: Ring, margin: float = 12) -> tuple[Label, ...]:
    """Labels of pockets in a field of 300 x 200 mm."""
    pockets = tuple(Pocket(n, outline, mm(10), mm(16)) for n, outline in enumerate(rings))
    cut = tuple(Notch(notch, mm(10), (0,)) for notch in notches)
    return labelled(Layout(mm(300), mm(200), mm(20), pockets, notches=cut), pieces, mm(margin)).labels


def test_a_pocket_tells_the_size_else_the_drive_else_the_name() -> None:
    assert Piece("set", "socket 13", "socket", 1, size="13", drive="1/2").mark == "13"
    assert Piece("set", "ratchet 1/2", "ratchet", 1, drive="1/2").mark == "1/2"
    assert Piece("set", "scriber", "other", 1).mark == "scriber"


def test_like_tools_lying_crosswise_are_written_at_the_same_end() -> None:
    """A notch runs across the middle of some of them only; sizes stay beside the end where all begin."""
    rings = [ring(0, 30 * n, 90 + 35 * n, 15) for n in range(6)]
    labels = written(rings, [made("wrench", n + 8) for n in range(6)], ring(80, 0, 28, 170))
    assert {label.x < 0 for label in labels} == {True}
    assert {(label.upright, label.height) for label in labels} == {(False, HEIGHTS[0])}
    assert [label.y for label in labels] == [mm(30 * n + 7.5) for n in range(6)]


def test_tools_standing_in_a_row_are_written_in_front_of_their_feet() -> None:
    """A head that is wider on one side does not draw the writing away from the foot."""
    foot, width, back = mm(20), mm(60), mm(120)
    rings: list[Ring] = [
        tuple((x + mm(100 * n), y) for x, y in ((0, 0), (foot, 0), (foot, mm(80)), (width, back), (0, back)))
        for n in range(3)
    ]
    labels = written(rings, [made("caliper", 150) for _ in rings])
    assert [label.x for label in labels] == [mm(100 * n + 10) for n in range(3)]
    assert {label.y < 0 for label in labels} == {True}
    assert not any(label.upright for label in labels)


def test_writing_stays_out_of_a_gap_between_handles() -> None:
    """Three characters go between handles 20 mm apart; in front of both they are told from afar."""
    x = [mm(value) for value in (0, 15, 35, 50)]
    front, gap, back = 0, mm(60), mm(160)
    pliers: Ring = (
        (x[0], front),
        (x[1], front),
        (x[1], gap),
        (x[2], gap),
        (x[2], front),
        (x[3], front),
        (x[3], back),
        (x[0], back),
    )
    (label,) = written([pliers], [made("pliers", 160)])
    assert (label.x, label.upright) == (mm(25), False)
    assert label.y + label.height // 2 < 0


def test_a_long_name_goes_along_its_tool() -> None:
    """Twenty characters are 65 mm, far wider than the tool, and shorter than it is long."""
    named = made("other", 0)
    named = replace(named, piece=replace(named.piece, tool="spring divider 150mm", size=""))
    (label,) = written([ring(100, 20, 20, 150)], [named])
    assert label.upright
    assert label.on_foam


def test_equipment_in_its_case_is_written_on_the_case() -> None:
    case = made("cased", 0, 200, 100, 50)
    (label,) = written([ring(0, 0, 100, 200)], [case], margin=0)
    assert (label.x, label.y, label.on_foam) == (mm(50), mm(100), False)


def test_a_drawing_shows_no_foam_round_cases() -> None:
    placement, wrenches = placed(laid=NOTCHED), tools(count=2)
    assert '<rect class="foam"' in organizer_svg(wrenches, placement, ROUNDED)
    assert '<rect class="foam"' not in organizer_svg(replace(wrenches, cased=True), placement, ROUNDED)
