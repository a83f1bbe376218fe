import pytest

from core.model import ListedSetting, Setting
from core.model.keypad import standing
from core.sheets.setting_rows import setting_rows
from tests.core.sheets import lines

HERTZ = ListedSetting(1, "hz-max", "Maximum frequency", unit="Hz", factory="50.0", maximum="400")
CHOICE = ListedSetting(2, "ref", "Range", factory="0", options="0=0-10 V;2=4-20 mA")
NO_FACTORY = ListedSetting(3, "note", "Note")


@pytest.mark.parametrize(
    ("entered", "listed", "expected"),
    [
        (Setting(1, "hz-max", "60.0", 60.0), HERTZ, "differs"),
        (Setting(1, "hz-max", "50", 50.0), HERTZ, "same"),
        (Setting(1, "ref", "2", 2.0), CHOICE, "differs"),
        (Setting(1, "ref", "0", 0.0), CHOICE, "same"),
        (Setting(1, "note", "abc", None), NO_FACTORY, "factory_unknown"),
        (None, HERTZ, "not_entered"),
        (Setting(1, "hz-max", " ", None), HERTZ, "not_entered"),
    ],
)
def test_a_value_against_the_factory_value(entered, listed, expected):
    assert standing(entered, listed) == expected


def test_rows_follow_the_keypad_and_unlisted_ones_come_last():
    rows = setting_rows(lines.station(1), lines.drive_type())
    assert [row.code for row in rows] == [
        "hz-max",
        "hz-min",
        "ramp-up",
        "ramp-down",
        "ref-range",
        "motor-a",
        "secret",
    ]
    assert rows[-1].standing == "unlisted"


def test_a_setting_nobody_entered_shows_no_value():
    row = setting_rows(lines.station(1), lines.drive_type())[2]
    assert (row.shown, row.factory, row.standing) == ("", "10.0", "not_entered")


def test_a_choice_shows_what_it_means():
    row = setting_rows(lines.station(1), lines.drive_type())[4]
    assert (row.shown, row.stands_for) == ("0", "0-10 V")


def test_without_a_drive_type_what_was_entered_is_still_shown():
    rows = setting_rows(lines.station(1), None)
    assert [(row.code, row.standing) for row in rows][:2] == [
        ("hz-max", "unlisted"),
        ("hz-min", "unlisted"),
    ]
