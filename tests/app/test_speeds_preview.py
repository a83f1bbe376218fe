"""The line with a knob in hand: shown at once, stored once."""

import pytest

from app.session import Session
from app.speeds_preview import Preview
from core.store import LineFile
from tests.app.sample_copy import copied


@pytest.fixture
def session(qtbot, tmp_path):
    made = Session()
    made.take(LineFile.open(copied(tmp_path)))
    yield made
    made.close()


@pytest.fixture
def preview(session):
    made = Preview(session)
    made.told = []
    made.changed.connect(lambda: made.told.append(made.results))
    return made


def dryer(session):
    return session.line.station_tagged("A07")


def hertz(results, session):
    return results.station(dryer(session).id).value("frequency_now_hz")


def test_the_first_turn_is_shown_at_once_and_the_last_one_soon(preview, session, qtbot):
    stored = session.results
    preview.turn(dryer(session).id, 0.8)
    assert len(preview.told) == 1
    for share in (0.85, 0.9, 1.0):
        preview.turn(dryer(session).id, share)
    assert len(preview.told) == 1
    qtbot.waitUntil(lambda: len(preview.told) == 2)
    # demo_a.csv: A07 runs from 20 to 60 Hz.
    assert hertz(preview.results, session) == pytest.approx(60.0, abs=0.01)
    assert session.results is stored
    assert session.book.undo_name is None


def test_findings_are_those_of_what_is_shown(preview, session):
    keys = {entry.key for entry in preview.findings.at(dryer(session).id)}
    preview.turn(dryer(session).id, 0.95)
    now = {entry.key for entry in preview.findings.at(dryer(session).id)}
    assert now - keys == {"speed-not-as-wanted", "handling-limit"}
    assert preview.forget()
    assert preview.findings is session.findings
    assert not preview.forget()


def test_let_go_it_is_one_step(preview, session):
    preview.turn(dryer(session).id, 0.9)
    preview.store(dryer(session).id, 0.9)
    assert preview.results is session.results
    assert dryer(session).reference.now_v > 7.1
    session.undo()
    assert dryer(session).reference.now_v == pytest.approx(7.1)
    assert session.book.undo_name is None


def test_let_go_where_it_stands_it_is_no_step_but_is_shown_anew(preview, session):
    preview.store(dryer(session).id, 0.9)
    before = len(preview.told)
    preview.store(dryer(session).id, 0.9)
    assert len(preview.told) == before + 1
    session.undo()
    assert session.book.undo_name is None


def test_after_the_file_is_closed_nothing_is_turned_or_stored(preview, session):
    station_id = dryer(session).id
    session.close()
    preview.turn(station_id, 0.9)
    preview.store(station_id, 0.9)
    assert preview.told == []


def test_a_place_that_no_signal_gives_is_refused(preview, session):
    refused = []
    session.refused.connect(refused.append)
    preview.turn(dryer(session).id, 1.5)
    preview.store(dryer(session).id, 1.5)
    assert len(refused) == 1
    assert session.book.undo_name is None
