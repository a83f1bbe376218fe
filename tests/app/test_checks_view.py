"""A line is proved by keyboard alone: answers, readings, reasons, what a reading teaches."""

import datetime

import pytest
from PySide6.QtCore import Qt

from app.checks_model import STAGE, key_of
from app.checks_view import ChecksView
from app.session import Session
from app.settling import settle_focused
from core.line.checks import checks_of
from core.model.choices import LOSS_ACTIONS
from core.sheets import SHEETS
from core.sheets.document import Grid
from core.store import LineFile, actions, check_actions
from tests.app.keyboard import CTRL, enter, focused, press, replace_with, show_active, type_text
from tests.app.sample_copy import copied

Key = Qt.Key
with_words = pytest.mark.qt_log_ignore("does not support")
"""Words are proposed while one types, which there is no screen for."""


@pytest.fixture
def session(qtbot, tmp_path):
    made = Session()
    made.take(LineFile.open(copied(tmp_path)))
    yield made
    made.close()


@pytest.fixture
def view(session, qtbot):
    made = ChecksView(session)
    qtbot.addWidget(made)
    made.resize(1366, 700)
    show_active(qtbot, made)
    made.list.view.setFocus()
    return made


def item(session, tag, key):
    found = checks_of(session.results)
    return next(held for held in found if (held.tag, held.rule.key) == (tag, key))


def result(session, tag, key):
    return item(session, tag, key).result


def go_to(view, tag, key, *, person="R. Vale"):
    """Take a check in hand as somebody who has given a name already."""
    view.list.go_to(key_of(item(view.session, tag, key)))
    view._to_hand()
    if person:
        view.hand.who.person.input.setText(person)


def in_hand(view):
    held = view.hand.item
    return held.tag, held.rule.key


def told(view):
    return view.hand.message.text()


# --- answers --------------------------------------------------------------------------------


def test_the_first_open_check_is_in_hand(view, session):
    first = checks_of(session.results)[0]
    assert in_hand(view) == (first.tag, first.rule.key) == ("A01", "earth-continuity")
    assert view.list.count.text().startswith("0 of 424 done.")


@with_words
def test_a_name_is_asked_for_once_and_kept(view, session):
    go_to(view, "A01", "terminals-tight", person="")
    view._to_list()
    press(Key.Key_Y)
    assert result(session, "A01", "terminals-tight") is None
    assert "Type who does it" in told(view)
    assert focused() is view.hand.who.person.input
    type_text("R. Vale")
    enter()
    found = result(session, "A01", "terminals-tight")
    assert (found.answer, found.person) == ("yes", "R. Vale")
    # The next one takes the key at once.
    assert in_hand(view) == ("A01", "links-as-entered")
    press(Key.Key_Y)
    assert result(session, "A01", "links-as-entered").person == "R. Vale"
    assert in_hand(view) == ("A01", "protection-as-entered")


def test_enter_alone_answers_nothing(view, session):
    go_to(view, "A01", "terminals-tight")
    enter()
    assert "Press Y or N" in told(view)
    assert result(session, "A01", "terminals-tight") is None


def test_a_no_stays_in_the_list_until_it_is_kept_with_a_reason(view, session):
    go_to(view, "A01", "guards-on")
    press(Key.Key_N)
    assert item(session, "A01", "guards-on").state == "out"
    assert in_hand(view) == ("A01", "guards-on")
    assert focused() is view.hand.reason.input
    enter()
    assert "There is no reason" in told(view)
    assert item(session, "A01", "guards-on").state == "out"
    type_text("Guard on order, belt locked out")
    enter()
    assert item(session, "A01", "guards-on").state == "kept"
    assert in_hand(view) != ("A01", "guards-on")


def test_a_choice_is_answered_by_its_figure(view, session):
    tag = next(h.tag for h in checks_of(session.results) if h.rule.key == "lost-reference")
    station = session.line.station_tagged(tag)
    words = [word for word in LOSS_ACTIONS if word != "unknown"]
    number = words.index(station.reference.loss_action) + 1
    go_to(view, tag, "lost-reference")
    press(getattr(Key, f"Key_{number}"))
    found = item(session, tag, "lost-reference")
    assert (found.result.answer, found.result.shown) == ("choice", words[number - 1])
    assert found.state == "good"
    other = number % len(words)
    go_to(view, tag, "lost-reference")
    press(getattr(Key, f"Key_{other + 1}"))
    assert item(session, tag, "lost-reference").state == "out"
    assert focused() is view.hand.reason.input


# --- readings -------------------------------------------------------------------------------


def test_a_reading_is_typed_with_any_unit_and_enter_goes_on(view, session):
    go_to(view, "A02", "supply-voltage")
    assert view.hand.words.expected.text().startswith("216 V to 264 V, expected 240 V")
    type_text("0.24 kV")
    enter()
    found = result(session, "A02", "supply-voltage")
    assert (found.answer, found.value, found.shown) == ("reading", 240.0, "0.24 kV")
    assert found.person == "R. Vale"
    assert datetime.datetime.fromisoformat(found.done_at)
    assert in_hand(view) == ("A02", "settings-entered")


def test_out_of_limits_is_told_at_once_and_kept_only_with_a_reason(view, session):
    go_to(view, "A02", "supply-voltage")
    type_text("265")
    enter()
    assert "265 V, OUT OF LIMITS" in told(view)
    assert view.list.count.text() == "0 of 424 done. ✗ 1 OUT OF LIMITS"
    assert focused() is view.hand.reason.input
    type_text("Utility told")
    enter()
    assert item(session, "A02", "supply-voltage").state == "kept"
    assert view.list.count.text() == "1 of 424 done."
    go_to(view, "A02", "supply-voltage")
    assert view.hand.words.where.text().endswith("1 kept out of limits")
    names = [view.list.station.itemText(place) for place in range(view.list.station.count())]
    assert [name for name in names if name.endswith(", 1 kept out of limits")] == [
        name for name in names if name.startswith("A02 ")
    ]


def test_what_is_no_reading_is_told_beside_it_and_stays_typed(view, session):
    go_to(view, "A02", "supply-voltage")
    type_text("240 A")
    enter()
    assert "Not taken" in told(view)
    assert view.hand.answer.value.input.text() == "240 A"
    assert result(session, "A02", "supply-voltage") is None
    press(Key.Key_Down, CTRL)
    assert in_hand(view) != ("A02", "supply-voltage")
    assert result(session, "A02", "supply-voltage") is None
    press(Key.Key_Up, CTRL)
    assert view.hand.answer.value.input.text() == "240 A"
    replace_with("240 V")
    enter()
    assert result(session, "A02", "supply-voltage").value == 240.0


def test_a_reading_that_is_left_is_stored(view, session):
    go_to(view, "A02", "supply-voltage")
    type_text("241")
    press(Key.Key_Down, CTRL)
    assert result(session, "A02", "supply-voltage").value == 241.0
    assert result(session, "A02", "supply-voltage").person == "R. Vale"
    assert view.hand.answer.value.input.text() == ""
    go_to(view, "A03", "supply-voltage")
    type_text("242")
    settle_focused()  # as when another page is chosen
    assert result(session, "A03", "supply-voltage").value == 242.0
    assert not view.hand.answer.is_changed


def test_insulation_asks_for_its_temperature(view, session):
    go_to(view, "A01", "insulation")
    type_text("24")
    enter()
    assert focused() is view.hand.answer.warm.input
    assert result(session, "A01", "insulation") is None
    type_text("68")
    enter()
    found = result(session, "A01", "insulation")
    # 68 °F are 20 °C; 24 MΩ there are 6 at 40 °C, above the 5 MΩ of IEEE 43.
    assert found.value == 24e6
    assert found.temperature_k == pytest.approx(293.15)
    assert item(session, "A01", "insulation").state == "good"


def test_one_key_takes_over_what_a_reading_teaches(view, session):
    go_to(view, "A14", "cups-filled")
    type_text("74 %")
    enter()
    assert in_hand(view) == ("A14", "cups-filled")
    assert "Cups filled: now 78 %, by the reading 74 %" in view.hand.lesson.text.text()
    press(Key.Key_F8)
    assert session.line.station_tagged("A14").process.cup_fill == 0.74
    assert not view.hand.lesson.isVisible()
    assert view.hand.words.expected.text().startswith("64 % to 84 %, expected 74 %")
    enter()
    assert in_hand(view) != ("A14", "cups-filled")
    session.undo()
    assert session.line.station_tagged("A14").process.cup_fill == 0.78


def test_enter_goes_on_without_taking_over(view, session):
    go_to(view, "A14", "cups-filled")
    type_text("74 %")
    enter()
    enter()
    assert in_hand(view) != ("A14", "cups-filled")
    assert session.line.station_tagged("A14").process.cup_fill == 0.78


# --- instrument, person, time ---------------------------------------------------------------


def test_an_instrument_is_kept_for_its_kind_of_reading(view, session):
    go_to(view, "A02", "supply-voltage")
    type_text("240")
    view.hand.who.instrument.input.setFocus()
    view.hand.who.instrument.input.setText("QI-0002")
    enter()
    found = result(session, "A02", "supply-voltage")
    assert found.instrument == "Multimeter QI-0002, calibrated to 2027-03-31"
    go_to(view, "A03", "supply-voltage")
    assert view.hand.who.instrument.input.text() == found.instrument
    # A voltmeter reads no ohms.
    go_to(view, "A03", "earth-continuity")
    assert view.hand.who.instrument.input.text() == ""
    assert "No instrument is named" in view.hand.who.note.text()


def test_a_calibration_that_ran_out_is_told(view, session):
    actions.set_fields(session.book, "instrument", 2, calibration_due="2020-01-01")
    go_to(view, "A02", "supply-voltage")
    view.hand.who.instrument.input.setText("QI-0002")
    assert view.hand.who.note.text() == "✗ Its calibration ran out on 2020-01-01."
    view.hand.who.instrument.input.setText("Borrowed meter")
    assert view.hand.who.note.text().startswith("○ Its calibration is not known")
    # On the day of an old reading it still held.
    view.hand.who.instrument.input.setText("QI-0002")
    view.hand.who.at.input.setText("2019-12-31 10:00")
    assert view.hand.who.note.text() == "✓ Calibrated to 2020-01-01."


def test_a_reading_without_instrument_is_stored(view, session):
    go_to(view, "A02", "supply-voltage")
    type_text("240")
    enter()
    assert result(session, "A02", "supply-voltage").instrument == ""


def test_the_day_of_the_paper_is_kept_from_one_answer_to_the_next(view, session):
    go_to(view, "A01", "terminals-tight")
    view.hand.who.at.input.setText("2026-11-20 09:15")
    view.hand.answer.focus()
    press(Key.Key_Y)
    press(Key.Key_Y)
    assert result(session, "A01", "terminals-tight").done_at == "2026-11-20 09:15"
    assert result(session, "A01", "links-as-entered").done_at == "2026-11-20 09:15"
    view.hand.who.at.input.setText("last week")
    view.hand.answer.focus()
    press(Key.Key_Y)
    assert "'last week' is no day and time" in told(view)
    assert result(session, "A01", "protection-as-entered") is None


@with_words
def test_another_person_alone_leaves_reading_and_time(view, session):
    check_actions.answer_check(
        session.book, "supply-voltage", session.line.station_tagged("A02").id, "reading",
        now=datetime.datetime(2026, 11, 20, 9, 15), value=240.12345678, shown="240.12345678 V",
        person="R. Vale",
    )  # fmt: skip
    go_to(view, "A02", "supply-voltage", person="")
    view.hand.who.person.input.setFocus()
    replace_with("P. Orchard")
    enter()
    found = result(session, "A02", "supply-voltage")
    assert (found.person, found.value) == ("P. Orchard", 240.12345678)
    assert (found.done_at, found.shown) == ("2026-11-20 09:15", "240.12345678 V")


# --- does not apply, open again, undo -------------------------------------------------------


def test_not_applicable_demands_a_reason(view, session):
    go_to(view, "A01", "guards-on")
    press(Key.Key_F6)
    assert result(session, "A01", "guards-on") is None
    assert focused() is view.hand.reason.input
    type_text("Fixed cover")
    enter()
    assert item(session, "A01", "guards-on").state == "skipped"
    assert result(session, "A01", "guards-on").reason == "Fixed cover"


def test_a_check_is_opened_again_and_undo_brings_its_answer_back(view, session):
    go_to(view, "A01", "guards-on")
    press(Key.Key_Y)
    go_to(view, "A01", "guards-on", person="")
    press(Key.Key_F7)
    assert item(session, "A01", "guards-on").state == "open"
    assert in_hand(view) == ("A01", "guards-on")
    session.undo()
    assert item(session, "A01", "guards-on").state == "good"
    assert view.hand.words.state.state == "good"
    session.undo()
    assert view.hand.words.state.state == "open"


# --- the list -------------------------------------------------------------------------------


def test_typing_from_paper_goes_in_the_order_of_the_field_sheets(view, session):
    view.list.order.setCurrentIndex(view.list.order.findData("station"))
    document = SHEETS["field_sheets"].build(session.line, session.results)
    printed = []
    for section in document.sections[1:]:
        grid = next(part for part in section.parts if isinstance(part, Grid))
        printed += [row[1].text for row in grid.rows]
    view.list.go_to(key_of(view.list.in_order[0]))
    walked = [view.hand.item.rule.label]
    for _ in printed[1:]:
        press(Key.Key_Down, CTRL)
        walked.append(view.hand.item.rule.label)
    assert walked == printed


def test_a_station_is_chosen_with_how_much_of_it_is_done(view, session):
    go_to(view, "A02", "guards-on")
    press(Key.Key_Y)
    station = session.line.station_tagged("A02")
    place = view.list.station.findData(station.id)
    own = [held for held in checks_of(session.results) if held.tag == "A02"]
    assert f"(1 of {len(own)})" in view.list.station.itemText(place)
    view.list.station.setCurrentIndex(place)
    assert {held.tag for held in view.list.model.items} == {"A02"}
    view.list.stage.setCurrentIndex(view.list.stage.findData("coupled"))
    assert {held.rule.stage for held in view.list.model.items} == {"coupled"}
    assert view.hand.item.rule.stage == "coupled"


def test_only_what_is_out_of_limits_is_shown_when_asked(view, session):
    go_to(view, "A02", "guards-on")
    press(Key.Key_N)
    go_to(view, "A02", "guards-on", person="")
    view.list.shown.setCurrentIndex(view.list.shown.findData("out"))
    assert [key_of(held) for held in view.list.model.items] == [key_of(view.hand.item)]


def test_going_on_stays_within_the_stage_and_begins_again(view, session):
    view.list.stage.setCurrentIndex(view.list.stage.findData("handover"))
    every = view.list.in_order
    view.list.go_to(key_of(every[-1]))
    view._to_hand()
    view.hand.who.person.input.setText("R. Vale")
    press(Key.Key_Y)
    assert key_of(view.hand.item) == key_of(every[0])
    for _ in every[:-1]:
        press(Key.Key_Y)
    assert "Every check of this list is answered" in told(view)


@with_words
def test_a_whole_station_is_proved_by_keys_alone(view, session):
    """Nothing but keys: letters and readings, Enter, and F6 with a reason."""
    station = session.line.station_tagged("A01")
    view.list.station.setCurrentIndex(view.list.station.findData(station.id))
    view._to_hand()
    own = [held for held in checks_of(session.results) if held.tag == "A01"]
    for number, _ in enumerate(own):
        held = view.hand.item
        if held.rule.kind:
            press(Key.Key_F6)
            type_text("No instrument at hand")
            enter()
        elif held.rule.options:
            words = list(held.rule.options)
            press(getattr(Key, f"Key_{words.index(held.limits.good[0]) + 1}"))
        else:
            press(Key.Key_Y)
        if number == 0:
            type_text("R. Vale")
            enter()
    assert view.list.count.text() == f"{len(own)} of {len(own)} done."
    assert "proved: Handover" in view.list.station.currentText()
    assert "proved: Handover" in view.hand.words.where.text()


def test_the_rows_are_a_sound_model(view, qtmodeltester):
    qtmodeltester.check(view.list.model)


def test_a_row_tells_its_state_in_words(view, session):
    go_to(view, "A02", "supply-voltage")
    type_text("300")
    enter()
    row = view.list.model.row_of(key_of(view.hand.item))
    texts = [view.list.model.index(row, at).data() for at in range(6)]
    assert texts == [
        "OUT OF LIMITS", "A02", "First power", "Voltage at the drive's input",
        "216 V to 264 V, expected 240 V", "300 V, OUT OF LIMITS",
    ]  # fmt: skip


# --- cautions, records, room ----------------------------------------------------------------


def test_the_caution_of_the_work_stands_above_it(view):
    go_to(view, "A02", "supply-voltage")
    shown = [w.text() for w in view.hand.words.caution.findChildren(type(view.list.count))]
    assert shown[0] == "⚠ DANGER"
    assert "Touching them kills." in shown[1]
    assert "wait 5 min" in shown[1]  # as entered for the drive from its label
    go_to(view, "A02", "direction")
    shown = [w.text() for w in view.hand.words.caution.findChildren(type(view.list.count))]
    assert shown[0] == "⚠ WARNING"
    go_to(view, "A02", "labels-fixed")
    assert view.hand.words.caution is None


def test_a_frozen_record_is_only_shown(view, session):
    session.show_record(session.line, "As commissioned, revision 1")
    go_to(view, "A01", "guards-on")
    view._to_list()
    press(Key.Key_Y)
    press(Key.Key_F6)
    assert item(session, "A01", "guards-on").state == "open"
    assert "frozen record" in told(view)
    assert not view.hand.answer.isEnabled()
    assert view.list.step(1)
    session.end_trial()
    go_to(view, "A01", "guards-on")
    press(Key.Key_Y)
    assert item(session, "A01", "guards-on").state == "good"


def test_where_it_is_narrow_the_check_in_hand_has_a_tab(view, qtbot):
    view.resize(680, 300)
    qtbot.waitUntil(lambda: view.tabs.count() == 3)
    view._to_list()
    enter()
    assert view.tabs.currentWidget() is view.hand
    press(Key.Key_Escape)
    assert view.tabs.currentWidget() is view.list
    assert focused() is view.list.view
    table = view.list.view
    assert table.horizontalHeader().length() == table.viewport().width()
    assert table.isColumnHidden(STAGE)
    view.resize(1366, 700)
    qtbot.waitUntil(lambda: view.tabs.count() == 2)
    assert view.hand.isVisible()


def test_every_input_has_a_name(view):
    hand = view.hand
    for field in (hand.answer.value, hand.answer.warm, hand.who.person, hand.who.instrument):
        assert field.input.accessibleName()
    for box in (view.list.order, view.list.stage, view.list.station, view.list.shown):
        assert box.accessibleName()


def test_without_a_file_it_is_empty_and_comes_back(view, session, tmp_path):
    session.close()
    assert not view.isEnabled()
    (tmp_path / "other").mkdir()
    session.take(LineFile.open(copied(tmp_path / "other", "lindenmoor")))
    assert in_hand(view) == ("B01", "earth-continuity")
