"""The menus say what undo and redo would do, and offer only what can be done."""

import pytest
from PySide6.QtGui import QAction, QKeySequence

from app.menus import Menus
from app.settings import Settings
from app.window import MainWindow
from core.store import LineFile, actions
from tests.app.made_line import make_book


@pytest.fixture
def window(qtbot, tmp_path):
    make_book(tmp_path / "test.linebook").close()
    made = MainWindow(Settings(), tmp_path / "test.linebook")
    qtbot.addWidget(made)
    yield made
    made.close()


def action(window, text):
    [found] = [entry for entry in window.findChildren(QAction) if entry.text() == text]
    return found


def test_undo_and_redo_name_their_step_and_sleep_without_one(window):
    menus: Menus = window.menus
    assert (menus.undo.text(), menus.undo.isEnabled()) == ("&Undo", False)
    window.session.do(actions.set_fields, "station", 1, name="A & B")
    assert (menus.undo.text(), menus.undo.isEnabled()) == ("&Undo: Set name", True)
    window.session.do(actions.add_station, tag="X&Y")
    assert menus.undo.text() == "&Undo: Add station X&&Y"
    window.undo()
    assert menus.redo.text() == "&Redo: Add station X&&Y"


def test_no_two_actions_of_the_menus_share_a_key(window):
    menus = [entry.menu() for entry in window.menuBar().actions()]
    held = [sub for menu in menus for sub in menu.actions()]
    keys = [key.toString() for entry in held for key in entry.shortcuts()]
    assert len(keys) == len(set(keys))
    assert "Ctrl+Z" in keys


def test_units_follow_the_file_and_change_it(window):
    assert window.menus.units["us"].isChecked()
    window.menus.units["metric"].trigger()
    assert window.session.line.unit_system == "metric"
    window.undo()
    assert window.menus.units["us"].isChecked()


def test_recent_files_are_listed_when_the_menu_opens(window, tmp_path):
    other = tmp_path / "other.linebook"
    LineFile.create(other).close()
    window.open_path(other)
    window.menus.recent.aboutToShow.emit()
    [_, before] = window.menus.recent.actions()
    before.trigger()
    assert window.session.book.path == tmp_path / "test.linebook"


def test_a_sample_is_opened_as_a_private_copy(window):
    action(window, "Lindenmoor (50 Hz, 230 V and 400 V site, metric units)").trigger()
    assert window.session.line.name.startswith("Lindenmoor")
    assert "private copy" in window.notice.text
    assert "linebook-demo-" in str(window.session.book.path)


def test_without_a_file_nothing_is_offered_that_needs_one(window):
    assert action(window, "Save a &copy…").isEnabled()
    action(window, "C&lose the file").trigger()
    for text in ("Save a &copy…", "&Find…", "&Import a spreadsheet…", "C&lose the file"):
        assert not action(window, text).isEnabled()
    assert action(window, "&New line…").isEnabled()
    assert action(window, "&New line…").shortcut() == QKeySequence("Ctrl+N")
