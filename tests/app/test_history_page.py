"""The history as it is told: in the words of the fields, newest first, to be found and copied."""

import datetime

import pytest
from PySide6.QtGui import QGuiApplication

from app.history_page import HEADINGS, HistoryModel, HistoryPage
from app.history_rows import local_time, shown_changes
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
    made = HistoryPage(session)
    qtbot.addWidget(made)
    made.resize(1000, 500)
    made.show()
    return made


def first(page, heading):
    return page.model.index(0, HEADINGS.index(heading)).data()


def told(page):
    return [page.model.shown_row(row) for row in range(page.model.rowCount())]


def test_the_model_is_sound(session, qtmodeltester):
    model = HistoryModel()
    model.show_rows(shown_changes(session.book.history(), session.line))
    qtmodeltester.check(model)


def test_a_change_is_told_in_the_words_and_units_of_the_line(page, session):
    motor = session.line.stations[0].motors[0]
    session.do(actions.set_fields, "motor", motor.id, speed_rad_s=188.49555921538757)
    assert first(page, "Step") == "Set rated speed"
    assert first(page, "Where") == "A01"
    assert first(page, "What") == "Motor: Rated speed"
    assert first(page, "From") == ""
    assert first(page, "To") == "1800 rpm"
    assert first(page, "Who") == session.book.person


def test_a_quantity_is_told_in_the_unit_system_of_today(page, session):
    motor = session.line.stations[0].motors[0]
    session.do(actions.set_fields, "motor", motor.id, power_w=550.0, power_typed="0.55 kW")
    session.do(actions.set_fields, "line", session.line.id, unit_system="metric")
    page.finder.setText("rated power motor:")
    changes = [(row.what, row.before, row.after) for row in told(page)]
    assert ("Motor: Rated power", "0.7457 kW", "0.55 kW") in changes
    assert ("Motor: Rated power, as typed", "1 hp", "0.55 kW") in changes


def test_a_setting_is_told_by_its_code_also_when_it_is_gone(page, session):
    station = session.line.stations[0]
    session.do(actions.set_settings, {station.id: {"hz-max": "50"}})
    assert first(page, "What") == "Drive setting hz-max: Value"
    assert (first(page, "From"), first(page, "To")) == ("60", "50")
    session.do(actions.set_settings, {station.id: {"hz-max": ""}})
    assert first(page, "What") == "Drive setting hz-max"
    assert first(page, "To") == "removed"
    assert [row.after for row in told(page) if row.what == "Drive setting hz-max: Value"] == ["50"]


def test_references_and_choices_are_told_by_their_words(page, session):
    drive = session.line.stations[0].drive
    session.do(
        actions.set_fields, "drive", drive.id, supply_id=session.line.supplies[0].id,
        supply_lines="L1 L2",
    )  # fmt: skip
    changes = {row.what: row.after for row in told(page)}
    assert changes["Drive: Supply"] == "Shed"
    assert changes["Drive: Fed from"] == "L1 and L2"


def test_an_undo_is_told_as_such(page, session):
    session.do(actions.set_settings, {session.line.stations[0].id: {"hz-max": "50"}})
    session.undo()
    assert first(page, "Step") == "Undo: Set hz-max"
    assert (first(page, "From"), first(page, "To")) == ("50", "60")


def test_only_changes_with_every_word_are_found(page):
    page.finder.setText("a02 hz-max")
    assert {(row.where, row.what) for row in told(page)} == {("A02", "Drive setting hz-max")}
    assert page.counted.text() == "1 change"
    page.finder.setText("no such thing")
    assert page.model.rowCount() == 0


def test_chosen_changes_are_copied_with_headings(page):
    page.view.selectRow(0)
    page.copy()
    head, row, *rest = QGuiApplication.clipboard().text().split("\r\n")
    assert head.split("\t") == list(HEADINGS)
    assert row.split("\t")[2] == "Choose drives"
    assert rest == [""]


def test_older_changes_are_read_on_demand(page, session, monkeypatch):
    whole = page.model.rowCount()
    page._newest = 5
    page.show_line()
    assert page.model.rowCount() < whole
    assert page.older.isVisible()
    page.older.click()
    page.older.click()
    page.older.click()
    assert page.model.rowCount() == whole
    assert not page.older.isVisible()


def test_the_time_is_that_of_the_place():
    stored = datetime.datetime(2026, 11, 25, 12, 0, 0, tzinfo=datetime.UTC)
    told_time = datetime.datetime.fromisoformat(local_time(stored.isoformat()))
    assert told_time.astimezone(datetime.UTC) == stored


def test_empty_parts_of_a_removed_station_are_not_told(page, session):
    session.do(actions.remove_station, session.line.stations[0].id)
    removed = [row.what for row in told(page) if row.step == "Remove station A01"]
    assert removed == ["Station", "Drive", "Drive setting hz-max", "Motor"]


def test_a_new_file_tells_its_making(tmp_path, qtbot):
    session = Session()
    session.take(LineFile.create(tmp_path / "new.linebook", name="Shed"))
    page = HistoryPage(session)
    qtbot.addWidget(page)
    assert ("Line", "Line Shed") in {(row.what, row.after) for row in told(page)}
    when = datetime.datetime.fromisoformat(told(page)[0].when)
    assert abs(datetime.datetime.now() - when) < datetime.timedelta(minutes=1)
    session.close()


def test_freezing_is_told_with_its_reason(page, session):
    made = session.book.freeze("as_commissioned", "R. Vale", "Handover to the owner", "{}")
    page.show_line()
    assert first(page, "Who") == "R. Vale"
    assert first(page, "Step") == "Freeze: As commissioned, revision 1"
    assert first(page, "What") == "Frozen record"
    assert first(page, "To") == f"Handover to the owner, SHA-256 {made.sha256[:16]}"
