"""A whole line written into a fresh file comes back as the same line."""

import pytest

from core.errors import LineFileError
from core.store import LineFile
from tests.core.store.guards import ask


def test_a_line_comes_back_whole_with_its_ids(full_book, tmp_path):
    with LineFile.create_from(tmp_path / "again.linebook", full_book.line) as again:
        assert again.line == full_book.line
        with again.step("Rename") as step:
            step.set("line", again.line.id, name="Still works")
    assert LineFile.read(tmp_path / "again.linebook").name == "Still works"
    assert ask(tmp_path / "again.linebook", "PRAGMA foreign_key_check") == []


def test_a_new_record_gets_an_id_that_was_never_used(full_book, tmp_path):
    with LineFile.create_from(tmp_path / "again.linebook", full_book.line) as again:
        highest = max(station.id for station in again.line.stations)
        with again.step("Add") as step:
            added = step.add("station", tag="NEW")
    assert added > highest


def test_a_file_that_is_there_is_not_replaced(full_book):
    with pytest.raises(LineFileError):
        LineFile.create_from(full_book.path, full_book.line)
