"""Calibration by keyboard: readings typed and stored at once, judged, and what to set."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QLabel

from app.calibration_rows import FREQUENCY
from app.calibration_view import CalibrationView
from app.remarks import CautionCard
from app.session import Session
from core.sheets.drawing import Words
from core.store import LineFile, actions
from tests.app.keyboard import (
    CTRL,
    enter,
    focused,
    press,
    replace_with,
    show_active,
    tab,
    type_text,
)
from tests.app.sample_copy import copied

# A07 of the sample: a potentiometer from 20 to 60 Hz, its keypad shows one decimal.
UP = ("20.9", "30.23", "39.65", "48.92", "58.3")
DOWN = ("58.3", "49.42", "40.15", "30.73", "20.9")


@pytest.fixture
def view(qtbot, tmp_path):
    session = Session()
    session.take(LineFile.open(copied(tmp_path)))
    view = CalibrationView(session)
    qtbot.addWidget(view)
    view.resize(1366, 640)
    show_active(qtbot, view)
    choose(view, "A07")
    yield view
    session.close()


def choose(view, tag):
    view.show_station(view.session.line.station_tagged(tag).id)


def stored(view, state="found"):
    return [
        (point.direction, point.share, point.frequency_hz)
        for point in view.session.line.calibration_points
        if point.state == state and point.direction in ("up", "down")
    ]


def into_cell(text):
    type_text(text)
    enter()
    QApplication.processEvents()  # a table ends an entry once the key is dealt with


def type_readings(view, *texts):
    view.table.view.setFocus()
    for text in texts:
        into_cell(text)


def cell(view, row, heading):
    at = next(
        place
        for place in range(view.table.model.columnCount())
        if view.table.model.headerData(place, Qt.Orientation.Horizontal).startswith(heading)
    )
    return view.table.model.index(row, at).data()


def figure(view, key):
    return view.answer.figures.row(key).figure


def test_wired_stations_come_first_and_the_others_say_so(view):
    station = view.session.line.station_tagged("A01")
    view.session.do(actions.set_fields, "speed_reference", station.reference.id, source="keypad")
    texts = [view.stations.itemText(place) for place in range(view.stations.count())]
    assert texts[0].startswith("A02")
    assert texts[-1].startswith("A01")
    assert texts[-1].endswith("(no wired reference)")
    assert view.stations.currentText().startswith("A07")
    choose(view, "A01")
    assert view.nothing.text().startswith("No signal sets the speed")


def test_an_empty_table_offers_the_places_up_and_down_with_what_is_wanted(view):
    assert [cell(view, row, "Of travel") for row in range(10)] == [
        "0", "25", "50", "75", "100", "100", "75", "50", "25", "0",
    ]  # fmt: skip
    # From 20 to 60 Hz on a straight line.
    assert [cell(view, row, "Wanted") for row in range(5)] == ["20", "30", "40", "50", "60"]
    assert view.answer.verdict.text().startswith("○ Nothing read yet")
    assert view.session.line.calibration_points == ()


def test_ten_readings_by_keys_alone_are_stored_one_by_one(view):
    view.table.view.setFocus()
    for number, text in enumerate((*UP, *DOWN), start=1):
        into_cell(text)
        assert len(stored(view)) == number
    assert stored(view)[:2] == [("up", 0.0, 20.9), ("up", 0.25, 30.23)]
    assert stored(view)[-1] == ("down", 0.0, 20.9)
    # 58.3 - 60; and 49.42 - 48.92 between down and up at 75 %.
    assert figure(view, "calibration_worst_hz").value == pytest.approx(-1.7)
    assert figure(view, "calibration_hysteresis_hz").value == pytest.approx(0.5)
    assert view.answer.verdict.text() == "As found: ✗ Out of the limit"
    assert cell(view, 4, "Result") == "✗ out"
    assert cell(view, 4, "Deviation") == "-1.7"
    assert cell(view, 0, "Deviation") == "+0.9"


def test_the_settings_to_change_are_told_as_the_keypad_shows_them_and_stored(view):
    type_readings(view, *UP, *DOWN)
    change, _ = view.answer.settings["top"]
    # numpy.polyfit of the ten readings: zero 21.052, span 37.396 Hz; signal 0.0263 to 0.9612;
    # span 40 / 0.9349 = 42.785, bottom 20 - 42.785 * 0.0263 = 18.875, top 61.660.
    assert change.text() == "▸ Top  ref-high-hz: 60.0 → 61.7 Hz"
    assert view.answer.settings["bottom"][0].text() == "▸ Bottom  ref-low-hz: 20.0 → 18.9 Hz"
    view.answer.store_button.setFocus()
    press(Qt.Key.Key_Space)
    # The button goes; the next thing to do is to read as left.
    assert focused() is view.states["left"]
    drive = view.session.line.station_tagged("A07").drive
    assert (drive.setting("ref-high-hz").shown, drive.setting("ref-low-hz").shown) == (
        "61.7",
        "18.9",
    )
    # The readings as found are judged as before, and nothing more is asked for.
    assert figure(view, "calibration_worst_hz").value == pytest.approx(-1.7)
    assert view.answer.settings["top"][0].text() == "= Top  ref-high-hz: 61.7 Hz stays"
    assert "It stood at 60 Hz" in view.answer.settings["top"][1].text()
    assert view.answer.store_button.isHidden()
    view.session.undo()
    assert view.session.line.station_tagged("A07").drive.setting("ref-high-hz").shown != "61.7"


def test_readings_that_do_not_count_are_told_with_the_way_they_were_read(view):
    drive = view.session.line.station_tagged("A07").drive
    minimum = drive.setting("hz-min")
    view.session.do(actions.set_fields, "setting", minimum.id, shown="20", value=20.0)
    low = drive.setting("ref-low-hz")
    view.session.do(actions.set_fields, "setting", low.id, shown="10", value=10.0)
    # From 10 to 60 Hz on a straight line; below 20 Hz the drive holds its minimum.
    type_readings(view, "20", "22.5", "35", "47.5", "60", "60", "47.5", "35", "22.5", "20")
    assert "limits: 0 % up, 0 % down." in view.answer.detail.text()


def test_readings_as_left_are_judged_by_what_was_wanted_first(view, qtbot):
    type_readings(view, *UP, *DOWN)
    view.answer.store_button.click()
    press(Qt.Key.Key_L, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: view.state == "left")
    assert view.ends.fields["wanted_1"].text == "60"
    assert view.ends.fields["set_1"].text == "61.7"
    type_readings(view, "20", "30.1", "40", "49.9", "60")
    assert view.answer.verdict.text() == "As left: ✓ Every reading is within the limit"
    assert view.answer.store_button.isHidden()
    texts = [item.text for item in view.chart.drawing.flat() if isinstance(item, Words)]
    assert "as found, going down" in texts
    assert "as left, going up" in texts


def test_a_half_typed_table_stays_through_other_states_and_stations(view):
    type_readings(view, *UP[:3])
    type_text("48.9")  # not yet meant by Enter
    view.show_state("left")
    assert cell(view, 0, "Read") == ""
    choose(view, "A05")
    choose(view, "A07")
    view.show_state("found")
    assert [cell(view, row, "Read") for row in range(5)] == ["20.9", "30.23", "39.65", "48.9", ""]
    assert view.table.view.currentIndex().row() == 4
    assert view.table.view.currentIndex().column() == FREQUENCY


def test_undo_takes_back_one_reading_and_redo_brings_it_again(view):
    type_readings(view, *UP[:2])
    view.session.undo()
    assert stored(view) == [("up", 0.0, 20.9)]
    assert cell(view, 1, "Read") == ""
    view.session.redo()
    assert cell(view, 1, "Read") == "30.23"
    view.session.undo()
    view.session.undo()
    assert view.session.line.calibration_points == ()


def test_a_wrong_text_is_told_and_the_last_good_value_stays(view):
    type_readings(view, "20.9")
    view.table.view.setCurrentIndex(view.table.model.index(0, FREQUENCY))
    into_cell("12 kg")
    assert "12 kg" in view.table.grid.faults.text
    assert stored(view) == [("up", 0.0, 20.9)]


def test_units_and_speeds_are_those_of_the_line(view):
    type_readings(view, "30")
    column = FREQUENCY + 3
    view.table.view.setCurrentIndex(view.table.model.index(0, column))
    into_cell("0.3 m/s")
    [point] = [p for p in view.session.line.calibration_points if p.direction == "up"]
    assert point.speed_m_s == pytest.approx(0.3)
    assert cell(view, 0, "Speed read") == "59.06"  # 0.3 / 0.3048 * 60 ft/min


def test_who_reads_and_by_what_goes_with_every_reading_typed_from_then_on(view):
    type_readings(view, "20.9")
    view.table.person.setFocus()
    replace_with("Zoe Quist")
    tab()
    assert focused() is view.table.instrument
    type_text("X-7")
    type_readings(view, "30.23")
    told = [(p.person, p.instrument) for p in view.session.line.calibration_points
            if p.direction == "up"]  # fmt: skip
    assert told == [("", ""), ("Zoe Quist", "X-7")]
    assert all(p.done_at for p in view.session.line.calibration_points if p.direction == "up")


def test_names_are_proposed_from_the_line_and_from_the_last_reading(view):
    names = {held.name for held in view.session.line.people}
    assert names <= set(view.table._people())
    type_readings(view, "20.9")
    view.table.person.setFocus()
    replace_with("Zoe Quist")
    type_readings(view, "30.23")
    fresh = CalibrationView(view.session)
    assert fresh.table.person.text() == "Zoe Quist"
    fresh.deleteLater()


def test_what_is_wanted_can_be_typed_and_taken_back(view):
    field = view.ends.fields["wanted_1"]
    field.setFocus()
    replace_with("58")
    enter()
    assert [cell(view, row, "Wanted") for row in (0, 4)] == ["20", "58"]
    type_readings(view, "20.9")
    assert view.ends.note.text().startswith("✓ Kept")
    field.setFocus()
    press(Qt.Key.Key_A, CTRL)
    press(Qt.Key.Key_Delete)
    enter()
    assert cell(view, 4, "Wanted") == "60"


def test_a_place_of_ones_own_is_added_in_the_last_row_and_finds_its_place(view):
    last = view.table.model.rowCount() - 1
    view.table.view.setFocus()
    view.table.view.setCurrentIndex(view.table.model.index(last, 1))
    into_cell("10 %")
    assert [cell(view, row, "Of travel") for row in range(3)] == ["0", "10", "25"]
    assert cell(view, 1, "Wanted") == "24"


def test_a_pasted_column_of_readings_is_one_step(view, qtbot):
    view.table.view.setFocus()
    view.table.view.setCurrentIndex(view.table.model.index(0, FREQUENCY))
    QApplication.clipboard().setText("\n".join(UP))
    view.table.grid.paste()
    assert [hertz for _, _, hertz in stored(view)] == [float(text) for text in UP]
    view.session.undo()
    assert stored(view) == []


def test_a_figure_shows_how_it_comes_about_and_leads_back(view):
    type_readings(view, *UP)
    row = view.answer.figures.row("calibration_zero_hz")
    row.setFocus()
    press(Qt.Key.Key_Space)
    assert "IEC 61298-2" in view.working.text
    press(Qt.Key.Key_Escape)
    assert view.working.isHidden()
    assert focused() is row


def test_a_low_window_has_the_three_parts_behind_tabs(view, qtbot):
    type_readings(view, *UP)
    view.resize(683, 300)
    qtbot.waitUntil(lambda: view.room.is_wide is False)
    tabs = view.room.tabs
    assert [tabs.tabText(place) for place in range(tabs.count())] == [
        "Readings", "Chart", "What to set",
    ]  # fmt: skip
    tabs.setCurrentIndex(1)
    assert "as found, going up" in view.chart.accessibleName()
    view.resize(1366, 640)
    qtbot.waitUntil(lambda: view.room.is_wide is True)
    assert view.answer.isVisible()
    assert view.table.isVisible()


def test_the_caution_stands_where_the_work_is_done(view, qtbot):
    def cautions():
        found = view.findChildren(CautionCard)
        return [card for card in found if card.isVisible()]

    assert len(cautions()) == 1
    view.resize(683, 300)
    qtbot.waitUntil(lambda: view.room.is_wide is False)
    assert len(cautions()) == 1  # below the readings, as the other one is behind its tab
    assert "Keep guards on" in cautions()[0].findChildren(QLabel)[1].text()


def test_every_input_has_a_name(view):
    for widget in (
        view.stations, *view.states.values(), view.table.person, view.table.instrument,
        view.table.view, *(field.input for field in view.ends.fields.values()),
    ):  # fmt: skip
        assert QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)


def test_a_line_without_stations_shows_nothing_to_type(qtbot, tmp_path):
    session = Session()
    session.take(LineFile.create(tmp_path / "new.linebook", name="New"))
    view = CalibrationView(session)
    qtbot.addWidget(view)
    view.show()
    assert view.room.isHidden()
    session.close()


def test_keys_are_neither_those_of_the_menus_nor_of_each_other(view):
    texts = [button.text() for button in view.states.values()]
    texts += [label.text() for label in view.findChildren(QLabel)]
    keys = [text[text.index("&") + 1].upper() for text in texts if "&" in text]
    assert sorted(keys) == sorted(set(keys) - set("FEVH"))
    assert len(keys) == 5


def test_an_instrument_whose_calibration_ran_out_is_told_before_anything_is_read(view):
    line = view.session.line
    name, serial = line.instruments[0].name, line.instruments[0].serial
    meter = line.instruments[0].id
    view.session.do(actions.set_fields, "instrument", meter, calibration_due="2001-02-03")
    # Set as a whole: while it is typed, the instruments of the line are offered below.
    view.table.instrument.setText(f"{name} {serial}".strip())
    assert view.instrument_note.text().startswith("✗ Instrument for what is read now.")
    assert view.instrument_note.text().endswith(" Its calibration ran out on 2001-02-03.")
    assert view.instrument_note.objectName() == "refusal"
