"""The grid: editing, copy and paste as blocks, fill down, clear, and what it refuses."""

import time

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit

from app.grid_model import CELL_ROLE, DASH, GridModel
from app.grid_page import GridPage
from app.grid_sets import COLUMN_SETS
from app.session import Session
from core.store import LineFile, actions
from tests.app.made_line import HP_W, make_book


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def page(session, qtbot):
    made = GridPage(session)
    qtbot.addWidget(made)
    made.resize(1000, 500)
    made.show()
    return made


def column(page, text):
    """Place of the column whose heading, in one line, begins with a text."""
    heads = [
        page.model.headerData(at, Qt.Orientation.Horizontal).replace("\n", " ")
        for at in range(page.model.columnCount())
    ]
    return next(at for at, head in enumerate(heads) if head.startswith(text))


def shown(page, row, heading):
    return page.model.index(row, column(page, heading)).data()


def select(page, row, heading, rows=1, columns=1):
    left = column(page, heading)
    page.grid.view.setCurrentIndex(page.model.index(row, left))
    page.grid.view.select_block(row, left, rows, columns)


def clip(text):
    QGuiApplication.clipboard().setText(text)


def settings(session, code):
    entered = [station.drive.setting(code) for station in session.line.stations]
    return [entry.shown if entry else None for entry in entered]


@pytest.mark.parametrize("chosen", COLUMN_SETS, ids=lambda chosen: chosen.key)
def test_each_set_of_columns_is_a_sound_model(session, qtmodeltester, chosen):
    model = GridModel()
    model.show_rows(session.line, session.line.stations, tuple(chosen.columns(session.line)))
    assert model.columnCount() > 0
    qtmodeltester.check(model)


def test_settings_have_a_column_each_in_keypad_order_with_code_meaning_and_unit(page):
    heads = [page.model.headerData(at, Qt.Orientation.Horizontal) for at in range(5)]
    assert [head.split("\n")[0] for head in heads] == [
        "hz-max", "hz-min", "ramp-up", "ref-from", "jog-hz",
    ]  # fmt: skip
    assert heads[0].split("\n") == ["hz-max", "Maximum", "frequency", "[Hz]"]


def test_a_setting_that_a_drive_type_does_not_list_shows_a_dash_and_cannot_be_edited(page):
    index = page.model.index(0, column(page, "jog-hz"))
    assert index.data() == DASH
    assert not index.flags() & Qt.ItemFlag.ItemIsEditable
    assert "does not list jog-hz" in index.data(Qt.ItemDataRole.ToolTipRole)
    assert page.model.index(1, index.column()).flags() & Qt.ItemFlag.ItemIsEditable


def test_a_value_that_is_not_entered_is_not_shown_as_the_factory_value(page):
    assert shown(page, 0, "ramp-up") == ""


def test_a_value_that_differs_from_factory_is_marked_by_a_sign(page):
    assert shown(page, 0, "hz-max") == "60"
    page.model.setData(page.model.index(0, 0), "50")
    assert shown(page, 0, "hz-max") == "≠ 50"
    assert page.model.index(0, 0).data(CELL_ROLE).differs


def test_typing_into_a_cell_and_enter_stores_it_and_goes_on_below(page, session, qtbot):
    page.grid.view.setCurrentIndex(page.model.index(0, column(page, "ramp-up")))
    page.grid.view.setFocus()
    qtbot.keyClicks(page.grid.view, "5")
    editor = page.grid.view.findChild(QLineEdit)
    qtbot.keyClicks(editor, ".5")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: page.grid.view.currentIndex().row() == 1)
    assert settings(session, "ramp-up") == ["5.5", None, None, None]
    assert session.line.stations[0].drive.setting("ramp-up").value == 5.5


def test_a_choice_is_offered_as_a_list(page, session, qtbot):
    index = page.model.index(0, column(page, "ref-from"))
    page.grid.view.setCurrentIndex(index)
    page.grid.view.edit(index)
    box = page.grid.view.findChild(QComboBox)
    assert [box.itemText(at) for at in range(box.count())] == ["", "0  Keypad", "1  Input"]
    box.setCurrentIndex(2)
    box.activated.emit(2)
    assert settings(session, "ref-from") == ["1", None, None, None]


def test_a_refused_text_is_told_with_its_cell_and_the_value_stays(page, session):
    assert not page.model.setData(page.model.index(2, 0), "5 kg")
    assert "A03, hz-max" in page.grid.faults.text
    assert "'5 kg' is a mass" in page.grid.faults.text
    assert settings(session, "hz-max") == ["60"] * 4


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Tab])
def test_after_a_refused_text_the_cell_stays_chosen_and_the_message_stands(page, qtbot, key):
    page.grid.view.setCurrentIndex(page.model.index(1, 0))
    page.grid.view.setFocus()
    qtbot.keyClicks(page.grid.view, "x")
    qtbot.keyClick(page.grid.view.findChild(QLineEdit), key)
    qtbot.waitUntil(lambda: "A02, hz-max: 'x'" in page.grid.faults.text)
    QApplication.processEvents()
    here = page.grid.view.currentIndex()
    assert (here.row(), here.column()) == (1, 0)


def test_the_message_outlasts_the_click_that_ended_the_entry(page, qtbot):
    page.grid.view.setCurrentIndex(page.model.index(1, 0))
    page.grid.view.setFocus()
    qtbot.keyClicks(page.grid.view, "x")
    other = page.grid.view.visualRect(page.model.index(3, 1)).center()
    qtbot.mouseClick(page.grid.view.viewport(), Qt.MouseButton.LeftButton, pos=other)
    assert page.grid.view.currentIndex().row() == 3
    assert "A02, hz-max: 'x'" in page.grid.faults.text


def test_the_message_goes_with_the_next_entry(page):
    page.model.setData(page.model.index(2, 0), "5 kg")
    page.model.setData(page.model.index(2, 0), "50")
    assert page.grid.faults.text == ""


def test_escape_leaves_the_grid(page, qtbot):
    page.grid.view.setFocus()
    qtbot.keyClick(page.grid.view, Qt.Key.Key_Escape)
    assert not page.grid.view.hasFocus()


def test_a_quantity_takes_any_unit_and_keeps_what_was_typed(page, session):
    page.choose("motors")
    assert shown(page, 0, "Rated power") == "1"
    page.model.setData(page.model.index(0, column(page, "Rated power")), "0,55 kW")
    motor = session.line.stations[0].motors[0]
    assert (motor.power_w, motor.power_typed) == (pytest.approx(550.0), "0,55 kW")


def test_copy_gives_tab_separated_rows_that_paste_elsewhere_in_one_step(page, session):
    page.model.setData(page.model.index(0, 0), "50")
    page.model.setData(page.model.index(1, 0), "55")
    select(page, 0, "hz-max", rows=2)
    page.grid.copy()
    assert QGuiApplication.clipboard().text() == "50\r\n55\r\n"
    select(page, 2, "hz-max")
    page.grid.paste()
    assert settings(session, "hz-max") == ["50", "55", "50", "55"]
    session.undo()
    assert settings(session, "hz-max") == ["50", "55", "60", "60"]


def test_a_table_from_a_spreadsheet_fills_a_block(page, session):
    clip("50\t0\t5,5\n45\t10\t6\n")
    select(page, 1, "hz-max")
    page.grid.paste()
    assert settings(session, "hz-max") == ["60", "50", "45", "60"]
    assert settings(session, "hz-min") == [None, "0", "10", None]
    assert settings(session, "ramp-up") == [None, "5,5", "6", None]
    assert session.line.stations[1].drive.setting("ramp-up").value == 5.5
    assert session.book.undo_name == "Paste 6 cells"


def test_a_paste_with_bad_cells_changes_nothing_and_names_each_of_them(page, session):
    clip("50\t0\n500\tx\n45\t10\n")
    select(page, 0, "hz-max")
    before = session.line
    page.grid.paste()
    assert session.line is before
    told = page.grid.faults.text
    assert "A02, hz-max: '500' is above the listed 120 Hz." in told
    assert "A02, hz-min: 'x'" in told
    assert "A01" not in told
    assert "A03" not in told


def test_one_cell_is_pasted_into_all_that_are_selected(page, session):
    clip("45")
    select(page, 0, "hz-max", rows=4)
    page.grid.paste()
    assert settings(session, "hz-max") == ["45"] * 4


def test_a_table_that_reaches_beyond_the_grid_is_refused(page, session):
    clip("45\n46\n47")
    select(page, 2, "hz-max")
    page.grid.paste()
    assert "1 row beyond the grid" in page.grid.faults.text
    assert settings(session, "hz-max") == ["60"] * 4


def test_a_table_with_headings_and_tags_finds_its_own_place(page, session):
    select(page, 0, "hz-max", rows=2, columns=2)
    page.grid.copy_with_headings()
    copied = QGuiApplication.clipboard().text()
    assert copied == (
        "Tag\thz-max Maximum frequency [Hz]\thz-min Minimum frequency [Hz]\r\n"
        "A01\t60\t\r\nA02\t60\t\r\n"
    )
    clip("Tag\thz-min Minimum frequency [Hz]\nA03\t15\nA01\t12\n")
    select(page, 3, "ramp-up")
    page.grid.paste()
    assert settings(session, "hz-min") == ["12", None, "15", None]
    assert settings(session, "ramp-up") == [None] * 4


def test_a_table_with_an_unknown_tag_is_refused_with_its_name(page):
    clip("Tag\thz-min Minimum frequency [Hz]\nA09\t15\n")
    page.grid.paste()
    assert "There is no row 'A09' here." in page.grid.faults.text


def test_a_copied_value_is_pasted_without_rounding(page, session):
    page.choose("motors")
    session.do(
        actions.set_fields, "motor", session.line.stations[0].motors[0].id, power_w=559.27123
    )
    select(page, 0, "Rated power")
    page.grid.copy()
    assert QGuiApplication.clipboard().text() == "0.75\r\n"
    select(page, 1, "Rated power")
    page.grid.paste()
    assert session.line.stations[1].motors[0].power_w == 559.27123


def test_a_block_copied_and_put_back_through_a_spreadsheet_changes_nothing(page, session):
    for chosen in COLUMN_SETS:
        page.choose(chosen.key)
        page.grid.view.selectAll()
        page.grid.copy()
        text = QGuiApplication.clipboard().text()
        page.grid._copied = ("", [])
        clip(text)
        before = session.line
        page.grid.paste()
        assert page.grid.faults.text == ""
        assert session.line == before


def test_a_source_and_its_details_come_in_by_one_paste(page, session):
    page.choose("reference")
    clip("Potentiometer\tRP1\t2\t1\t3\t\t10 kΩ")
    select(page, 0, "Source")
    page.grid.paste()
    reference = session.line.stations[0].reference
    assert (reference.source, reference.pot_ohm) == ("potentiometer", pytest.approx(10000.0))


def test_a_text_for_a_cell_that_does_not_apply_is_refused(page, session):
    page.choose("reference")
    clip("10 kΩ")
    select(page, 0, "Potentiometer")
    page.grid.paste()
    assert "Source is not chosen" in page.grid.faults.text


def test_fill_down_takes_the_topmost_value_exactly(page, session):
    page.choose("motors")
    select(page, 0, "Rated power", rows=3)
    page.grid.fill_down()
    assert [s.motors[0].power_w for s in session.line.stations] == [HP_W, HP_W, HP_W, HP_W * 4]
    assert session.line.stations[2].motors[0].power_typed == "1 hp"


def test_clear_empties_settings_and_cut_keeps_them_on_the_clipboard(page, session):
    select(page, 0, "hz-max", rows=2)
    page.grid.clear_cells()
    assert settings(session, "hz-max") == [None, None, "60", "60"]
    select(page, 2, "hz-max")
    page.grid.cut()
    assert settings(session, "hz-max") == [None, None, None, "60"]
    assert QGuiApplication.clipboard().text() == "60\r\n"


def test_clear_takes_a_choice_back_to_its_default_and_refuses_a_tag(page, session):
    page.choose("station")
    session.do(actions.set_fields, "station", session.line.stations[0].id, kind="pump")
    select(page, 0, "Kind")
    page.grid.clear_cells()
    assert session.line.stations[0].kind == "other"
    select(page, 0, "Tag")
    page.grid.clear_cells()
    assert "A01, Tag" in page.grid.faults.text
    assert session.line.stations[0].tag == "A01"


def test_a_tag_that_is_there_already_is_refused(page, session):
    page.choose("station")
    page.model.setData(page.model.index(0, column(page, "Tag")), "A02")
    assert "Another station has it already" in page.grid.faults.text
    assert session.line.stations[0].tag == "A01"


def test_a_tag_that_comes_twice_in_a_paste_is_named(page, session):
    page.choose("station")
    clip("B01\nB02\nB01\n")
    select(page, 0, "Tag")
    page.grid.paste()
    assert "A03, Tag: 'B01' comes twice." in page.grid.faults.text
    assert session.line.stations[0].tag == "A01"


def test_a_step_elsewhere_shows_here_and_keeps_the_place(page, session):
    page.grid.view.setCurrentIndex(page.model.index(3, 1))
    session.do(actions.set_settings, {session.line.stations[0].id: {"hz-max": "33"}})
    assert shown(page, 0, "hz-max") == "≠ 33"
    session.do(actions.remove_station, session.line.stations[0].id)
    assert page.model.rowCount() == 3
    assert page.grid.view.currentIndex().row() == 2


def test_every_motor_of_a_station_has_its_columns(page, session):
    page.choose("motors")
    session.do(actions.add_record, "motor", session.line.stations[1].id, power_w=100.0)
    page.choose("motors")
    assert shown(page, 0, "Motor 2 Rated power") == DASH
    assert shown(page, 1, "Motor 2 Rated power") == "0.1341"


def test_units_switch_what_is_shown(page, session):
    page.choose("motors")
    session.do(actions.set_fields, "line", session.line.id, unit_system="metric")
    assert shown(page, 0, "Rated power [kW]") == "0.7457"


def test_a_page_out_of_sight_catches_up_when_it_is_shown(page, session):
    page.hide()
    session.do(actions.set_settings, {session.line.stations[0].id: {"hz-max": "33"}})
    page.show()
    assert shown(page, 0, "hz-max") == "≠ 33"


def test_without_stations_the_page_says_so(tmp_path, qtbot):
    session = Session()
    session.take(LineFile.create(tmp_path / "empty.linebook"))
    page = GridPage(session)
    qtbot.addWidget(page)
    page.show()
    assert not page.grid.view.isVisible()
    assert page.lacking.text() == "This line has no stations yet."
    session.close()


def test_four_hundred_stations_are_shown_at_once(tmp_path, qtbot):
    session = Session()
    session.take(make_book(tmp_path / "large.linebook", stations=400))
    page = GridPage(session)
    qtbot.addWidget(page)
    page.resize(1366, 768)
    begun = time.process_time()
    page.show()
    page.choose("motors")
    QApplication.processEvents()
    assert time.process_time() - begun < 3.0  # a bound that only a quadratic cost would break
    assert page.model.rowCount() == 400
    session.close()
