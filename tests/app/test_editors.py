"""Editors of single fields: what is taken, what is refused, what stays untouched."""

import dataclasses

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QPushButton, QVBoxLayout, QWidget

from app.editors import make_editor
from app.session import Session
from app.settling import settle_focused
from core.model import RECORDS
from core.store import actions
from tests.app.keyboard import CTRL, enter, press, replace_with, show_active, tab, type_text
from tests.app.made_line import make_book


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def edit(session, qtbot):
    """Shows a field of a record in an editor of its own, focused; a button stands behind it."""

    kept = []

    def show(table, name, record):
        held = QWidget()
        kept.append(held)
        qtbot.addWidget(held)
        editor = make_editor(RECORDS[table].field(name), session, table)
        layout = QVBoxLayout(held)
        layout.addWidget(editor)
        layout.addWidget(QPushButton("Behind"))
        editor.told = []

        def take(field, values):
            editor.told.append((field, values))
            editor.show_value(dataclasses.replace(record, **values))

        editor.committed.connect(take)
        editor.show_value(record)
        show_active(qtbot, held)
        editor.setFocus()
        return editor

    return show


def test_a_power_is_typed_with_its_unit_and_kept_as_typed(edit, session):
    editor = edit("motor", "power_w", session.line.stations[0].motors[0])
    replace_with("3/4 hp")
    tab()
    # 1 hp = 550 ft·lbf/s = 745.699 871 582 W (NIST SP 811, appendix B.8)
    [(name, values)] = editor.told
    assert name == "power_w"
    assert values["power_w"] == pytest.approx(559.274903686)
    assert values["power_typed"] == "3/4 hp"


def test_a_bare_number_is_in_the_unit_shown_beside_it(edit, session):
    editor = edit("motor", "frequency_hz", session.line.stations[0].motors[0])
    assert editor.input.unit == "Hz"
    type_text("60")
    enter()
    assert editor.told == [("frequency_hz", {"frequency_hz": 60.0})]


def test_leaving_a_field_untouched_tells_nothing(edit, session):
    editor = edit("motor", "power_w", session.line.stations[2].motors[0])
    tab()
    assert editor.told == []


def test_what_is_no_power_is_told_beneath_and_escape_brings_the_value_back(edit, session):
    editor = edit("motor", "power_w", session.line.stations[0].motors[0])
    before = editor.text
    replace_with("3 m")
    tab()
    assert editor.told == []
    assert editor.text == "3 m"
    assert "'3 m' is a length" in editor.message
    assert editor.message.startswith("✗ Not taken:")
    editor.setFocus()
    press(Qt.Key.Key_Escape)
    assert (editor.text, editor.message) == (before, "")


def test_a_share_that_can_be_read_in_two_ways_is_refused(edit, session):
    editor = edit("motor", "efficiency", session.line.stations[0].motors[0])
    type_text("0.82")
    enter()
    assert editor.told == []
    assert "82 %" in editor.message


def test_signs_of_any_script_can_be_typed(edit, session):
    editor = edit("station", "name", session.line.stations[0])
    replace_with("Łódź ñandú 10 Ω → € 果")
    enter()
    assert editor.told == [("name", {"name": "Łódź ñandú 10 Ω → € 果"})]


def test_undo_takes_back_typing_first_and_is_the_windows_afterwards(edit, session, qtbot):
    editor = edit("station", "name", session.line.stations[0])
    heard = []
    window = editor.window()
    window.addAction("Undo", "Ctrl+Z", lambda: heard.append("undo"))
    type_text("x")
    press(Qt.Key.Key_Z, CTRL)
    assert (editor.text, heard) == ("Station 1", [])
    press(Qt.Key.Key_Z, CTRL)
    assert heard == ["undo"]


def test_arrows_in_a_list_choose_and_enter_stores_once(edit, session):
    editor = edit("station", "area", session.line.stations[0])
    for _ in range(3):
        press(Qt.Key.Key_Down)
    assert editor.told == []
    enter()
    assert editor.told == [("area", {"area": "washdown"})]


def test_a_word_is_chosen_by_typing_its_beginning(edit, session):
    editor = edit("station", "kind", session.line.stations[0])
    type_text("Cup")
    tab()
    assert editor.told == [("kind", {"kind": "cup_conveyor"})]


def test_the_wheel_changes_no_choice(edit, session):
    editor = edit("station", "kind", session.line.stations[0])
    before = editor.text
    wheel = QWheelEvent(
        QPointF(5, 5),
        editor.mapToGlobal(QPointF(5, 5)),
        QPoint(),
        QPoint(0, -240),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(editor.input, wheel)
    assert editor.text == before


def test_a_reference_lists_the_records_there_are_by_name(edit, session):
    editor = edit("drive", "supply_id", session.line.stations[0].drive)
    words = [editor.input.itemText(at) for at in range(editor.input.count())]
    assert words == ["", "Shed", "Office"]
    type_text("Off")
    enter()
    assert editor.told == [("supply_id", {"supply_id": session.line.supplies[1].id})]


def test_a_note_takes_several_lines_and_tab_leaves_it(edit, session):
    editor = edit("station", "notes", session.line.stations[0])
    type_text("one")
    enter()
    type_text("two")
    tab()
    assert editor.told == [("notes", {"notes": "one\ntwo"})]


def test_what_is_typed_is_stored_when_something_else_is_asked_for(edit, session):
    editor = edit("station", "name", session.line.stations[0])
    replace_with("Sump pump")
    settle_focused()
    assert editor.told == [("name", {"name": "Sump pump"})]


def test_a_conductor_in_square_millimetres_keeps_its_unit_in_a_us_line(edit, session):
    session.do(actions.add_record, "cable", session.line.stations[0].id, conductor_m2=2.5e-6)
    editor = edit("cable", "conductor_m2", session.line.stations[0].cables[0])
    assert editor.text == "2.5 mm²"
    assert editor.input.unit == ""
