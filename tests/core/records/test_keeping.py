"""Freezing a line, what is open before it, and that only a sound record is used."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from importlib.resources import files

import pytest

from core.errors import InputError
from core.line import compute_line
from core.line.findings import find
from core.model import Check
from core.readback import start_walk
from core.readback.present import with_present
from core.records import RecordError
from core.records.keeping import Standing, freeze, line_of_record, standing_of
from core.store import LineFile


@pytest.fixture
def path(tmp_path):
    target = tmp_path / "lindenmoor.linebook"
    target.write_bytes(files("sample_projects").joinpath(target.name).read_bytes())
    return target


def test_the_line_of_a_record_is_the_line_that_was_frozen(path):
    with LineFile.open(path) as book:
        freeze(book, book.line, "as_commissioned", "R. Vale", "Handover")
        [held] = book.frozen()
        assert line_of_record(held) == book.line


def test_freezing_without_a_reason_is_refused(path):
    with LineFile.open(path) as book:
        with pytest.raises(InputError, match="why"):
            freeze(book, book.line, "as_commissioned", "R. Vale", " ")
        assert book.frozen() == ()


def test_a_record_altered_outside_is_not_used(path):
    with LineFile.open(path) as book:
        freeze(book, book.line, "as_commissioned", "R. Vale", "Handover")
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("UPDATE frozen_record SET content = replace(content, 'Plums', 'Pears')")
        raw.commit()
    [held] = LineFile.read_frozen(path)
    with pytest.raises(RecordError, match="altered outside Linebook"):
        line_of_record(held)


def test_what_is_open_is_counted(path):
    line = LineFile.read(path)
    results = compute_line(line)
    before = standing_of(results, find(results))
    assert before.open_checks == before.checks > 0
    assert (before.out_checks, before.is_clear) == (0, False)
    # 230 V ± 10 % ends at 253 V; guards are a yes or no.
    station = line.station_tagged("B02").id
    answers = (
        Check(1, "guards-on", station, "yes"),
        Check(2, "supply-voltage", station, "reading", 260.0),
    )
    results = compute_line(replace(line, checks=answers))
    after = standing_of(results, find(results))
    assert after.checks == before.checks
    assert (after.open_checks, after.out_checks) == (before.checks - 2, 1)
    assert after.words()[:2] == (
        f"{before.checks - 2} of {before.checks} checks open.",
        "1 check out of limits without a reason.",
    )


def test_findings_that_nobody_accepted_are_counted_by_level():
    held = Standing(3, 0, 0, {"blocker": 1, "fault": 2, "advice": 5})
    assert held.words() == ("1 blocker not accepted.", "2 faults not accepted.")
    assert not held.is_clear
    assert Standing(3, 0, 0, {"advice": 5}).is_clear
    assert Standing(3, 0, 0, {}).words() == (
        "Every check is done, and no blocker or fault stands open.",
    )


def with_shown(line, shown):
    """The line with what the first keypad shows for its first setting."""
    first, *others = line.stations
    setting, *more = first.drive.settings
    drive = replace(first.drive, settings=(replace(setting, shown=shown), *more))
    return replace(line, stations=(replace(first, drive=drive), *others))


@pytest.mark.parametrize("shown", ["5\x07", "5" * 5000, "\ud800"])
def test_what_could_not_be_read_again_is_not_frozen(path, shown):
    with LineFile.open(path) as book:
        with pytest.raises(InputError, match="The record was not frozen"):
            freeze(book, with_shown(book.line, shown), "as_found", "R. Vale", "Visit")
        assert book.frozen() == ()


@pytest.mark.parametrize("shown", ["5\x07", "5" * 5000, "\ud800", "high\x1b[0m\nspeed"])
def test_whatever_was_found_at_a_keypad_gives_a_record_that_can_be_read(path, shown):
    with LineFile.open(path) as book:
        walk = start_walk(book.line).keep(shown)
        found = with_present(book.line, walk.result())
        record = freeze(book, found, "as_found", "R. Vale", "Visit")
        setting = line_of_record(record).stations[0].drive.settings[0]
    assert setting.shown.startswith(shown[0] if shown[0].isprintable() else "\ufffd")
    assert (setting.shown == shown, setting.origin) == (False, "read")


def test_a_record_with_choices_as_older_versions_took_them_is_frozen_and_read(path):
    with LineFile.open(path) as book:
        listed = book.line.drive_types[0].listed_settings[0]
        with book.step("As older versions took it") as step:
            step.set("listed_setting", listed.id, options="0 keypad; 1 analogue")
        freeze(book, book.line, "as_found", "R. Vale", "Visit")
        again = line_of_record(book.frozen()[-1])
    assert again.drive_types[0].listed_settings[0].options == "0 keypad; 1 analogue"
