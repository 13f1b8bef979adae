"""Screening: the same verdicts and figures as planning each pair, by proofs, for any crew and after any stop."""

from __future__ import annotations

import csv
import os
import stat
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from itertools import islice
from pathlib import Path

import pyarrow.parquet as pq
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matcher.fitting.room_left import least_trimmed
from matcher.planning.answering import plan
from matcher.planning.outcome import Fits
from matcher.records.errors import UnknownNameError, UsageError
from matcher.records.given import Catalogue, GroupRule, Obstruction, Pin
from matcher.records.units import kg, mm
from matcher.report.pair_files import pairs_frame, rows_of, screened
from matcher.report.parts import Parts
from matcher.screening import book
from matcher.screening.crews import Crew
from matcher.screening.fitting import KINDS, FitTable, row_bytes, row_from
from matcher.screening.pairs import Pair
from matcher.screening.sweep import screen, sweep, swept
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer, piece
from tests.cluster import cluster
from tests.screening_cases import generated

PLAIN = replace(HOUSE, goals=replace(HOUSE.goals, off=("order", "neighbors", "recut", "reach")))


def agrees(pair: Pair, known: Catalogue) -> None:
    """The pair says what the checked plan of the whole model says."""
    outcome = plan(known, PLAIN, pair.set, pair.cabinet)
    assert pair.verdict == outcome.verdict, pair
    if not isinstance(outcome, Fits):
        assert pair.figures is None
        assert pair.scope == outcome.reasons[0].scope
        assert pair.reasons
        assert pair.reasons == outcome.reasons
        return
    figures = pair.figures
    assert figures is not None
    assert (figures.fewest_free, figures.fewest_free_proved) == (outcome.fewest_free, outcome.free_proved[1])
    assert figures.most_free <= outcome.most_free <= figures.most_free_bound
    assert sum(count for _, count in figures.hows) == len(outcome.plan.placements)


@settings(max_examples=12, deadline=None, derandomize=True)
@given(st.integers(0, 10_000))
def test_generated_pairs_agree_with_the_plan(seed: int) -> None:
    known = generated(2, 3, seed=seed, share=0.5, drawn=0.05)
    for pair in screen(known, HOUSE):
        agrees(pair, known)


def test_pairs_decided_in_every_way_agree_with_the_plan() -> None:
    """Six trays: in a cabinet of six, of five where two are narrow enough for a row, of four, and of low drawers."""
    trays = [organizer(f"tray {n}", 540 if n else 200, 380, 50, set_name="set") for n in range(5)]
    trays.append(organizer("tray 5", 300, 380, 50, set_name="set"))
    rules = tuple(GroupRule(f"tray {n}", "trays", n + 1, share=True) for n in range(6))
    tall = [cabinet(*(drawer(str(row), 1, row) for row in range(n)), name=f"of {n}") for n in (6, 5, 4)]
    low = cabinet(*(drawer(str(row), 1, row, height=40) for row in range(9)), name="low")
    known = catalogue((), trays, (*tall, low), group_rules=rules)
    found = {pair.cabinet: pair for pair in screen(known, HOUSE)}
    for pair in found.values():
        agrees(pair, known)
    assert {name: (pair.verdict, pair.decided_by) for name, pair in found.items()} == {
        "of 6": ("fits", "matching"),
        "of 5": ("fits", "rows"),
        "of 4": ("does not fit", "model"),
        "low": ("does not fit", "model"),
    }


@pytest.mark.parametrize(
    "pin",
    [Pin("in", group="tray", drawer="2"), Pin("keep free", row=1), Pin("not in", "set", "cabinet", "tray", row=2)],
)
def test_pins_hold_in_screening_too(pin: Pin) -> None:
    drawers = [drawer("1", 1, 1), drawer("2", 1, 2, height=60 if pin.rule == "in" else 100)]
    known = catalogue((), [organizer("tray")], [cabinet(*drawers)], pins=(pin,))
    (pair,) = screen(known, HOUSE)
    agrees(pair, known)
    blocked = catalogue((), [organizer("tray")], [cabinet(*drawers)], pins=(Pin("keep free", bank=1),))
    (pair,) = screen(blocked, HOUSE)
    agrees(pair, blocked)
    assert pair.verdict == "does not fit"


def test_the_figures_of_a_single_placement_are_those_of_its_plan() -> None:
    """Alone in one drawer there is nothing to choose, so clearance, load and way in must be the plan's."""
    block = Obstruction(mm(300), 0, mm(260), mm(80), mm(50))
    boxes = [
        drawer("1"),
        drawer("1", width=530, depth=384, load_rating=kg(8)),
        drawer("1", width=640, depth=450, corner_radius=mm(20)),
        drawer("1", width=900, depth=600, obstructions=(block,)),
    ]
    ready = organizer("tray", field_width=mm(400), field_depth=mm(300), mass=kg(2))
    blocks = [piece(f"block {n}", 120 + n, 40, 30, 2, group="blocks", set="set") for n in range(3)]
    for box in boxes:
        for known in (catalogue((), [ready], [cabinet(box)]), catalogue(blocks, (), [cabinet(box)])):
            (pair,) = screen(known, HOUSE)
            outcome = plan(known, HOUSE, "set", "cabinet")
            assert pair.figures is not None
            assert isinstance(outcome, Fits)
            assert pair.figures.tightest == outcome.margins[0].tightest
            assert dict(pair.figures.hows) == Counter(placement.how for placement in outcome.plan.placements)
            rating, load = box.load_rating, outcome.margins[0].load
            assert pair.figures.load_use == (None if rating is None else pytest.approx(load / rating))


@pytest.mark.parametrize("field", [None, 300, 490])
def test_verdict_margin_and_screening_mean_the_same_least_size(field: int | None) -> None:
    """A drawer of just the least outside and both clearances takes the organizer; one step narrower takes none.

    500 mm wide, trimmed to its field and twice the margin of 12 mm: 324 mm, and never to more than it has (514 mm).
    """
    ready = organizer("tray", 500, 380, 50, field_width=field and mm(field), mass=kg(2))
    least = least_trimmed(ready, HOUSE)
    assert least == (mm({None: 500, 300: 324, 490: 500}[field]), mm(380))
    sides = 2 * HOUSE.clearance.side
    box = replace(drawer("1", height=60), inside_width=least[0] + sides, inside_depth=least[1] + mm(2) + sides)
    known = catalogue((), [ready], [cabinet(box)])
    (pair,) = screen(known, HOUSE)
    (margin,) = plan(known, HOUSE, "set", "cabinet").margins
    assert pair.figures is not None
    assert (pair.figures.tightest, margin.least_width, margin.spare_width) == (0, box.inside_width, 0)
    narrower = replace(known, cabinets=(cabinet(replace(box, inside_width=box.inside_width - 1)),))
    assert [pair.verdict for pair in screen(narrower, HOUSE)] == ["does not fit"]


def test_a_group_too_large_for_any_drawer_is_split_as_the_plan_splits_it() -> None:
    blocks = [
        piece(f"wrench {n}", 150, 30, 10, kind="combination wrench", group="own", system="metric", size=str(8 + n))
        for n in range(12)
    ]
    small = cabinet(*(drawer(str(row), 1, row, 260, 260, liner=mm(row)) for row in range(8)), name="small")
    known = catalogue(blocks, (), [small])
    (pair,) = screen(known, HOUSE)
    agrees(pair, known)
    assert pair.figures is not None
    assert pair.figures.count("new") > 1


def test_unknown_names_are_refused() -> None:
    known = generated(1, 1)
    with pytest.raises(UnknownNameError, match="no set 'x'"):
        sweep(known, HOUSE, ["x"])
    with pytest.raises(UnknownNameError, match="no cabinet 'x'"):
        sweep(known, HOUSE, (), ["x"])


# -------------------------------------------------------------------------------------------------------- many workers


@pytest.mark.slow
def test_results_are_the_same_for_any_crew_even_if_a_worker_is_killed() -> None:
    """A real scheduler with two workers; one is killed once the first block is there."""
    known = generated(40, 30, drawn=0.02)
    here = list(screen(known, HOUSE))
    assert list(screen(known, HOUSE, crew=Crew(2))) == here
    with cluster(2) as running:
        pairs = screen(known, HOUSE, crew=Crew(1, running.address))
        there = [next(pairs)]
        running.workers[1].kill()
        there += pairs
    assert there == here


# --------------------------------------------------------------------------------------------------------------- files


def streamed(known: Catalogue, *paths: Path) -> int:
    """Blocks that came, all of them in order."""
    return sum(1 for _ in screened(sweep(known, HOUSE), paths, Crew()))


def test_csv_and_parquet_hold_the_same_pairs_in_order(tmp_path: Path) -> None:
    known = generated(6, 5)
    table, rows = tmp_path / "pairs.parquet", tmp_path / "pairs.csv"
    assert streamed(known, table, rows) == 6
    pairs = list(screen(known, HOUSE))
    held = pq.read_table(table)
    assert [tuple(row.values()) for row in held.to_pylist()] == rows_of(pairs)
    assert pq.ParquetFile(table).num_row_groups == 6
    read = list(csv.DictReader(rows.read_text().splitlines()))
    assert [(row["set"], row["cabinet"], row["verdict"]) for row in read] == [
        (pair.set, pair.cabinet, pair.verdict) for pair in pairs
    ]
    assert list(pairs_frame(pairs).columns) == list(read[0])
    assert sorted(path.name for path in tmp_path.iterdir()) == ["pairs.csv", "pairs.parquet"]


def left(known: Catalogue, path: Path, blocks: int) -> list[Path]:
    """The parts that a run leaves which was stopped after so many blocks."""
    asked = sweep(known, HOUSE)
    parts = Parts(path, asked.identity(), len(asked.blocks))
    for number, rows in islice(swept(asked, rows_of, Crew()), blocks):
        parts.add(number, rows)
    parts.close()
    return sorted(parts.folder.glob("matcher-[0-9]*"))


def done(known: Catalogue, path: Path) -> set[int]:
    """Blocks that a run started now would not work out again."""
    asked = sweep(known, HOUSE)
    with closing(Parts(path, asked.identity(), len(asked.blocks))) as parts:
        return set(parts.done)


def test_a_stopped_run_goes_on_with_the_blocks_that_are_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Stopped in the middle of writing the fourth block: three count, and the file is the same in the end."""
    known, path = generated(6, 5), tmp_path / "pairs.csv"
    streamed(known, path)
    whole = path.read_bytes()
    path.unlink()
    written: list[Path] = []
    write_bytes = Path.write_bytes

    def stopping(to: Path, content: bytes) -> int:
        written.append(to)
        if len(written) < 4:
            return write_bytes(to, content)
        write_bytes(to, content[: len(content) // 2])
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(Path, "write_bytes", stopping)
        with pytest.raises(KeyboardInterrupt):
            streamed(known, path)
    assert not path.exists()
    (tmp_path / "pairs.csv.parts" / ".matcher-0123abcd.part").write_bytes(b"half, left by a kill")
    assert done(known, path) == {0, 1, 2}
    streamed(known, path)
    assert path.read_bytes() == whole
    assert [path.name for path in tmp_path.iterdir()] == ["pairs.csv"]


def cut_short(part: Path, _: Path) -> None:
    part.write_bytes(part.read_bytes()[:-100])


def changed(part: Path, _: Path) -> None:
    content = bytearray(part.read_bytes())
    content[len(content) // 2] ^= 1
    part.write_bytes(content)


def emptied(part: Path, _: Path) -> None:
    part.write_bytes(b"")


def swapped(part: Path, other: Path) -> None:
    one = part.read_bytes()
    part.write_bytes(other.read_bytes())
    other.write_bytes(one)


def copied(part: Path, other: Path) -> None:
    other.write_bytes(part.read_bytes())


def lengthened(part: Path, _: Path) -> None:
    part.write_bytes(part.read_bytes() * 2)


def made_a_folder(part: Path, _: Path) -> None:
    part.unlink()
    part.mkdir()


def removed(part: Path, _: Path) -> None:
    part.unlink()


DAMAGES = [cut_short, changed, emptied, swapped, copied, lengthened, made_a_folder, removed]


@pytest.mark.parametrize("stopped", [4, 6])
@pytest.mark.parametrize("damage", DAMAGES)
def test_what_was_damaged_is_worked_out_anew(
    tmp_path: Path, damage: Callable[[Path, Path], None], stopped: int
) -> None:
    """Stopped before the last block or while the file was written: it is that of a run that nobody disturbed."""
    known, undisturbed, path = generated(6, 5), tmp_path / "whole.csv", tmp_path / "pairs.csv"
    streamed(known, undisturbed)
    parts = left(known, path, stopped)
    damage(parts[1], parts[2])
    assert done(known, path) < set(range(stopped))
    assert streamed(known, path) == 6
    assert path.read_bytes() == undisturbed.read_bytes()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["pairs.csv", "whole.csv"]


def test_a_part_counts_only_as_it_was_written_byte_for_byte(tmp_path: Path) -> None:
    known, path = generated(1, 2), tmp_path / "pairs.csv"
    (part,) = left(known, path, 1)
    sound = part.read_bytes()
    for place in range(0, len(sound), 61):
        part.write_bytes(sound[:place] + bytes([sound[place] ^ 4]) + sound[place + 1 :])
        assert done(known, path) == set(), place
        part.write_bytes(sound[:place])
        assert done(known, path) == set(), place
    part.write_bytes(sound)
    assert done(known, path) == {0}


def test_a_run_stopped_while_groups_are_laid_out_goes_on_with_those_done(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Stopped at the fourth group: three are kept, are not worked out again, and the file is the same in the end."""
    known, path, whole = generated(6, 5), tmp_path / "pairs.csv", tmp_path / "whole.csv"
    streamed(known, whole)
    genuine, asked = book.row_of, list[int]()

    def stopping(shared: book.Known, group: int) -> FitTable:
        if len(asked) == 3:
            raise KeyboardInterrupt
        asked.append(group)
        return genuine(shared, group)

    def counted(shared: book.Known, group: int) -> FitTable:
        asked.append(group)
        return genuine(shared, group)

    monkeypatch.setitem(swept.__globals__, "row_of", stopping)
    with pytest.raises(KeyboardInterrupt):
        streamed(known, path)
    monkeypatch.setitem(swept.__globals__, "row_of", counted)
    streamed(known, path)
    assert asked == list(range(len(sweep(known, HOUSE).known.groups)))
    assert path.read_bytes() == whole.read_bytes()


def test_ctrl_c_says_that_what_was_done_is_kept(run, folder, tmp_path, monkeypatch) -> None:
    def stopping(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setitem(swept.__globals__, "row_of", stopping)
    path = tmp_path / "pairs.csv"
    code, _, told = run("compare", folder, "--out", path)
    assert code == 130
    assert f"what was done is kept in {path}.parts: the same command goes on from there" in " ".join(told.split())
    assert not path.exists()


def test_a_row_comes_back_from_its_bytes_as_it_was() -> None:
    known = sweep(generated(3, 3), HOUSE).known
    for number in range(len(known.groups)):
        row = book.row_of(known, number)
        again = row_from(row_bytes(row), len(known.drawers))
        for name in KINDS:
            one, two = getattr(row, name), getattr(again, name)
            assert (one == two).all()
            assert one.dtype == two.dtype


def test_a_second_run_on_one_file_is_refused_and_the_first_loses_nothing(tmp_path: Path) -> None:
    known, path = generated(6, 5), tmp_path / "pairs.csv"
    asked = sweep(known, HOUSE)
    first = screened(asked, [path], Crew())
    with closing(Parts(path, asked.identity(), len(asked.blocks))), pytest.raises(UsageError, match="another run is"):
        next(first)
    assert streamed(known, path) == 6
    assert [path.name for path in tmp_path.iterdir()] == ["pairs.csv"]


def test_parts_of_another_run_are_not_taken_up(tmp_path: Path) -> None:
    """Another catalogue, and the same one with another house rule."""
    path, known = tmp_path / "pairs.csv", generated(6, 5)
    left(known, path, 2)
    assert done(known, path) == {0, 1}
    assert done(generated(6, 5, seed=2), path) == set()
    other = replace(HOUSE, clearance=replace(HOUSE.clearance, side=HOUSE.clearance.side + 1))
    asked = sweep(known, other)
    assert Parts(path, asked.identity(), 6).done == set()


def test_a_part_that_goes_missing_in_mid_run_is_told_and_made_by_the_next_run(tmp_path: Path) -> None:
    known, path = generated(6, 5), tmp_path / "pairs.csv"
    left(known, path, 6)
    tables = screened(sweep(known, HOUSE), [path], Crew())
    next(tables)
    changed(tmp_path / "pairs.csv.parts" / "matcher-000004.part", path)
    with pytest.raises(UsageError, match=r"matcher-000004.part: changed or removed during the run"):
        list(tables)
    assert not path.exists()
    assert streamed(known, path) == 6
    assert path.exists()


def test_files_and_names_are_on_the_disk_before_and_after_the_renaming(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """POSIX: rename is atomic, but only fsync of file and folder makes content and name outlast a power cut."""
    done_in_order: list[str] = []
    fsync, replaced = os.fsync, Path.replace

    def synced(handle: int) -> None:
        done_in_order.append("folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "file")
        fsync(handle)

    def noted(one: Path, other: Path) -> Path:
        if "group" not in other.name:  # a group's row need not outlast a power cut
            done_in_order.append("rename")
        return replaced(one, other)

    monkeypatch.setattr(os, "fsync", synced)
    monkeypatch.setattr(Path, "replace", noted)
    streamed(generated(1, 1), tmp_path / "pairs.csv")
    assert done_in_order == ["folder", *["file", "rename", "folder"] * 2]


def a_note(folder: Path) -> Path:
    folder.mkdir()
    return folder / "precious.txt"


def a_note_among_parts(folder: Path) -> Path:
    return folder / "precious.txt"


def a_note_in_the_place_of_a_part(folder: Path) -> Path:
    (folder / "matcher-000001.part").unlink()
    (folder / "matcher-000001.part").mkdir()
    return folder / "matcher-000001.part" / "precious.txt"


def a_file_of_this_name(folder: Path) -> Path:
    return folder


def a_link_to_another_folder(folder: Path) -> Path:
    (folder.parent / "elsewhere").mkdir()
    folder.symlink_to(folder.parent / "elsewhere")
    return folder / "matcher-000000.part"


@pytest.mark.parametrize(
    "place", [a_note, a_note_among_parts, a_note_in_the_place_of_a_part, a_file_of_this_name, a_link_to_another_folder]
)
def test_a_folder_that_holds_anything_else_is_refused_before_any_work_and_left_alone(
    tmp_path: Path, place: Callable[[Path], Path]
) -> None:
    known, path = generated(6, 5), tmp_path / "pairs.csv"
    if "part" in place.__name__:
        left(known, path, 3)
    precious = place(tmp_path / "pairs.csv.parts")
    precious.write_text("not a part")
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(UsageError, match=r"--out .*pairs\.csv: .*pairs\.csv\.parts is in the way: (it holds|expected)"):
        streamed(known, path)
    assert sorted(tmp_path.rglob("*")) == before
    assert precious.read_text() == "not a part"


def test_what_somebody_puts_beside_the_parts_in_mid_run_stays(tmp_path: Path) -> None:
    known, path = generated(6, 5), tmp_path / "pairs.csv"
    tables = screened(sweep(known, HOUSE), [path], Crew())
    next(tables)
    precious = tmp_path / "pairs.csv.parts" / "precious.txt"
    precious.write_text("not a part")
    assert len(list(tables)) == 5
    assert path.exists()
    assert list(precious.parent.iterdir()) == [precious]


def test_a_folder_in_the_place_of_the_file_is_refused_before_any_work(tmp_path: Path) -> None:
    (tmp_path / "folder.csv").mkdir()
    with pytest.raises(UsageError, match="this is a folder"):
        streamed(generated(1, 1), tmp_path / "folder.csv")


def test_names_that_look_like_formulas_stay_texts(tmp_path: Path) -> None:
    known = catalogue((), [organizer("tray", set_name="=1+1")], [cabinet(drawer())])
    streamed(known, tmp_path / "pairs.csv")
    assert "'=1+1" in (tmp_path / "pairs.csv").read_text()
