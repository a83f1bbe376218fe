"""What is set back at a drive, and what is left alone."""

import dataclasses

from core.model import Setting
from core.records.comparing import compare
from core.records.put_back import put_back
from tests.core.records.test_comparing import QUILLBACK, at, keyed, part


def settings_of(line, tag):
    return line.station_tagged(tag).drive.settings


def without(line, tag, code):
    kept = tuple(held for held in settings_of(line, tag) if held.code != code)
    return at(line, tag, part("drive", settings=kept))


def another_type(line, tag, edit):
    """The line with a drive of another type at a station, its list edited entry by entry."""
    held = line.drive_type(line.station_tagged(tag).drive.drive_type_id)
    number = max(entry.id for entry in line.drive_types) + 1
    listed = tuple(edit(entry) for entry in held.listed_settings)
    other = dataclasses.replace(held, id=number, name="Another type", listed_settings=listed)
    line = dataclasses.replace(line, drive_types=(*line.drive_types, other))
    return at(line, tag, part("drive", drive_type_id=number))


def test_what_nobody_recorded_before_is_not_put_back():
    # No list has X-9 and no record holds it: there is no value that could be typed at the keypad.
    added = Setting(code="X-9", shown="7", value=7.0)
    after = at(QUILLBACK, "A05", part("drive", settings=(*settings_of(QUILLBACK, "A05"), added)))
    difference = compare(QUILLBACK, after)
    assert [change.field for change in difference.of("settings")] == ["X-9"]
    assert put_back(difference) == ()


def test_a_setting_that_is_delivered_with_a_value_is_put_back_to_it():
    # Nobody recorded it before, so it stood as its list says it is delivered.
    station = QUILLBACK.station_tagged("A05")
    listed = QUILLBACK.drive_type(station.drive.drive_type_id).listed("hz-max")
    before = without(QUILLBACK, "A05", "hz-max")
    [back] = put_back(compare(before, keyed(QUILLBACK, "A05", hz_max="44")))
    assert (back.code, back.now, back.wanted) == ("hz-max", "44", listed.factory)


def test_a_code_that_means_another_thing_at_the_drive_there_now_is_not_put_back():
    def otherwise(entry):
        return (
            dataclasses.replace(entry, meaning="Another thing") if entry.code == "hz-max" else entry
        )

    same = keyed(another_type(QUILLBACK, "A05", lambda entry: entry), "A05", hz_max="44")
    other = keyed(another_type(QUILLBACK, "A05", otherwise), "A05", hz_max="44")
    assert [held.code for held in put_back(compare(QUILLBACK, same))] == ["hz-max"]
    difference = compare(QUILLBACK, other)
    assert "hz-max" in [change.field for change in difference.of("settings")]
    assert put_back(difference) == ()
