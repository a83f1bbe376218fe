"""The walk along the keypads, by keys alone: taken, kept, skipped, broken off, gone on with."""

import datetime

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox

from app.present_model import COMMISSIONED
from app.present_states import told
from core.store import actions
from tests.app.keyboard import CTRL, SHIFT, enter, focused, press, replace_with, tab, type_text
from tests.app.present_book import SETTINGS, commission, open_session, open_view, texts


@pytest.fixture
def path(tmp_path):
    return tmp_path / "line.linebook"


@pytest.fixture
def session(path, qtbot):
    made = open_session(path)
    yield made
    made.close()


@pytest.fixture
def view(session, qtbot):
    made = open_view(session, qtbot)
    press(Qt.Key.Key_Space)  # Begin the walk
    return made


@pytest.fixture
def step(view):
    return view.walk.step


def at(view):
    step = view.walk.walk.step
    return (step.tag, step.code) if step else None


def found(view, code, station=0):
    station_id = view.session.line.stations[station].id
    return view.walk.result.entry(station_id, code)


def take_all(view):
    while at(view) is not None:
        press(Qt.Key.Key_K, CTRL)


def test_the_walk_begins_at_the_first_setting_with_the_field_ready(view, step):
    assert at(view) == ("A01", "hz-max")
    assert focused() is step.field
    assert step.meaning.text() == "Maximum frequency\nA01 Station 1 · Small drive"
    assert step.unit.text() == "Hz"
    assert step.before.text() == "As commissioned: 60 Hz  ·  as delivered: 60 Hz"
    assert step.progress.text() == f"0 of {SETTINGS} done"


def test_enter_alone_is_the_same_and_typed_values_go_on(view, step):
    enter()
    type_text("5")
    enter()
    assert at(view) == ("A01", "ramp-up")
    assert (found(view, "hz-max").shown, found(view, "hz-min").shown) == ("60", "5")
    assert step.last.text() == "A01 hz-min: ✓ read 5"
    assert step.progress.text() == f"2 of {SETTINGS} done"
    assert step.stations.currentText() == "A01 Station 1: 2 of 4"
    assert texts(view, "Found")[:3] == ["60 Hz", "5 Hz", ""]
    assert texts(view, "State")[:3] == ["✓ read", "≠ differs", "○ not read"]


def test_there_is_no_same_where_nothing_was_commissioned(view, step):
    enter()
    enter()
    assert at(view) == ("A01", "hz-min")
    assert "no commissioned value" in step.refusal.text()
    assert step.keep_button.isHidden()
    assert step.before.text() == "As commissioned: no value recorded  ·  as delivered: 0 Hz"
    press(Qt.Key.Key_D, CTRL)
    assert found(view, "hz-min").shown == "0"


def test_a_value_the_list_forbids_is_told_beside_the_field_and_kept_only_on_purpose(view, step):
    type_text("500")
    enter()
    assert at(view) == ("A01", "hz-max")
    assert "'500' is above the listed 120 Hz" in step.refusal.text()
    assert step.field.text() == "500"  # what was typed stays
    assert step.field.property("wrong")
    assert view.walk.result is None
    press(Qt.Key.Key_Return, CTRL)
    assert at(view) == ("A01", "hz-min")
    entry = found(view, "hz-max")
    assert (entry.state, entry.shown) == ("refused", "500")
    assert texts(view, "State")[0] == "✗ refused"
    assert step.refusal.isHidden()
    assert not step.field.property("wrong")


def test_keeping_means_nothing_while_nothing_was_refused(view):
    type_text("50")
    press(Qt.Key.Key_Return, CTRL)
    assert at(view) == ("A01", "hz-max")
    assert view.walk.result is None


def test_choices_stand_with_their_numbers(view, step):
    for _ in range(3):
        press(Qt.Key.Key_K, CTRL)
    assert step.code.text() == "ref-from"
    assert step.choices.text().replace("\n", " · ") == "0 = Keypad · 1 = Input"
    type_text("input")
    enter()
    assert found(view, "ref-from").shown == "1"


def test_a_hidden_value_cannot_be_the_same(view, step):
    press(Qt.Key.Key_H, CTRL)
    assert step.before.text() == "As commissioned: hidden"
    assert view.result.table.isColumnHidden(COMMISSIONED)  # nor is it told beside the walk
    enter()
    assert at(view) == ("A01", "hz-max")
    assert "hidden" in step.refusal.text()
    type_text("50")
    enter()
    assert at(view) == ("A01", "hz-min")
    assert step.before.text() == "As commissioned: hidden"
    # 60 Hz was commissioned; the mark does not tell it either, nor does the count.
    assert texts(view, "State")[0] == "✓ read"
    assert view.result.counts.text().startswith("✓ 1 read")
    view.show_way("table")
    assert not view.result.table.isColumnHidden(COMMISSIONED)
    view.show_way("walk")
    assert view.result.table.isColumnHidden(COMMISSIONED)
    press(Qt.Key.Key_H, CTRL)
    assert "as delivered: 0 Hz" in step.before.text()
    assert not view.result.table.isColumnHidden(COMMISSIONED)
    assert view.result.counts.text().startswith("≠ 1 differ · ✓ 0 read")


def test_back_and_forward_lose_nothing_and_correct(view, step):
    enter()
    press(Qt.Key.Key_PageUp)
    assert at(view) == ("A01", "hz-max")
    assert step.field.text() == "60"
    assert step.last.text() == "Found before: ✓ read 60."
    replace_with("55")
    enter()
    press(Qt.Key.Key_PageDown)
    assert at(view) == ("A01", "hz-min")
    assert "Nothing was found for it yet" in step.refusal.text()
    assert found(view, "hz-max").shown == "55"


def test_a_skipped_setting_is_not_read_with_its_reason(view, step):
    step.reason.setEditText("Display dark")
    press(Qt.Key.Key_K, CTRL)
    assert (found(view, "hz-max").state, found(view, "hz-max").reason) == (
        "not_read",
        "Display dark",
    )
    assert at(view) == ("A01", "hz-min")


def test_the_rest_of_a_station_is_skipped_with_a_reason_only(view, step):
    enter()
    press(Qt.Key.Key_K, CTRL | SHIFT)
    assert at(view) == ("A01", "hz-min")
    assert "Say why" in step.refusal.text()
    type_text("No power at the drive")  # the keys went to the reason
    press(Qt.Key.Key_K, CTRL | SHIFT)
    assert at(view) == ("A02", "hz-max")
    assert found(view, "ramp-up").reason == "No power at the drive"
    assert found(view, "hz-max").state == "read"
    assert focused() is step.field
    assert step.reason.currentText() == ""  # it is not taken for the next station too


def test_another_station_is_a_few_keys_away(view, step):
    enter()
    press(Qt.Key.Key_G, CTRL)
    press(Qt.Key.Key_Down)
    press(Qt.Key.Key_Down)
    assert at(view) == ("A01", "hz-min")  # looking through the list goes nowhere yet
    enter()
    assert at(view) == ("A03", "hz-max")
    assert focused() is step.field
    assert step.stations.itemText(0) == "A01 Station 1: 1 of 4"


def test_passing_the_list_of_stations_moves_nothing(view, step):
    enter()
    press(Qt.Key.Key_G, CTRL)
    tab()
    assert at(view) == ("A01", "hz-min")


def test_the_end_says_what_was_passed_by(view, step):
    enter()
    press(Qt.Key.Key_G, CTRL)
    press(Qt.Key.Key_End)
    enter()
    take_all(view)
    assert step.code.text() == "The walk is at its end"
    # Eighteen settings, less the first of A01 and the five of A04.
    assert step.meaning.text().startswith("12 settings were passed by.")
    assert not step.field.isEnabled()
    press(Qt.Key.Key_PageUp)
    assert at(view) == ("A04", "jog-hz")


# --- nothing is lost --------------------------------------------------------------------------


def test_a_walk_goes_on_after_the_window_closed_or_died(path, session, view, qtbot):
    enter()
    type_text("7")
    enter()
    station = session.line.stations[0].id
    view.close()
    session.close()  # what is kept was written at each entry, so a crash leaves the same
    later = open_session(path)
    again = open_view(later, qtbot)
    assert "goes on: 2 of 18 settings done." in again.walk.front.words.text()
    assert again.walk.front.go_button.text() == "&Go on with the walk"
    assert again.walk.result.entry(station, "hz-min").shown == "7"
    assert texts(again, "State")[:3] == [told("read"), told("differs"), told("not_read")]
    press(Qt.Key.Key_Space)
    assert at(again) == ("A01", "ramp-up")
    later.close()


def test_a_walk_of_an_earlier_day_says_so(path, session, view, qtbot):
    enter()
    kept = view.walk._kept
    days = datetime.date.today() - datetime.timedelta(days=40)
    text = kept.read().replace(datetime.date.today().isoformat(), days.isoformat())
    kept.write(text)
    again = open_view(session, qtbot)
    assert "40 days ago" in again.walk.front.words.text()


def test_a_walk_is_begun_anew_only_after_a_warning(view, monkeypatch, qtbot):
    enter()
    view.walk.step.leave_button.click()
    asked = []

    def choose(text):
        def answer(box):
            asked.append(box.text())
            assert box.defaultButton().text() == "Keep the walk"
            button = next(one for one in box.buttons() if one.text() == text)
            button.click()

        return answer

    monkeypatch.setattr(QMessageBox, "exec", choose("Keep the walk"))
    view.walk.front.anew_button.click()
    assert view.walk.result is not None
    monkeypatch.setattr(QMessageBox, "exec", choose("Drop it and begin anew"))
    view.walk.front.anew_button.click()
    assert view.walk.result is None
    assert view.walk._kept.read() is None
    assert "for 1 settings" in asked[0]


def test_a_damaged_text_is_told_and_set_aside(path, session, view, qtbot):
    enter()
    kept = view.walk._kept
    kept.path.write_text("{", encoding="utf-8")
    again = open_view(session, qtbot)
    assert "damaged" in again.walk.trouble.text()
    assert again.walk.result is None
    assert kept.path.with_suffix(".unread.json").read_text(encoding="utf-8") == "{"


def test_a_disk_that_takes_nothing_is_told_and_the_walk_goes_on(view, tmp_path):
    blocked = tmp_path / "blocked"
    blocked.write_text("a file where a folder should be")
    view.walk._kept.path = blocked / "walk.json"
    enter()
    assert at(view) == ("A01", "hz-min")
    assert "not kept on the disk" in view.walk.trouble.text()
    assert view.walk.trouble.isVisible()


def test_a_change_of_the_line_keeps_the_walk_and_what_is_being_typed(view, session, step):
    enter()
    type_text("1")
    listed = session.line.drive_types[0].listed_settings[0]
    session.do(actions.set_fields, "listed_setting", listed.id, maximum="50")
    # 60 was read; the mended list goes to 50 only.
    assert found(view, "hz-max").state == "refused"
    assert step.field.text() == "1"
    session.do(actions.remove_station, session.line.stations[0].id)
    assert "A01 hz-max" in view.walk.trouble.text()
    assert at(view) == ("A02", "hz-max")


def test_another_record_as_commissioned_begins_another_walk(view, session):
    enter()
    session.do(actions.set_settings, {session.line.stations[0].id: {"hz-min": "12"}})
    commission(session.book)
    view.hide()
    view.show()
    assert "does not go on" in view.walk.trouble.text()
    assert view.walk.result is None
    assert "revision 2" in view.walk.front.words.text()


def test_the_same_content_frozen_again_goes_on_with_the_walk(view, session):
    enter()
    commission(session.book)
    view.hide()
    view.show()
    assert found(view, "hz-max").shown == "60"
    assert "revision 2" in view.walk.front.words.text()


def test_without_a_record_the_file_itself_is_held_against_and_told(tmp_path, qtbot):
    session = open_session(tmp_path / "bare.linebook", with_record=False)
    view = open_view(session, qtbot)
    assert "those in the file as it stands" in view.walk.front.words.text()
    press(Qt.Key.Key_Space)
    enter()
    assert found(view, "hz-max").shown == "60"
    session.close()


def test_a_line_without_settings_cannot_be_walked(tmp_path, qtbot):
    from app.session import Session
    from core.store import LineFile

    session = Session()
    session.take(LineFile.create(tmp_path / "empty.linebook", name="Shed"))
    view = open_view(session, qtbot)
    assert not view.walk.front.go_button.isEnabled()
    assert "No station has" in view.walk.front.words.text()
    session.close()


def test_a_station_that_gets_another_tag_keeps_what_was_found_there(view, session, qtbot):
    type_text("48")
    enter()
    session.do(actions.set_fields, "station", session.line.stations[0].id, tag="Z01")
    assert at(view) == ("Z01", "hz-min")
    assert found(view, "hz-max").shown == "48"
    assert view.walk.trouble.isHidden()
    # On the disk it stands under the new tag: another window goes on with it.
    view.close()
    again = open_view(session, qtbot)
    assert again.walk.walk.step.tag == "Z01"
    assert found(again, "hz-max").shown == "48"
    assert again.walk.trouble.isHidden()


def test_what_is_typed_for_a_setting_that_goes_does_not_stand_at_another_one(view, session, step):
    type_text("77")
    session.do(actions.remove_station, session.line.stations[0].id)
    assert at(view) == ("A02", "hz-max")
    assert step.field.text() == ""


def test_what_was_found_at_a_station_comes_back_when_its_removal_is_undone(view, session, qtbot):
    type_text("48")
    enter()
    session.do(actions.remove_station, session.line.stations[0].id)
    assert view.walk.result is None
    assert "out of the walk: A01 hz-max." in view.walk.trouble.text()
    type_text("50")  # an entry at A02 in between: the disk holds only that one
    enter()
    session.undo()
    assert found(view, "hz-max").shown == "48"
    assert found(view, "hz-max", station=1).shown == "50"
    assert view.walk.trouble.isHidden()
    session.redo()
    session.undo()
    assert found(view, "hz-max").shown == "48"
    view.close()
    again = open_view(session, qtbot)  # it is on the disk again, too
    assert found(again, "hz-max").shown == "48"


def test_a_walk_begun_anew_takes_nothing_up_that_the_earlier_one_held(view, session):
    type_text("48")
    enter()
    session.do(actions.remove_station, session.line.stations[0].id)
    view.walk.begin_anew()
    session.undo()
    assert view.walk.result is None
