"""The window as a person uses it: by keyboard, over a real file."""

import shutil
from importlib.resources import as_file, files

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QFileDialog,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
)

from app.settings import Settings
from app.station_sections import SECTIONS
from app.theme import LOOKS, apply_look
from app.window import MainWindow
from core.store import LineFile, actions
from tests.app.keyboard import (
    ALT,
    CTRL,
    SHIFT,
    enter,
    focused,
    press,
    replace_with,
    show_active,
    tab,
    type_text,
)
from tests.app.made_line import make_book
from tests.core import drawn_photos

LAPTOP = (1366, 740)
LIST_OF_DRIVE = "Code\tWhat it means to Linebook\tUnit\nf-top\tMaximum frequency\tHz\n"


@pytest.fixture
def window(qtbot, tmp_path):
    application = QApplication.instance()
    before = application.palette(), application.font(), application.styleSheet()
    apply_look(application, "light")
    made = MainWindow(Settings())
    qtbot.addWidget(made)
    made.resize(*LAPTOP)
    show_active(qtbot, made)
    yield made
    made.close()
    application.setPalette(before[0])
    application.setFont(before[1])
    application.setStyleSheet(before[2])


@pytest.fixture
def filled(window, tmp_path, qtbot):
    """The window with a small line open."""
    book = make_book(tmp_path / "test.linebook")
    book.close()
    window.open_path(tmp_path / "test.linebook")
    qtbot.waitUntil(lambda: window.stations.station_page.is_whole)
    return window


@pytest.fixture(params=["quillback_hollow", "lindenmoor"])
def sample(window, tmp_path, request, qtbot):
    """The window with a copy of a sample open."""
    path = tmp_path / f"{request.param}.linebook"
    with as_file(files("sample_projects").joinpath(path.name)) as source:
        shutil.copyfile(source, path)
    window.open_path(path)
    qtbot.waitUntil(lambda: window.stations.station_page.is_whole)
    return window


def editor(window, table, name):
    page = window.stations.station_page
    form = page.motors.form if table == "motor" else page.forms[table]
    return form.editor(name)


# --- a new user ---------------------------------------------------------------------------------


def test_a_new_user_enters_a_whole_station_by_keyboard_alone(window, tmp_path, qtbot):
    """Every value below is typed; the expected speeds are worked by hand beside it."""
    window.new_line(tmp_path / "my line.linebook")
    assert focused() is window.stations.first_button
    press(Qt.Key.Key_Space)  # Add the first station
    assert focused() is editor(window, "station", "tag").input
    tab()
    type_text("Take-away belt")
    tab()
    type_text("Belt")
    enter()

    press(Qt.Key.Key_2, CTRL)  # Motor
    entries = {
        "power_w": "0.55 kW",
        "voltage_low_v": "230",
        "current_low_a": "2,6",
        "connected_for": "The lower",
        "frequency_hz": "50",
        "speed_rad_s": "1400",
        "power_factor": "0.75",
        "efficiency": "71 %",
    }
    _fill(window, "motor", entries)
    press(Qt.Key.Key_3, ALT)  # Drive types
    press(Qt.Key.Key_A, ALT)  # Add, which Qt shows pressed for a moment
    qtbot.waitUntil(lambda: len(window.session.line.drive_types) == 1)
    replace_with("Small drive")
    for _ in range(3):
        press(Qt.Key.Key_Tab, CTRL)  # Listed settings
    tab(_tabs_to(window.page("drive_types").panels["listed_setting"].grid.view))
    QGuiApplication.clipboard().setText(LIST_OF_DRIVE)
    press(Qt.Key.Key_V, CTRL)
    press(Qt.Key.Key_1, ALT)  # Stations
    qtbot.waitUntil(lambda: window.stations.station_page.jumps.isVisible())
    press(Qt.Key.Key_3, CTRL)  # Drive and feed
    type_text("Small")
    tab()
    press(Qt.Key.Key_4, CTRL)  # Drive settings
    press(Qt.Key.Key_Right)
    type_text("50")
    enter()
    qtbot.waitUntil(lambda: window.session.line.stations[0].drive.settings != ())
    press(Qt.Key.Key_5, CTRL)  # Speed reference
    type_text("Keyp")
    tab()
    _fill(window, "speed_reference", {"now_hz": "40"})
    press(Qt.Key.Key_7, CTRL)  # Drivetrain and process
    entries = {
        "gear_ratio": "10",
        "surface": "Drum",
        "drum_diameter_m": "100 mm",
        "belt_thickness_m": "0",
        "load_fraction": "0",
    }
    _fill(window, "drivetrain", entries)

    station = window.session.line.stations[0]
    assert (station.name, station.kind) == ("Take-away belt", "belt")
    assert station.motors[0].power_w == 550.0
    assert station.motors[0].power_typed == "0.55 kW"
    result = window.session.results.station(station.id)
    # 4 poles: 120·50/4 = 1500 rpm; 550 W / (1400·2π/60 rad/s) = 3.7516 N·m
    rows = window.stations.station_page.figure_lists["motors"]
    assert (
        rows.row("synchronous_speed_rad_s")
        .accessibleName()
        .startswith("Synchronous speed: 1500 rpm")
    )
    assert result.value("rated_torque_n_m") == pytest.approx(3.7516, rel=1e-4)
    # 40 Hz: 120·40/4 = 1200 rpm, over a gear of 10: 120 rpm; π · 0.1 m · 2/s = 0.6283 m/s
    assert result.value("surface_speed_now_m_s") == pytest.approx(0.6283, rel=1e-4)
    assert (result.lacks, result.state) == ((), "complete")
    shown = window.stations.stations.model.index(0).data(Qt.ItemDataRole.ToolTipRole)
    assert shown == "ST01 Take-away belt, Belt, Complete 40 Hz  0.628 m/s"
    assert "Rated torque: 3.752 N·m" in rows.row("rated_torque_n_m").accessibleName()


def _fill(window, table, entries):
    """Go on by Tab from field to field, and type in those that have an entry."""
    left = dict(entries)
    for _ in range(40):
        for name in left:
            if focused() is editor_or_none(window, table, name):
                text = left.pop(name)
                if isinstance(focused(), QLineEdit):
                    replace_with(text)
                else:
                    type_text(text)
                break
        tab()
        if not left:
            return
    raise AssertionError(f"Tab did not reach {list(left)} of {table}")


def _tabs_to(wanted):
    """How often Tab is pressed from the focus to a widget."""
    widget = focused()
    for times in range(30):
        if widget is wanted:
            return times
        widget = widget.nextInFocusChain()
        while not (widget.focusPolicy() & Qt.FocusPolicy.TabFocus and widget.isVisible()):
            widget = widget.nextInFocusChain()
    raise AssertionError("Tab does not get there")


def editor_or_none(window, table, name):
    try:
        return editor(window, table, name).input
    except KeyError:
        return None


def test_a_file_that_cannot_be_opened_at_the_start_is_told_on_the_start_page(qtbot, tmp_path):
    path = tmp_path / "torn.linebook"
    path.write_bytes(b"no line at all")
    made = MainWindow(Settings(), path)
    qtbot.addWidget(made)
    assert made.pages.currentWidget() is made.start_page
    assert "torn.linebook" in made.notice.text
    assert path.read_bytes() == b"no line at all"


def test_nothing_but_the_start_page_is_offered_without_a_file(window):
    assert window.pages.currentWidget() is window.start_page
    assert window.switch.isHidden()
    texts = {action.text(): action.isEnabled() for action in window.menus._needs_file}
    assert not any(texts.values())


def test_units_of_a_new_line_are_chosen_on_the_start_page(window, tmp_path):
    us = next(button for button in window.start_page.units.buttons() if button.objectName() == "us")
    us.click()
    window.new_line(tmp_path / "us.linebook")
    line = window.session.line
    assert (line.unit_system, line.wiring_rules, line.paper) == ("us", "nec", "letter")


def test_files_opened_before_are_offered_again(window, filled, tmp_path):
    window.close_file()
    assert window.pages.currentWidget() is window.start_page
    asked = []
    window.start_page.recent_asked.connect(asked.append)
    window.start_page._recent.itemAt(0).widget().click()
    assert asked == [(tmp_path / "test.linebook").resolve()]
    assert window.session.is_open


# --- typing -------------------------------------------------------------------------------------


def test_a_power_is_stored_and_its_results_stand_beside_it(filled):
    filled.stations.station_page.reveal(
        "motor", filled.session.line.stations[0].motors[0].id, "power_w"
    )
    replace_with("3/4 hp")
    tab()
    motor = filled.session.line.stations[0].motors[0]
    assert motor.power_w == pytest.approx(559.274903686)
    assert motor.power_typed == "3/4 hp"
    assert "As typed: 3/4 hp" in editor(filled, "motor", "power_w").input.toolTip()
    torque = filled.stations.station_page.figure_lists["motors"].row("rated_torque_n_m")
    assert "Needs rated speed" in torque.accessibleName()


def test_tabbing_through_everything_changes_nothing_in_the_file(sample):
    path = sample.session.book.path
    for system in ("metric", "us", "metric"):
        if sample.session.line.unit_system != system:
            sample.choose_units(system)
        before, newest = sample.session.line, sample.session.book.undo_name
        for station in sample.session.line.stations[:4]:
            sample.stations.choose(station.id)
            for number in range(len(SECTIONS)):
                press(Qt.Key(Qt.Key.Key_1 + number), CTRL)
                visited = set()
                for _ in range(60):
                    visited.add(id(focused()))
                    tab()
                assert len(visited) > 1
        assert sample.session.line is before
        assert sample.session.book.undo_name == newest
    sample.close_file()
    assert LineFile.read(path) == before


def test_wrong_input_is_told_and_the_good_value_stays(filled):
    motor = filled.session.line.stations[0].motors[0]
    filled.stations.station_page.reveal("motor", motor.id, "power_w")
    replace_with("loads")
    tab()
    field = editor(filled, "motor", "power_w")
    assert "'loads'" in field.message
    assert "a power such as" in field.message
    assert filled.session.line.stations[0].motors[0] == motor
    assert field.input.property("wrong") is True


def test_another_unit_system_shows_other_numbers_and_stores_the_same(sample):
    before = sample.session.line.stations
    first = before[0].motors[0].power_w
    sample.choose_units("us" if sample.session.line.unit_system == "metric" else "metric")
    field = editor(sample, "motor", "power_w")
    assert field.input.unit == {"us": "hp", "metric": "kW"}[sample.session.line.unit_system]
    for system in ("metric", "us", "metric", "us", "metric"):
        sample.choose_units(system)
    assert sample.session.line.stations == before
    assert sample.session.line.stations[0].motors[0].power_w == first


# --- undo ---------------------------------------------------------------------------------------


def test_undo_and_redo_by_keyboard_while_a_field_has_the_focus(filled):
    filled.stations.station_page.reveal("station", filled.session.line.stations[0].id, "name")
    replace_with("Sump pump")
    enter()
    assert filled.session.line.stations[0].name == "Sump pump"
    assert filled.menus.undo.text() == "&Undo: Set name"
    press(Qt.Key.Key_Z, CTRL)
    assert filled.session.line.stations[0].name == "Station 1"
    assert editor(filled, "station", "name").text == "Station 1"
    press(Qt.Key.Key_Y, CTRL)
    assert filled.session.line.stations[0].name == "Sump pump"
    press(Qt.Key.Key_Z, CTRL)
    press(Qt.Key.Key_Z, CTRL | SHIFT)
    assert filled.session.line.stations[0].name == "Sump pump"


def test_undo_takes_back_what_is_being_typed_first(filled):
    filled.stations.station_page.reveal("station", filled.session.line.stations[0].id, "name")
    replace_with("first")
    enter()
    type_text("x")
    press(Qt.Key.Key_Z, CTRL)
    assert filled.session.line.stations[0].name == "first"


def test_undo_of_a_step_on_another_station_goes_there(filled):
    first, second = filled.session.line.stations[:2]
    filled.session.do(actions.set_fields, "station", first.id, name="changed")
    filled.stations.choose(second.id)
    filled.undo()
    assert filled.stations.station_id == first.id
    assert filled.stations.stations.current_id == first.id


def test_what_stands_in_a_field_is_stored_when_the_window_closes(filled, tmp_path):
    filled.stations.station_page.reveal("station", filled.session.line.stations[0].id, "name")
    replace_with("typed last")
    filled.close()
    line = LineFile.read(tmp_path / "test.linebook")
    assert line.stations[0].name == "typed last"


# --- stations -----------------------------------------------------------------------------------


def test_stations_are_added_moved_and_removed_by_keyboard(filled):
    filled.stations.stations.view.setFocus()
    press(Qt.Key.Key_N, CTRL | SHIFT)
    tags = [entry.tag for entry in filled.session.line.stations]
    assert tags == ["A01", "ST01", "A02", "A03", "A04"]
    assert filled.stations.station_page.station.tag == "ST01"
    assert focused() is editor(filled, "station", "tag").input
    filled.stations.stations.view.setFocus()
    press(Qt.Key.Key_Down, ALT)
    assert [entry.tag for entry in filled.session.line.stations][1:3] == ["A02", "ST01"]
    press(Qt.Key.Key_Delete, CTRL)
    assert [entry.tag for entry in filled.session.line.stations] == ["A01", "A02", "A03", "A04"]
    assert filled.stations.station_page.station.tag == "A03"


def test_the_page_follows_the_list_and_the_keys_for_the_next_station(filled):
    filled.stations.stations.view.setFocus()
    press(Qt.Key.Key_Down)
    assert filled.stations.station_page.station.tag == "A02"
    press(Qt.Key.Key_PageDown, CTRL)
    assert filled.stations.station_page.station.tag == "A03"
    press(Qt.Key.Key_PageUp, CTRL)
    assert filled.stations.station_page.station.tag == "A02"


def test_keys_go_to_each_section(filled):
    page = filled.stations.station_page
    for number, key in enumerate(SECTIONS, start=1):
        press(Qt.Key(Qt.Key.Key_0 + number % 10), CTRL)
        assert page.section_key == key
        assert page.sections[key].isAncestorOf(focused())


def test_parts_of_another_station_are_taken_over_in_one_step(sample):
    first, second = sample.session.line.stations[:2]
    sample.stations.choose(second.id)
    sample.stations.station_page.head.make_like_button.click()
    panel = sample.stations.make_like
    panel.source.setCurrentIndex(panel.source.findData(first.id))
    for key, box in panel.parts.items():
        box.setChecked(key == "motors")
    panel.take_button.click()
    after = sample.session.line.station(second.id)
    assert after.motors[0].power_w == first.motors[0].power_w
    assert after.motors[0].serial == second.motors[0].serial
    assert after.drive == second.drive
    assert panel.isHidden()
    sample.undo()
    assert sample.session.line.station(second.id) == second


def test_a_second_motor_is_added_and_shown(filled):
    page = filled.stations.station_page
    page.motors.add_button.click()
    station = filled.session.line.stations[0]
    assert len(station.motors) == 2
    assert page.motors.motor == station.motors[1]
    assert focused() is editor(filled, "motor", "power_w").input
    type_text("2 hp")
    enter()
    assert filled.session.line.stations[0].motors[1].power_typed == "2 hp"
    page.motors.remove_button.click()
    assert len(filled.session.line.stations[0].motors) == 1


@pytest.mark.qt_log_ignore("does not support")  # a list of proposed words, without a screen
def test_a_digital_input_is_typed_into_the_table(filled, qtbot):
    table = filled.stations.station_page.tables["digital_input"]
    table.add_button.click()
    view = table.grid.view
    assert view.hasFocus()
    type_text("X1:1")  # which the drive type lists, so that it is proposed as well
    enter()
    qtbot.waitUntil(lambda: filled.session.line.stations[0].digital_inputs[0].terminal == "X1:1")


def test_a_setting_and_its_reason_are_typed_into_the_table(filled, qtbot):
    table = filled.stations.station_page.settings_table
    assert table.reveal("ramp-up")
    type_text("5")
    enter()
    row = [entry.code for entry in table.model.rows].index("ramp-up")
    qtbot.waitUntil(lambda: table.model.cell(row, 1).text == "5")
    assert table.model.cell(row, 1).differs
    table.grid.reveal(row, 4)
    type_text("fruit must not slide")
    enter()
    qtbot.waitUntil(lambda: table.model.cell(row, 4).text != "")
    setting = filled.session.line.stations[0].drive.setting("ramp-up")
    assert (setting.shown, setting.value, setting.reason) == ("5", 5.0, "fruit must not slide")


def test_a_setting_out_of_its_range_is_told_below_the_table(filled, qtbot):
    table = filled.stations.station_page.settings_table
    before = filled.session.line
    table.reveal("hz-max")
    type_text("500")
    enter()
    qtbot.waitUntil(lambda: "above the listed 120 Hz" in table.grid.faults.text)
    assert filled.session.line is before


def test_what_is_still_needed_leads_to_its_field(filled):
    lacks = filled.session.results.station(filled.session.line.stations[0].id).lacks
    links = filled.stations.remarks.links
    assert [link.text() for link in links] == [lack.text for lack in lacks]
    source = next(lack for lack in lacks if lack.field == "source")
    links[list(lacks).index(source)].click()
    assert focused() is editor(filled, "speed_reference", "source").input


def test_enter_on_a_figure_shows_its_working_and_escape_goes_back(sample):
    page = sample.stations.station_page
    row = page.figure_lists["motors"].row("synchronous_speed_rad_s")
    row.setFocus()
    press(Qt.Key.Key_Space)
    assert not page.working.isHidden()
    assert "n₀ = 120·f / p" in page.working.text
    assert "IEC 60034-1" in page.working.text
    press(Qt.Key.Key_Escape)
    assert page.working.isHidden()
    assert focused() is row


def test_cautions_follow_the_section_in_work(sample):
    press(Qt.Key.Key_3, CTRL)
    texts = " ".join(label.text() for label in sample.stations.remarks.findChildren(QLabel))
    assert "DANGER" in texts
    assert "prove dead" in texts
    station = sample.stations.station_page.station
    drive_type = sample.session.line.drive_type(station.drive.drive_type_id)
    assert drive_type.discharge_wait_s == 300.0
    assert f"{drive_type.name}: wait 5 min." in texts


# --- finding ------------------------------------------------------------------------------------


def test_find_goes_to_a_serial_number_of_another_station(filled):
    third = filled.session.line.stations[2]
    filled.session.do(actions.set_fields, "drive", third.drive.id, serial="QZ-4711")
    press(Qt.Key.Key_F, CTRL)
    type_text("qz-47")
    hits = filled.stations.stations.hits
    assert hits.count() == 1
    assert hits.item(0).text().startswith("A03 Drive Serial number")
    enter()
    assert filled.stations.station_id == third.id
    assert focused() is editor(filled, "drive", "serial").input


def test_find_goes_to_the_drive_type_that_lists_a_code(filled):
    press(Qt.Key.Key_F, CTRL)
    type_text("jog-hz")
    enter()
    page = filled.page("drive_types")
    assert filled.pages.currentWidget() is page
    assert page.chosen.name == "Large drive"


def test_find_tells_when_there_is_nothing(filled):
    press(Qt.Key.Key_F, CTRL)
    type_text("no such thing")
    assert filled.stations.stations.hits.item(0).text() == "Nothing found"
    enter()
    press(Qt.Key.Key_Escape)
    assert not filled.stations.stations.view.isHidden()


# --- pages, looks, refusals ---------------------------------------------------------------------


def test_keys_go_to_each_page(sample):
    for number, key in enumerate(sample.switch.buttons, start=1):
        press(Qt.Key(Qt.Key.Key_0 + number), ALT)
        assert sample.pages.currentWidget() is sample.page(key)
        assert sample.switch.buttons[key].isChecked()


def test_the_line_and_the_sheets_gone_to_by_keys_take_the_next_key(sample):
    press(Qt.Key.Key_4, ALT)
    assert focused() is sample.page("line").form.editor("name").input
    press(Qt.Key.Key_8, ALT)
    assert focused() is sample.page("sheets").choice.sheets
    assert focused().accessibleName() == "Sheet"
    # Where the keys were at work they go on.
    press(Qt.Key.Key_4, ALT)
    sample.page("line").form.editor("site").setFocus()
    press(Qt.Key.Key_8, ALT)
    press(Qt.Key.Key_4, ALT)
    assert focused() is sample.page("line").form.editor("site").input


def test_a_list_of_the_line_in_front_takes_the_keys(sample):
    press(Qt.Key.Key_4, ALT)
    page = sample.page("line")
    page.parts.setCurrentIndex(1)
    page.parts.tabBar().setFocus()
    press(Qt.Key.Key_1, ALT)
    press(Qt.Key.Key_4, ALT)
    assert focused() is page.panels["supply"].grid.view


@pytest.mark.parametrize("key", ["stations", "line", "speeds"])
def test_back_to_the_file_the_keys_are_where_they_came_from(sample, key):
    record = sample.session.freeze("as_commissioned", "R. Vale", "Handover")
    sample.session.show_record(sample.session.line, record.name, record.sha256)
    sample.show_page(key)
    before = focused()
    assert sample.pages.currentWidget().isAncestorOf(before)
    sample.trial.discard_button.setFocus()
    press(Qt.Key.Key_Space)
    assert not sample.session.is_trial
    assert focused() is before


@pytest.mark.parametrize("size", [LAPTOP, (683, 384)])
def test_gone_to_by_keys_the_check_in_hand_takes_the_next_key(sample, size, qtbot):
    sample.resize(*size)
    press(Qt.Key.Key_6, ALT)
    hand = sample.page("proving").view("checks").hand
    qtbot.wait(50)  # the view is laid out for its room a moment after it is shown
    assert hand.isAncestorOf(focused())
    press(Qt.Key.Key_PageDown, CTRL)
    press(Qt.Key.Key_PageUp, CTRL)
    assert hand.isAncestorOf(focused())


@pytest.mark.parametrize("size", [LAPTOP, (683, 384)])
def test_a_calibration_gone_to_by_keys_shows_how_each_reading_was_turned(sample, size, qtbot):
    sample.resize(*size)
    press(Qt.Key.Key_6, ALT)
    press(Qt.Key.Key_PageDown, CTRL)
    qtbot.wait(100)  # laid out for its room
    view = sample.page("proving").view("calibration")
    assert view.table.view.horizontalScrollBar().value() == 0
    names = [label for label in view.findChildren(QLabel) if label.text().startswith("Wanted at")]
    assert len(names) == 2
    assert all(label.width() >= label.sizeHint().width() for label in names)


def test_what_a_new_photograph_asks_for_is_scrolled_into_sight(
    filled, tmp_path, qtbot, monkeypatch
):
    path = tmp_path / "plate.jpg"
    path.write_bytes(drawn_photos.as_file(drawn_photos.plate()))
    monkeypatch.setattr(QFileDialog, "getOpenFileNames", lambda *_given: ([str(path)], ""))
    filled.resize(683, 384)
    qtbot.wait(100)  # laid out for its room
    press(Qt.Key.Key_0, CTRL)
    press(Qt.Key.Key_Space)
    form = filled.stations.station_page.photos.form
    qtbot.waitUntil(lambda: form.isAncestorOf(QApplication.focusWidget() or filled), timeout=10_000)
    qtbot.wait(100)  # laid out and scrolled
    assert not focused().visibleRegion().isEmpty()


@pytest.mark.parametrize("look", list(LOOKS))
def test_every_look_draws_other_pixels(sample, look):
    sample.choose_look(look)
    grabbed = sample.grab().toImage()
    ground = grabbed.pixelColor(grabbed.width() // 2, 8).lightness()
    assert (ground < 128) == (look == "dark")
    assert Settings().look == look


@pytest.mark.parametrize("size", [LAPTOP, (683, 384)])
def test_the_window_fits_the_screen_and_cuts_no_button(sample, size, qtbot):
    sample.resize(*size)
    page = sample.stations.station_page
    qtbot.waitUntil(lambda: all(s.width() <= page.width() for s in page.sections.values()))
    assert (sample.width(), sample.height()) == size
    for button in sample.switch.buttons.values():
        assert button.width() >= button.sizeHint().width()
    for section in page.sections.values():
        for kind in (QLineEdit, QComboBox, QPlainTextEdit):
            for field in section.findChildren(kind):
                if field.isVisibleTo(section):
                    right = field.mapTo(section, field.rect().topRight()).x()
                    assert right <= section.width()


def test_sides_fold_away_where_it_is_narrow_and_come_back(sample):
    sample.resize(683, 384)
    QApplication.processEvents()
    assert sample.stations.stations.isHidden()
    assert sample.stations.remarks.isHidden()
    sample.stations.list_button.click()
    assert not sample.stations.stations.isHidden()
    sample.resize(*LAPTOP)
    QApplication.processEvents()
    assert not sample.stations.remarks.isHidden()


def test_a_file_that_is_none_is_refused_and_the_present_one_stays(filled, tmp_path):
    stranger = tmp_path / "photo.linebook"
    stranger.write_bytes(b"no line file at all" * 100)
    filled.open_path(stranger)
    assert "photo.linebook was not opened." in filled.notice.text
    assert filled.session.line.name == "Test line"
    filled.session.do(
        actions.set_fields, "station", filled.session.line.stations[0].id, name="next step"
    )
    assert filled.notice.text == ""


def test_the_foot_tells_file_and_last_step(filled):
    filled.session.do(actions.set_fields, "line", filled.session.line.id, site="Valley")
    assert filled.status.step.text() == "Set site"
    assert filled.status.stored.text().endswith("Stored")
    assert filled.status.file.toolTip().endswith("test.linebook")
    assert filled.windowTitle() == "Test line – Linebook"


def test_a_copy_is_saved_where_it_is_asked_for(filled, tmp_path, monkeypatch):
    target = tmp_path / "kept"
    monkeypatch.setattr(
        "app.window.QFileDialog.getSaveFileName", lambda *_args, **_more: (str(target), "")
    )
    filled.ask_save_copy()
    copy = tmp_path / "kept.linebook"
    assert LineFile.read(copy) == filled.session.line
    assert str(copy) in filled.notice.text
    filled.ask_save_copy()
    assert "There is a file" in filled.notice.text
