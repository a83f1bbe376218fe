"""The knob: turned by hand it tells where it is, let go it tells where it stays."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QApplication

from app.knob import Knob
from app.session import Session
from core.store import LineFile
from tests.app.keyboard import enter, replace_with, show_active
from tests.app.sample_copy import copied


@pytest.fixture
def session(qtbot, tmp_path):
    made = Session()
    made.take(LineFile.open(copied(tmp_path)))
    yield made
    made.close()


@pytest.fixture
def knob(session, qtbot):
    knob = Knob(session)
    qtbot.addWidget(knob)
    knob.resize(900, 60)
    knob.told = []
    knob.turned.connect(lambda share: knob.told.append(("turned", share)))
    knob.left.connect(lambda share: knob.told.append(("left", share)))
    knob.kept.connect(lambda: knob.told.append(("kept", None)))
    show(knob, session, "A07")
    show_active(qtbot, knob)
    return knob


def show(knob, session, tag):
    station = session.line.station_tagged(tag)
    knob.show_station(session.results.station(station.id), session.line.unit_system)


def send(knob, kind, *, repeats=False):
    event = QKeyEvent(
        kind, Qt.Key.Key_Right, Qt.KeyboardModifier.NoModifier, "", autorep=repeats
    )  # fmt: skip
    QApplication.sendEvent(knob.slider, event)


def test_it_stands_where_the_reference_stands(knob):
    # demo_a.csv: A07 at 7.1 V and 48.4 Hz of 20 to 60 Hz.
    assert knob.slider.value() == pytest.approx(724, abs=1)
    assert knob.signal.editor("now_v").text == "7.1"
    assert "48.4 Hz" in knob.label.text()
    assert knob.told == []


def test_a_key_held_down_is_one_turn_and_not_many(knob):
    press, release = QKeyEvent.Type.KeyPress, QKeyEvent.Type.KeyRelease
    send(knob, press)
    for _ in range(3):
        send(knob, release, repeats=True)
        send(knob, press, repeats=True)
    assert [what for what, _ in knob.told] == ["turned"] * 4
    send(knob, release)
    assert knob.told[-1] == ("left", knob.share)
    assert [what for what, _ in knob.told].count("left") == 1


def test_a_key_is_let_go_when_the_focus_goes(knob):
    knob.slider.setFocus()
    send(knob, QKeyEvent.Type.KeyPress)
    knob.share_field.input.setFocus()
    assert knob.told[-1][0] == "left"


def test_a_touch_alone_changes_nothing(knob):
    # The slider's steps are coarser than the stored signal; letting go may not round it.
    knob.slider.setSliderDown(True)
    knob.slider.setSliderDown(False)
    assert knob.told == [("kept", None)]


def test_turned_away_and_back_it_is_kept(knob):
    stood = knob.slider.value()
    knob.slider.setSliderDown(True)
    knob.slider.setValue(stood + 50)
    knob.slider.setValue(stood)
    knob.slider.setSliderDown(False)
    assert knob.told[-1] == ("kept", None)


def test_what_is_shown_meanwhile_does_not_pull_it_from_the_hand(knob, session):
    knob.slider.setSliderDown(True)
    knob.slider.setValue(900)
    show(knob, session, "A07")
    assert knob.slider.value() == 900


def test_a_share_is_typed(knob):
    knob.share_field.input.setFocus()
    replace_with("62,5 %")
    enter()
    assert knob.told == [("left", 0.625)]


@pytest.mark.parametrize("text", ["101", "-3", "12 V", "fast"])
def test_a_share_that_cannot_be_is_refused_where_it_is_typed(knob, text):
    knob.share_field.input.setFocus()
    replace_with(text)
    enter()
    assert knob.told == []
    assert knob.share_field.message.startswith("✗ Not taken")


def test_an_emptied_share_brings_the_old_one_back(knob):
    knob.share_field.input.setFocus()
    replace_with(" ")
    enter()
    assert knob.told == []
    assert knob.share_field.text == "72.42"


def test_a_signal_is_typed_in_its_own_unit_as_one_step(knob, session):
    show(knob, session, "A05")
    knob.signal.focus_field("now_a")
    replace_with("12 mA")
    enter()
    assert session.line.station_tagged("A05").reference.now_a == pytest.approx(0.012)
    session.undo()
    assert session.line.station_tagged("A05").reference.now_a == pytest.approx(0.01632)


def test_the_wheel_turns_nothing(knob):
    before = knob.slider.value()
    event = QWheelEvent(
        QPointF(5, 5), QPointF(5, 5), QPoint(0, 0), QPoint(0, 120), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(knob.slider, event)
    assert knob.slider.value() == before
    assert knob.told == []


def test_without_a_station_there_is_nothing_to_turn(knob):
    knob.show_station(None, "us")
    assert not knob.slider.isEnabled()
    assert not knob.share_field.isVisible()
    assert "Choose a station" in knob.label.text()


def test_a_reference_that_is_not_known_says_so(qtbot, tmp_path):
    from core.store import actions

    session = Session()
    session.take(LineFile.create(tmp_path / "new.linebook"))
    session.do(actions.add_station, tag="N1")
    knob = Knob(session)
    qtbot.addWidget(knob)
    show(knob, session, "N1")
    assert knob.label.text() == "N1: its reference is not known from end to end."
    assert not knob.slider.isEnabled()
    session.close()
