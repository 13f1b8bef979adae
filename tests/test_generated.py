"""Generated catalogues: sound, the same for a seed, and as varied as they say."""

import hashlib
from collections import Counter
from pathlib import Path

import pytest

from matcher.tools.kinds import KINDS
from tests.generated import catalogue, write
from tests.shop_kinds import KINDS as SHOP

SEEDS = range(60)


@pytest.fixture(scope="module")
def found():
    """Every catalogue is read, so that one that is not sound raises a CatalogueError here."""
    return [catalogue(seed) for seed in SEEDS]


def written(seed: int, folder: Path, **more) -> dict[str, bytes]:
    write(seed, folder, **more)
    return {file.name: file.read_bytes() for file in sorted(folder.iterdir())}


def sizes(catalogue) -> dict[str, int]:
    counts = Counter()
    for piece in catalogue.pieces:
        counts[piece.set] += piece.count
    return counts


def test_a_catalogue_has_the_sets_and_cabinets_that_were_asked_for(found):
    assert {len(sizes(one)) for one in found} == {3}
    assert {len(one.cabinets) for one in found} == {4}
    assert all(20 <= count <= 150 for one in found for count in sizes(one).values())


@pytest.mark.parametrize("pieces", [20, 150, 400])
def test_a_set_has_exactly_the_pieces_that_were_asked_for(pieces):
    read = catalogue(1, sets=12, cabinets=11, pieces=(pieces, pieces))
    assert list(sizes(read).values()) == [pieces] * 12
    assert len(read.cabinets) == 11


def test_the_same_seed_gives_the_same_bytes(tmp_path):
    assert written(7, tmp_path / "one") == written(7, tmp_path / "other")


def test_the_bytes_of_a_seed_are_the_same_with_every_python(tmp_path):
    """Benchmarks name their cases by seed: this digest changes only if the generator was meant to be changed."""
    whole = b"".join(written(7, tmp_path).values())
    assert hashlib.sha256(whole).hexdigest()[:16] == "be1acf0f9d9fc23f"


def test_different_seeds_differ(tmp_path):
    assert len({tuple(written(seed, tmp_path / str(seed)).values()) for seed in SEEDS}) == len(SEEDS)


def test_every_kind_drive_and_system_is_drawn(found):
    pieces = [piece for one in found for piece in one.pieces]
    assert {piece.kind for piece in pieces} == set(KINDS) == {kind.word for kind in SHOP}
    assert {piece.drive for piece in pieces} == {"", "1/4", "3/8", "1/2", "3/4", "1"}
    systems = {frozenset(piece.system for piece in pieces if piece.system) for pieces in by_set(found)}
    assert systems == {frozenset({"metric"}), frozenset({"inch"}), frozenset({"metric", "inch"})}


def by_set(found):
    return [[piece for piece in one.pieces if piece.set == name] for one in found for name in sizes(one)]


def test_sizes_of_a_run_are_neighbors(found):
    """Common practice, no source: a set has 8 to 19 mm, not 8, 12 and 19 mm."""
    series = next(kind.sizes[0] for kind in SHOP if kind.word == "combination wrench").split()
    for pieces in by_set(found):
        own = {one.size for one in pieces if one.kind == "combination wrench" and one.system == "metric"}
        places = [series.index(size) for size in own]
        assert not own or max(places) - min(places) == len(own) - 1


def test_cabinets_are_as_varied_as_the_trade(found):
    cabinets = [cabinet for one in found for cabinet in one.cabinets]
    drawers = [drawer for cabinet in cabinets for drawer in cabinet.drawers]
    assert {len({drawer.bank for drawer in cabinet.drawers}) for cabinet in cabinets} == {1, 2, 3}
    assert min(len(cabinet.drawers) for cabinet in cabinets) == 4
    assert {drawer.slot for drawer in drawers} == {"foam", "no foam"}
    for has in ("load_rating", "corner_radius", "obstructions"):
        shares = sum(bool(getattr(drawer, has)) for drawer in drawers) / len(drawers)
        assert 0.02 < shares < 0.8, has
    assert any(drawer.last_bank > drawer.bank for drawer in drawers)
    assert all(drawer.above_ground is not None for drawer in drawers)


def test_what_is_only_sometimes_there_is_there_sometimes(found):
    for has in ("organizers", "pins"):
        assert 0 < sum(bool(getattr(one, has)) for one in found) < len(found), has
    assert 0 < sum(any(not rule.house for rule in one.group_rules) for one in found) < len(found)
    pieces = [piece for one in found for piece in one.pieces]
    for has in ("use", "length", "group"):
        assert 0 < sum(bool(getattr(piece, has)) for piece in pieces) < len(pieces), has
    assert any(piece.kind == "cased" for piece in pieces)


def test_lengths_are_typed_in_millimeters_or_as_shop_fractions(tmp_path):
    heads = {written(seed, tmp_path / str(seed))["drawers.csv"].split(b"\n")[0].count(b"_in") for seed in range(10)}
    assert heads & {0}
    assert heads - {0}


@pytest.mark.parametrize("seed", [77606533, 882607096])
def test_a_set_without_any_tool_of_a_known_group_is_generated_too(seed):
    """Found by a campaign: nothing there can be wished into a drawer."""
    assert catalogue(seed, sets=1, cabinets=1, pieces=(5, 20)).pins == ()
