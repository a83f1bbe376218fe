"""The page of drive types: add, copy, remove, ratings and lists."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit

from app.drive_types_page import DriveTypesPage
from app.session import Session
from core.store import LineFile, actions
from tests.app.made_line import make_book


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def page(session, qtbot):
    made = DriveTypesPage(session)
    qtbot.addWidget(made)
    made.resize(1000, 600)
    made.show()
    return made


def names(page):
    return [page.types.item(row).text() for row in range(page.types.count())]


def test_the_drive_types_of_the_file_are_listed_with_what_uses_them(page):
    assert names(page) == ["Small drive", "Large drive"]
    assert page.chosen.name == "Small drive"
    assert "Used by A01, A03" in page.types.item(0).toolTip()
    assert [page.parts.tabText(at) for at in range(4)] == [
        "Ratings", "Terminals (2)", "Reference inputs (0)", "Listed settings (4)",
    ]  # fmt: skip


def test_another_one_shows_its_own_ratings_and_lists(page, session):
    page.types.setCurrentRow(1)
    assert page.form.record is session.line.drive_types[1]
    assert page.parts.tabText(3) == "Listed settings (5)"


def test_a_rating_is_typed_with_its_unit(page, session, qtbot):
    field = page.form.editor("output_current_a").input
    field.setFocus()
    qtbot.keyClicks(field, "4.6 A")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert session.line.drive_types[0].output_current_a == 4.6


def test_a_new_one_is_chosen_with_its_name_ready_to_be_typed(page, session, qtbot):
    qtbot.mouseClick(page.add_button, Qt.MouseButton.LeftButton)
    assert names(page) == ["Small drive", "Large drive", "Drive type 1"]
    assert page.chosen.name == "Drive type 1"
    assert page.focusWidget() is page.form.editor("name").input
    page.add_button.click()
    assert names(page)[-1] == "Drive type 2"


def test_a_copy_has_the_lists_of_its_source(page, session):
    page.types.setCurrentRow(1)
    page.copy_button.click()
    assert page.chosen.name == "Large drive (2)"
    assert len(page.chosen.listed_settings) == 5


def test_one_in_use_is_not_removed_and_that_is_told(page, session):
    page.remove_button.click()
    assert names(page) == ["Small drive", "Large drive"]
    assert "still used by A01, A03" in page.faults.text


def test_one_that_nothing_uses_is_removed(page, session):
    page.add_button.click()
    page.remove_button.click()
    assert names(page) == ["Small drive", "Large drive"]
    assert page.chosen.name == "Large drive"
    session.undo()
    assert names(page)[-1] == "Drive type 1"


def test_the_chosen_one_stays_chosen_through_steps(page, session):
    page.types.setCurrentRow(1)
    session.do(actions.move_record, "drive_type", session.line.drive_types[1].id, 0)
    assert names(page) == ["Large drive", "Small drive"]
    assert page.chosen.name == "Large drive"


def test_without_any_the_page_says_so_and_offers_to_add(tmp_path, qtbot):
    session = Session()
    session.take(LineFile.create(tmp_path / "new.linebook"))
    page = DriveTypesPage(session)
    qtbot.addWidget(page)
    page.show()
    assert page.lacking.isVisible()
    assert not page.parts.isVisible()
    assert not page.remove_button.isEnabled()
    page.add_button.click()
    assert page.parts.isVisible()
    session.close()
    assert not page.add_button.isEnabled()


def test_choices_without_meanings_are_refused_beside_the_table_and_the_good_value_stays(
    page, session, qtbot
):
    page.parts.setCurrentIndex(3)
    grid = page.panels["listed_setting"].grid
    model = grid.model
    heads = [column.spec.name for column in model.columns]
    row = next(n for n, held in enumerate(model.rows) if held.code == "ref-from")
    before = session.line.drive_types[0].listed_settings[row].options
    grid.view.setCurrentIndex(model.index(row, heads.index("options")))
    grid.view.setFocus()
    qtbot.keyClicks(grid.view, "0")
    editor = grid.view.findChild(QLineEdit)
    qtbot.keyClicks(editor, " keypad; 1 analogue")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: "'0 keypad', which has no =" in grid.faults.text)
    assert "such as 0 = keypad; 1 = analogue input." in grid.faults.text
    assert session.line.drive_types[0].listed_settings[row].options == before


def test_choices_that_an_older_file_holds_as_any_text_are_shown_and_copied(page, session):
    with session.book.step("As older versions took it") as step:
        listed = session.line.drive_types[0].listed_settings[0]
        step.set("listed_setting", listed.id, options="0 keypad; 1 analogue")
    path = session.file_path
    session.close()
    session.open(path)
    made = actions.duplicate_drive_type(session.book, session.line.drive_types[0].id)
    copied = session.line.drive_type(made).listed_settings[0]
    assert copied.options == "0 keypad; 1 analogue"


def test_a_wait_is_shown_in_minutes_and_a_bare_number_over_it_is_refused(page, session, qtbot):
    drive_type = session.line.drive_types[0]
    session.do(actions.set_fields, "drive_type", drive_type.id, discharge_wait_s=300.0)
    editor = page.form.editor("discharge_wait_s")
    assert editor.input.text() == "5 min"
    editor.input.setFocus()
    editor.input.selectAll()
    qtbot.keyClicks(editor.input, "10")
    qtbot.keyClick(editor.input, Qt.Key.Key_Return)
    assert session.line.drive_types[0].discharge_wait_s == 300.0
    told = " ".join(label.text() for label in editor.findChildren(QLabel))
    assert "'10' can mean 10 min or 10 s." in told
    assert editor.input.text() == "10"
    qtbot.keyClicks(editor.input, "10 min")  # over what was refused, which is selected
    qtbot.keyClick(editor.input, Qt.Key.Key_Return)
    assert session.line.drive_types[0].discharge_wait_s == 600.0
    assert editor.input.text() == "10 min"


def test_a_bare_number_in_a_cell_that_shows_a_larger_unit_is_refused(page, session):
    session.do(
        actions.add_record, "reference_input", session.line.drive_types[0].id, name="X1:2",
        input_resistance_ohm=20000.0,
    )  # fmt: skip
    model = page.panels["reference_input"].model
    at = [column.spec.name for column in model.columns].index("input_resistance_ohm")
    assert model.index(0, at).data() == "20 kΩ"
    assert not model.setData(model.index(0, at), "47")
    assert "'47' can mean 47 kΩ or 47 Ω." in page.panels["reference_input"].grid.faults.text
    assert model.setData(model.index(0, at), "47k")
    assert session.line.drive_types[0].reference_inputs[0].input_resistance_ohm == 47000.0
