"""Folders that commands write are there whole or not at all, also where a disk is full in the middle."""

import resource
from contextlib import contextmanager

import pytest

from matcher.catalogue.copying import copy_catalogue
from matcher.catalogue.demo import write_demo
from matcher.drafting.vocabulary import write_tables
from matcher.records.errors import UsageError
from matcher.records.whole_folders import whole_folder
from tests import catalogue_files

WRITERS = {
    "a copy": lambda at: copy_catalogue(at.parent / "source", at, as_workbook=False),
    "the demonstration": write_demo,
    "tables of words": write_tables,
}


@contextmanager
def no_room_beyond(size):
    """Within it no file can grow beyond so many bytes."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


@pytest.mark.parametrize("writer", WRITERS)
@pytest.mark.parametrize("there", [True, False], ids=["empty folder", "new folder"])
def test_a_disk_that_is_full_in_the_middle_leaves_nothing(tmp_path, writer, there):
    at = tmp_path / "made"
    if there:
        at.mkdir()
    catalogue_files.folder(tmp_path / "source")
    before = sorted(tmp_path.rglob("*"))
    with no_room_beyond(190), pytest.raises(UsageError, match="File too large"):
        WRITERS[writer](at)
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("writer", WRITERS)
def test_a_new_or_empty_folder_is_written(tmp_path, writer):
    catalogue_files.folder(tmp_path / "source")
    for name in ("new", "empty"):
        (tmp_path / "empty").mkdir(exist_ok=True)
        WRITERS[writer](tmp_path / name)
        assert len(list((tmp_path / name).glob("*.csv"))) > 2
    assert not list(tmp_path.glob(".*"))


def test_a_folder_that_has_been_filled_meanwhile_is_left_alone(tmp_path):
    at = tmp_path / "made"
    with pytest.raises(OSError, match="not empty"), whole_folder(at):
        catalogue_files.folder(at)
    assert [path.name for path in tmp_path.iterdir()] == ["made"]
    assert (at / "drawers.csv").is_file()
