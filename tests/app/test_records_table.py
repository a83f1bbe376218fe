"""A table of the records that a station holds."""

import pytest
from PySide6.QtCore import Qt

from app.records_table import RecordsTable
from app.session import Session
from core.store import actions
from tests.app.keyboard import ALT, CTRL, press, show_active, tab
from tests.app.made_line import make_book


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    book = make_book(tmp_path / "test.linebook")
    for run in ("power_in", "motor", "reference"):
        actions.add_record(book, "cable", book.line.stations[0].id, run=run)
    made.take(book)
    yield made
    made.close()


@pytest.fixture
def table(session, qtbot):
    made = RecordsTable(session, "cable", "Cables")
    qtbot.addWidget(made)

    def show(_changes=None):
        station = session.line.stations[0]
        made.show_records(station.id, station.cables)

    show()
    session.changed.connect(show)
    made.resize(900, 300)
    show_active(qtbot, made)
    return made


def runs(session):
    return [cable.run for cable in session.line.stations[0].cables]


def test_its_model_keeps_the_rules_of_models(table, qtmodeltester):
    qtmodeltester.check(table.model)


def test_it_is_as_high_as_its_rows(table, session):
    view = table.grid.view
    before = view.height()
    table.add()
    assert view.height() == before + view.rowHeight(0)
    assert view.verticalScrollBar().maximum() == 0


def test_rows_are_moved_and_removed_by_keyboard(table, session):
    table.grid.reveal(1, 0)
    press(Qt.Key.Key_Up, ALT)
    assert runs(session) == ["motor", "power_in", "reference"]
    press(Qt.Key.Key_Down, ALT)
    press(Qt.Key.Key_Down, ALT)
    assert runs(session) == ["power_in", "reference", "motor"]
    press(Qt.Key.Key_Delete, CTRL)
    assert runs(session) == ["power_in", "reference"]
    session.undo()
    assert runs(session) == ["power_in", "reference", "motor"]


def test_a_record_is_added_at_the_end_by_its_key_and_by_typing(table, session):
    table.grid.reveal(0, 0)
    press(Qt.Key.Key_Insert)
    assert len(runs(session)) == 4
    assert table.grid.view.currentIndex().row() == 3
    table.model.setData(table.model.index(4, 1), "4 x 1.5 mm2 screened")
    assert session.line.stations[0].cables[4].cable_type == "4 x 1.5 mm2 screened"


def test_tab_leaves_the_table(table):
    table.grid.reveal(0, 0)
    tab()
    assert table.add_button.hasFocus() or not table.grid.view.hasFocus()


def test_a_selection_shows_only_while_the_table_has_the_focus(table):
    view = table.grid.view
    table.grid.reveal(1, 2)
    assert [index.row() for index in view.selectedIndexes()] == [1]
    table.add_button.setFocus()
    assert view.selectedIndexes() == []
    assert view.currentIndex().row() == 1
    view.setFocus()
    assert [index.row() for index in view.selectedIndexes()] == [1]


def test_a_record_is_revealed_by_its_id_and_field(table, session):
    cable = session.line.stations[0].cables[2]
    assert table.reveal(cable.id, "length_m")
    assert table.view_row() == 2
    assert not table.reveal(99999, "length_m")
