"""The settings of one drive as a table."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from app.session import Session
from app.settings_table import COLUMNS, VALUE, SettingsTable, setting_rows
from core.store import actions
from tests.app.made_line import make_book

VALUE_AT, WHY_AT = COLUMNS.index(VALUE), len(COLUMNS) - 1


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def table(session, qtbot):
    made = SettingsTable(session)
    qtbot.addWidget(made)
    made.resize(800, 400)
    made.show_station(session.line.stations[0])
    session.changed.connect(lambda _changes: made.show_station(session.line.stations[0]))
    made.show()
    return made


def shown(table, row):
    return [table.model.cell(row, column).text for column in range(len(COLUMNS))]


def test_the_list_stands_in_keypad_order_with_value_unit_and_factory_value(table):
    assert [row.code for row in table.model.rows] == ["hz-max", "hz-min", "ramp-up", "ref-from"]
    assert shown(table, 0) == ["Maximum frequency", "60", "Hz", "60", ""]
    assert shown(table, 1) == ["Minimum frequency", "", "Hz", "0", ""]


def test_only_value_and_reason_can_be_edited(table):
    editable = [
        bool(table.model.flags(table.model.index(0, column)) & Qt.ItemFlag.ItemIsEditable)
        for column in range(len(COLUMNS))
    ]
    assert editable == [False, True, False, False, True]


def test_the_choices_of_the_list_are_offered_with_their_meanings(table):
    assert table.model.offered(table.model.index(3, VALUE_AT)) == {
        "": "",
        "0": "0  Keypad",
        "1": "1  Input",
    }


def test_values_and_reasons_are_pasted_in_one_step(table, session):
    view = table.grid.view
    view.setFocus()
    view.setCurrentIndex(table.model.index(2, VALUE_AT))
    QGuiApplication.clipboard().setText("5\ts\t10\tgentle start")
    table.grid.paste()
    # Unit and factory value are those of the list, so that only value and reason change.
    assert table.grid.faults.text == ""
    setting = session.line.stations[0].drive.setting("ramp-up")
    assert (setting.shown, setting.reason) == ("5", "gentle start")
    session.undo()
    assert session.line.stations[0].drive.setting("ramp-up") is None


def test_a_reason_without_a_value_is_refused(table, session):
    before = session.line
    table.model.setData(table.model.index(1, WHY_AT), "because")
    assert "hz-min has no value entered." in table.grid.faults.text
    assert session.line is before


def test_a_value_that_the_list_does_not_have_is_shown_at_the_end(session):
    drive = session.line.stations[0].drive
    session.do(actions.add_record, "setting", drive.id, code="own-1", shown="7")
    station = session.line.stations[0]
    rows = setting_rows(station, session.line.drive_type(station.drive.drive_type_id))
    assert (rows[-1].code, rows[-1].listed) == ("own-1", None)


def test_without_a_drive_type_it_says_what_to_do(table, session):
    for setting in session.line.stations[0].drive.settings:
        session.do(actions.remove_record, "setting", setting.id)
    drive = session.line.stations[0].drive
    session.do(actions.set_fields, "drive", drive.id, drive_type_id=None)
    assert table.grid.isHidden()
    assert "Choose the drive type above" in table.lacking.text()
    assert not table.reveal("hz-max")
