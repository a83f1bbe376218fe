"""Changes tried on a copy: thrown away, kept, or taken over into the file as one step."""

import pytest

from app.session import Session
from app.settings import Settings
from app.window import MainWindow
from core.errors import LineFileError
from core.store import LineFile, actions
from tests.app.sample_copy import copied


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(LineFile.open(copied(tmp_path)))
    made.errors = []
    made.refused.connect(made.errors.append)
    yield made
    made.close()


def work(session):
    """Change, add, remove and move something; undo one thing."""
    line = session.line
    first, second = line.stations[:2]
    session.do(actions.set_fields, "station", first.id, name="Tried")
    session.do(actions.set_fields, "station", first.id, name="Tried again")
    session.do(actions.set_fields, "motor", second.motors[0].id, serial="S-1")
    added = session.do(actions.add_station, at=1, tag="X1", name="New")
    session.do(actions.set_fields, "station", added, kind="conveyor", wanted="frequency")
    session.do(actions.remove_record, "pair", line.pairs[0].id)
    session.do(actions.move_record, "station", second.id, 4)
    session.do(actions.set_fields, "station", second.id, name="Undone")
    session.undo()


def test_what_was_done_in_the_trial_is_in_the_file_as_one_step(session):
    path, before = session.book.path, session.line
    session.begin_trial()
    work(session)
    tried = session.line
    assert session.results_of_file.line is before
    assert session.take_over_trial()
    assert not session.is_trial
    assert session.book.path == path
    assert session.line == tried
    assert session.results.line is session.line
    assert session.book.undo_name == "Take over the trial"
    session.undo()
    assert session.line == before
    assert session.book.undo_name is None
    session.redo()
    assert session.line == tried
    session.close()
    assert LineFile.read(path) == tried


def test_the_history_tells_each_field_once_with_its_last_value(session):
    session.begin_trial()
    work(session)
    session.take_over_trial()
    rows = [row for row in session.book.history() if row.step == "Take over the trial"]
    names = [row for row in rows if row.table == "station" and row.field == "name"]
    assert [row.new for row in names] == ['"Tried again"']


def test_the_file_tells_every_page_once(session):
    opened, changed = [], []
    session.begin_trial()
    work(session)
    session.opened.connect(lambda: opened.append(session.is_trial))
    session.changed.connect(changed.append)
    session.take_over_trial()
    assert (opened, changed) == ([False], [])
    session.do(actions.set_fields, "line", session.line.id, name="After")
    assert len(changed) == 1


def test_a_trial_in_which_nothing_was_done_makes_no_step(session):
    session.begin_trial()
    assert session.take_over_trial()
    assert session.book.undo_name is None


def test_a_refusal_leaves_the_trial_on(session, monkeypatch):
    session.begin_trial()
    work(session)
    tried = session.line

    def full(*_args):
        raise LineFileError("It was not stored.", "The disk is full.", "Make room.")

    monkeypatch.setattr(LineFile, "repeat", full)
    assert not session.take_over_trial()
    assert session.is_trial
    assert session.line is tried
    assert "disk is full" in str(session.errors)
    monkeypatch.undo()
    assert session.take_over_trial()
    session.do(actions.set_fields, "line", session.line.id, name="After")
    assert session.results.line.name == "After"


def test_without_a_trial_there_is_nothing_to_take_over(session):
    assert not session.can_take_over
    assert not session.take_over_trial()


def test_what_is_typed_into_a_record_cannot_be_taken_over(session):
    before = session.line
    session.show_record(session.line, "As commissioned, revision 1")
    session.do(actions.set_fields, "line", session.line.id, name="Typed")
    assert not session.can_take_over
    assert not session.take_over_trial()
    assert session.is_trial
    session.end_trial()
    assert session.line is before


@pytest.fixture
def window(qtbot, tmp_path):
    made = MainWindow(Settings(), copied(tmp_path))
    qtbot.addWidget(made)
    made.show()
    yield made
    made.close()


def test_the_menu_offers_what_can_be_done(window):
    menus = window.menus

    def offered():
        return [
            entry.isEnabled() for entry in (menus.begin_trial, menus.take_over, *menus._needs_trial)
        ]

    assert offered() == [True, False, False, False]
    menus.begin_trial.trigger()
    assert offered() == [False, True, True, True]
    window.session.end_trial()
    window.session.show_record(window.session.line, "As commissioned, revision 1")
    assert offered() == [False, False, True, True]
    assert window.trial.take_over_button.isHidden()


def test_taking_over_says_how_to_take_it_back(window):
    window.begin_trial()
    station = window.session.line.stations[0]
    window.session.do(actions.set_fields, "station", station.id, name="Tried")
    window.trial.take_over_button.click()
    assert window.trial.isHidden()
    assert "undo takes all of it back" in window.notice.text
    window.undo()
    assert window.session.line.stations[0].name == station.name


def test_closing_the_window_loses_only_the_trial_and_says_so_before(window, tmp_path):
    window.begin_trial()
    assert "Closing the file or the window loses it" in window.trial.text.text()
    station = window.session.line.stations[0]
    window.session.do(actions.set_fields, "station", station.id, name="Tried")
    folder, path = window.session.book.path.parent, window.session.file_path
    window.close()
    assert not folder.exists()
    assert LineFile.read(path).stations[0].name == station.name


def test_every_page_works_in_a_trial(window):
    for key in ("stations", "grid", "drive_types", "line", "speeds", "sheets", "history"):
        window.show_page(key)
    window.begin_trial()
    for key in ("history", "sheets", "speeds", "line", "drive_types", "grid", "stations"):
        window.show_page(key)
    window.discard_trial()
    assert not window.session.is_trial
