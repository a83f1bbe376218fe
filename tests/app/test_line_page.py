"""The page of what the whole line shares."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from app.line_page import LinePage
from app.session import Session
from core.model import RECORDS
from core.store import actions
from tests.app.made_line import make_book


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def page(session, qtbot):
    made = LinePage(session)
    qtbot.addWidget(made)
    made.resize(1000, 600)
    made.show()
    return made


def test_every_field_of_the_line_can_be_reached(page, session):
    assert set(page.form.shown_fields()) == {spec.name for spec in RECORDS["line"].fields}


def test_the_language_of_the_sheets_is_switched_for_the_line(page, session):
    assert RECORDS["line"].field("language").label == "Language of sheets"
    choice = page.form.editor("language").input
    choice.setCurrentIndex(choice.findText("Spanish"))
    choice.activated.emit(choice.currentIndex())
    assert session.line.language == "es"


def test_a_quantity_of_the_line_is_typed_in_any_unit(page, session, qtbot):
    field = page.form.editor("altitude_m").input
    field.setFocus()
    qtbot.keyClicks(field, "610 m")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert session.line.altitude_m == pytest.approx(610.0)


def test_each_list_of_the_line_has_its_grid(page):
    texts = [page.parts.tabText(place) for place in range(page.parts.count())]
    assert texts == [
        "Line", "Supplies (2)", "Enclosures (0)", "Buses (0)", "People (0)", "Instruments (0)",
        "Flow (0)", "Recipes (0)", "Pairs (0)", "Accepted findings (0)",
    ]  # fmt: skip


def test_people_are_pasted_from_a_spreadsheet(page, session):
    assert page.focus_field("person", "name")
    grid = page.panels["person"].grid
    grid.view.setCurrentIndex(grid.model.index(0, 0))
    QGuiApplication.clipboard().setText("Ana Ruiz\tElectrician\r\nJo Hale\tOwner\r\n")
    grid.paste()
    assert [(person.name, person.role) for person in session.line.people] == [
        ("Ana Ruiz", "Electrician"),
        ("Jo Hale", "Owner"),
    ]
    assert page.parts.tabText(4) == "People (2)"


def test_a_supply_is_edited_in_its_cell_and_a_bad_date_is_told(page, session):
    supplies = page.panels["supply"].model
    supplies.setData(supplies.index(0, 0), "Main service")
    assert session.line.supplies[0].name == "Main service"
    instruments = page.panels["instrument"]
    instruments.model.setData(instruments.model.index(0, 0), "Multimeter")
    instruments.model.setData(instruments.model.index(0, 2), "next spring")
    assert "Type a date such as" in instruments.grid.faults.text
    assert session.line.instruments[0].calibration_due is None


def test_units_switch_headings_and_values(page, session):
    heading = page.panels["enclosure"].model.headerData(1, Qt.Orientation.Horizontal)
    assert heading == "Height\n[in]"
    session.do(actions.set_fields, "line", session.line.id, unit_system="metric")
    heading = page.panels["enclosure"].model.headerData(1, Qt.Orientation.Horizontal)
    assert heading == "Height\n[mm]"


def test_focus_goes_to_a_field_by_its_name(page):
    assert page.focus_field("line", "owner")
    assert page.focusWidget() is page.form.editor("owner").input
    assert not page.focus_field("motor", "power_w")


def test_a_closed_file_shows_nothing(page, session):
    session.close()
    assert not page.parts.isVisible()
