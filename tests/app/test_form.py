"""A form over one record: which fields it shows, and what comes of typing in them."""

import pytest
from PySide6.QtCore import Qt

from app.form import RecordForm
from app.session import Session
from core.store import actions
from tests.app.keyboard import enter, focused, press, replace_with, show_active, tab, type_text
from tests.app.made_line import make_book


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def open_form(session, qtbot):
    def build(table, pick, context=None, width=700):
        form = RecordForm(session, table)
        qtbot.addWidget(form)
        form.resize(width, 500)
        form.show_record(pick(session.line.stations[0]), context)
        # As a page does it: every step shows the record again.
        session.changed.connect(
            lambda _changes: form.show_record(pick(session.line.stations[0]), context)
        )
        show_active(qtbot, form)
        return form

    return build


def test_only_fields_that_apply_are_shown(open_form, session):
    form = open_form("speed_reference", lambda station: station.reference)
    assert "pot_ohm" not in form.shown_fields()
    session.do(
        actions.set_fields,
        "speed_reference",
        session.line.stations[0].reference.id,
        source="potentiometer",
    )
    assert {"pot_ohm", "pot_taper", "terminal_supply"} <= set(form.shown_fields())
    assert "dac_bits" not in form.shown_fields()


def test_the_kind_of_the_station_decides_which_process_fields_apply(open_form):
    form = open_form("process", lambda station: station.process, {"station.kind": "cup_conveyor"})
    assert form.shown_fields() == (
        "cup_pitch_m",
        "cup_lanes",
        "cup_fill",
        "encoder_pulses",
        "drop_latency_s",
        "carrying_length_m",
        "drop_out_m",
        "drop_onto",
    )


def test_tab_goes_into_a_field_that_the_choice_before_it_brought(open_form, session):
    form = open_form("drivetrain", lambda station: station.drivetrain)
    form.focus_field("surface")
    type_text("Dr")
    tab()
    assert focused() is form.editor("drum_diameter_m").input
    type_text("4 in")
    tab()
    # 1 in = 0.0254 m exactly (NIST SP 811, appendix B.8)
    assert session.line.stations[0].drivetrain.drum_diameter_m == pytest.approx(0.1016)


def test_a_value_refused_by_the_file_is_told_beside_its_field(open_form, session):
    form = open_form("station", lambda station: station)
    form.focus_field("tag")
    replace_with("A02")
    enter()
    assert session.line.stations[0].tag == "A01"
    assert "'A02'" in form.editor("tag").message
    press(Qt.Key.Key_Escape)
    assert form.editor("tag").text == "A01"
    assert form.editor("tag").message == ""


def test_the_same_value_in_other_words_is_shown_as_the_line_shows_it(open_form, session):
    form = open_form("motor", lambda station: station.motors[0])
    session.do(actions.set_fields, "motor", session.line.stations[0].motors[0].id, frequency_hz=60)
    newest = session.book.undo_name
    form.focus_field("frequency_hz")
    replace_with("0.06 kHz")
    enter()
    assert form.editor("frequency_hz").text == "60"
    assert session.book.undo_name == newest


def test_editors_stay_when_another_record_is_shown(open_form, session):
    form = open_form("motor", lambda station: station.motors[0])
    before = form.editor("power_w")
    form.show_record(session.line.stations[1].motors[0])
    assert form.editor("power_w") is before
    assert before.text == "2"


def test_what_is_typed_goes_to_the_record_it_was_typed_for(open_form, session):
    form = open_form("motor", lambda station: station.motors[0])
    form.focus_field("duty")
    type_text("S1")
    form.show_record(session.line.stations[1].motors[0])
    assert session.line.stations[0].motors[0].duty == "S1"
    assert session.line.stations[1].motors[0].duty == ""


def test_what_was_typed_for_a_file_that_is_closed_goes_into_no_other(open_form, session, tmp_path):
    form = open_form("station", lambda station: station)
    form.focus_field("tag")
    replace_with("A02")
    enter()
    assert form.editor("tag").message
    session.take(make_book(tmp_path / "other.linebook", stations=1))
    form.settle()
    assert session.line.stations[0].tag == "A01"
    assert session.book.undo_name is None or "tag" not in session.book.undo_name


@pytest.mark.parametrize("width", [240, 420, 900, 1500])
def test_names_of_fields_are_never_cut(open_form, width):
    form = open_form("motor", lambda station: station.motors[0], width=width)
    form.resize(width, 800)
    for name in form.shown_fields():
        label = form._labels[name]
        needed = label.fontMetrics().boundingRect(
            label.rect().adjusted(0, 0, 0, 500), Qt.TextFlag.TextWordWrap, label.text()
        )
        assert label.height() >= needed.height(), name
        assert label.width() >= needed.width(), name


def test_more_fields_stand_side_by_side_where_there_is_room(open_form):
    form = open_form("motor", lambda station: station.motors[0], width=300)
    narrow = {form._grid.getItemPosition(at)[1] for at in range(form._grid.count())}
    form.resize(1200, 500)
    wide = {form._grid.getItemPosition(at)[1] for at in range(form._grid.count())}
    assert max(wide) > max(narrow)
