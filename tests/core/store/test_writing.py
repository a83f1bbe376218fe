"""A whole line written into a fresh file comes back as the same line."""

import dataclasses

import pytest

from core.errors import LineFileError
from core.model import Flow, Setting, Supply
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


def test_settings_that_were_first_read_at_the_drives_get_ids(full_book, tmp_path):
    """As in a record of what was found, where the file had no row for them: all have the id 0."""
    line = full_book.line
    first = line.stations[0]
    read = tuple(Setting(code=f"read-{number}", shown="1") for number in range(2))
    drive = dataclasses.replace(first.drive, settings=read + first.drive.settings)
    stations = (dataclasses.replace(first, drive=drive), *line.stations[1:])
    found = dataclasses.replace(line, stations=stations)
    with LineFile.create_from(tmp_path / "again.linebook", found) as again:
        settings = again.line.stations[0].drive.settings
        ids = [held.id for station in again.line.stations for held in station.drive.settings]
    assert [(held.code, held.shown) for held in settings] == [
        (held.code, held.shown) for held in drive.settings
    ]
    assert settings[2:] == first.drive.settings
    assert 0 not in ids
    assert len(set(ids)) == len(ids)


def test_a_file_that_is_there_is_not_replaced(full_book):
    with pytest.raises(LineFileError):
        LineFile.create_from(full_book.path, full_book.line)


def twice(line):
    return dataclasses.replace(line, stations=(*line.stations, line.stations[0]))


def into_nothing(line):
    return dataclasses.replace(line, flows=(Flow(id=99, from_station_id=98, to_station_id=97),))


def beyond(line):
    return dataclasses.replace(line, supplies=(Supply(id=2**70, name="Shed"),))


def unprintable(line):
    return dataclasses.replace(line, site="\ud800")


@pytest.mark.parametrize("spoil", [twice, into_nothing, beyond, unprintable])
def test_a_line_that_does_not_go_together_is_told_and_leaves_no_file(full_book, tmp_path, spoil):
    path = tmp_path / "again.linebook"
    there = set(tmp_path.iterdir())
    with pytest.raises(LineFileError) as refused:
        LineFile.create_from(path, spoil(full_book.line))
    assert refused.value.what == "again.linebook was not written."
    assert "does not go together" in refused.value.why
    assert "from a record that verifies" in refused.value.fix
    assert set(tmp_path.iterdir()) == there
    # The name is free for a sound one.
    with LineFile.create_from(path, full_book.line) as again:
        assert again.line == full_book.line
