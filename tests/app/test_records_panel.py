"""A list of records as a grid that grows: typed, pasted, moved, removed."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit

from app.records_panel import RecordsPanel
from app.session import Session
from core.store import actions
from tests.app.made_line import LISTED, make_book

CODES = [code for code, *_ in LISTED]


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def panel(session, qtbot):
    made = RecordsPanel(session, "listed_setting")
    qtbot.addWidget(made)
    made.resize(900, 400)

    def show(_changes=None):
        drive_type = session.line.drive_types[0]
        made.show_records(drive_type.id, drive_type.listed_settings)

    session.changed.connect(show)
    show()
    made.show()
    return made


def codes(session):
    return [listed.code for listed in session.line.drive_types[0].listed_settings]


def select(panel, row, rows=1, column=0):
    panel.grid.view.setCurrentIndex(panel.model.index(row, column))
    panel.grid.view.select_block(row, column, rows, 1)


def paste(panel, text):
    QGuiApplication.clipboard().setText(text)
    panel.grid.paste()


def test_the_model_is_sound(panel, qtmodeltester):
    qtmodeltester.check(panel.model)


def test_an_empty_row_stands_below_the_records(panel):
    assert panel.model.rowCount() == len(CODES) + 1
    assert panel.model.headerData(len(CODES), Qt.Orientation.Vertical) == "+"
    cells = [panel.model.index(len(CODES), at).data() for at in range(panel.model.columnCount())]
    assert set(cells) == {""}


def test_typing_into_the_empty_row_adds_a_record_and_stays_there(panel, session, qtbot):
    select(panel, len(CODES))
    panel.grid.view.setFocus()
    qtbot.keyClicks(panel.grid.view, "b")
    editor = panel.grid.view.findChild(QLineEdit)
    qtbot.keyClicks(editor, "rake")
    qtbot.keyClick(editor, Qt.Key.Key_Tab)
    qtbot.waitUntil(lambda: codes(session) == [*CODES, "brake"])
    here = panel.grid.view.currentIndex()
    assert (here.row(), here.column()) == (len(CODES), 1)
    assert panel.model.rowCount() == len(CODES) + 2


def test_a_new_row_without_its_name_is_refused(panel, session):
    panel.model.setData(panel.model.index(len(CODES), 1), "Braking time")
    assert f"Row {len(CODES) + 1}, Code: Found nothing" in panel.grid.faults.text
    assert codes(session) == CODES


def test_many_rows_are_pasted_below_as_one_step(panel, session):
    select(panel, len(CODES))
    paste(panel, "brake\tBraking\r\njog\tJog frequency\tJog frequency\tHz\r\n\r\n")
    assert codes(session) == [*CODES, "brake", "jog"]
    added = session.line.drive_types[0].listed("jog")
    assert (added.meaning, added.role, added.unit) == ("Jog frequency", "jog_frequency", "Hz")
    session.undo()
    assert codes(session) == CODES


def test_a_pasted_table_with_headings_finds_rows_by_code_and_adds_the_others(panel, session):
    paste(panel, "Unit\tCode\tFactory value\nHz\thz-max\t50\ns\tbrake\t2\n")
    assert codes(session) == [*CODES, "brake"]
    assert session.line.drive_types[0].listed("hz-max").factory == "50"
    assert session.line.drive_types[0].listed("brake").unit == "s"


def test_a_paste_names_every_bad_row(panel, session):
    select(panel, len(CODES))
    paste(panel, "brake\tx\tno such role\nbrake\ty\n\tz\n")
    told = panel.grid.faults.text
    assert "Row 5, What it means to Linebook" in told
    assert "Row 6, Code: 'brake' comes twice." in told
    assert "Row 7, Code: Found nothing." in told
    assert codes(session) == CODES


def test_rows_are_moved_together_and_stay_selected(panel, session):
    select(panel, 2, rows=2)
    panel.up_action.trigger()
    first, second, *moved = CODES
    assert codes(session) == [first, *moved, second]
    assert panel.grid.view.selected_block() == (1, 0, 2, 1)
    panel.down_action.trigger()
    assert codes(session) == CODES
    assert not panel.down_action.isEnabled()


def test_rows_are_removed_as_one_step(panel, session):
    select(panel, 1, rows=2)
    panel.remove_action.trigger()
    assert codes(session) == [CODES[0], CODES[3]]
    session.undo()
    assert codes(session) == CODES


def test_the_empty_row_can_be_neither_removed_nor_moved(panel):
    select(panel, len(CODES))
    assert not panel.remove_action.isEnabled()
    assert not panel.up_action.isEnabled()


def test_a_record_in_use_is_kept_and_that_is_told(session, qtbot):
    panel = RecordsPanel(session, "supply")
    qtbot.addWidget(panel)
    session.do(
        actions.set_fields, "drive", session.line.stations[0].drive.id,
        supply_id=session.line.supplies[0].id,
    )  # fmt: skip
    panel.show_records(None, session.line.supplies)
    panel.show()
    select(panel, 0)
    panel.remove_rows()
    assert "still used by A01" in panel.grid.faults.text
    assert len(session.line.supplies) == 2


def test_another_parent_shows_its_own_records(panel, session):
    other = session.line.drive_types[1]
    panel.show_records(other.id, other.listed_settings)
    assert panel.model.rowCount() == len(CODES) + 2
    panel.model.setData(panel.model.index(len(CODES) + 1, 0), "brake")
    assert session.line.drive_types[1].listed("brake") is not None
    assert codes(session) == CODES
