"""Photographs on the page of a station: added, told, looked at and removed, by keys alone."""

import sqlite3
from contextlib import closing

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage
from PySide6.QtWidgets import QApplication, QFileDialog

from app.history_rows import shown_changes
from app.photo_panel import PhotoPanel
from app.session import Session
from app.stations_page import StationsPage
from core.photos import take_bytes
from core.records import canonical_text, line_of
from core.store import LineFile, actions
from core.store.photo_actions import add_photos
from core.store.schema import FORMAT
from tests.app.keyboard import ALT, CTRL, enter, focused, press, replace_with, show_active, tab
from tests.app.made_line import make_book
from tests.core.drawn_photos import as_file, plate


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def panel(session, qtbot):
    made = PhotoPanel(session)
    qtbot.addWidget(made)

    def show(_changes=None):
        made.show_station(session.line.stations[0])

    show()
    session.changed.connect(show)
    made.resize(900, 500)
    show_active(qtbot, made)
    return made


def picture_file(folder, seed=1):
    path = folder / f"plate-{seed}.jpg"
    path.write_bytes(as_file(plate(seed=seed)))
    return path


def add(session, *seeds, station=0, **more):
    taken = [take_bytes(as_file(plate(seed=seed))) for seed in seeds]
    return add_photos(session.book, session.line.stations[station].id, taken, **more)


def photos(session):
    return session.line.stations[0].photos


def wait_for(qtbot, panel, session, count):
    qtbot.waitUntil(lambda: len(photos(session)) == count and panel._job is None, timeout=10_000)


# --- adding ---------------------------------------------------------------------------------


def test_files_are_chosen_and_told_by_keyboard_alone(panel, session, qtbot, tmp_path, monkeypatch):
    paths = [str(picture_file(tmp_path, seed)) for seed in (1, 2)]
    monkeypatch.setattr(QFileDialog, "getOpenFileNames", lambda *_given: (paths, ""))
    panel.add_button.setFocus()
    press(Qt.Key.Key_Space)
    wait_for(qtbot, panel, session, 2)
    assert panel.state.text() == "Added 2 photographs. Say what each shows."
    assert session.book.undo_name == "Add 2 photographs"
    # The focus is at what the first one shows; the motor's nameplate is the first choice.
    assert focused() is panel.form.editor("shows").input
    press(Qt.Key.Key_Home)
    tab()
    replace_with("As delivered")
    enter()
    first, second = photos(session)
    assert (first.shows, first.caption) == ("motor_plate", "As delivered")
    assert (second.shows, second.caption) == ("other", "")
    assert "Nameplate of the motor: As delivered" in panel.model.index(0).data()


def test_bad_files_are_told_and_good_ones_are_added(panel, session, qtbot, tmp_path):
    bad = tmp_path / "notes.jpg"
    bad.write_bytes(b"no picture")
    panel.add_files([bad, picture_file(tmp_path), tmp_path / "gone.png"])
    wait_for(qtbot, panel, session, 1)
    told = panel.faults.text
    assert "2 pictures" in told
    assert "notes.jpg was not added. It is no picture that Linebook reads" in told
    assert "gone.png was not added. There is no file" in told


def test_the_same_again_is_refused_beside_the_list(panel, session, qtbot, tmp_path):
    panel.add_files([picture_file(tmp_path)])
    wait_for(qtbot, panel, session, 1)
    panel.add_files([picture_file(tmp_path)])
    qtbot.waitUntil(lambda: panel._job is None)
    assert "has this photograph already" in panel.faults.text
    assert len(photos(session)) == 1


def test_what_is_read_goes_to_the_station_it_was_added_to(panel, session, qtbot, tmp_path):
    panel.add_files([picture_file(tmp_path)])
    panel.show_station(session.line.stations[1])
    wait_for(qtbot, panel, session, 1)
    assert session.line.stations[1].photos == ()


def test_nothing_goes_into_another_file_that_was_opened_meanwhile(panel, session, qtbot, tmp_path):
    panel.add_files([picture_file(tmp_path)])
    session.take(make_book(tmp_path / "other.linebook"))
    qtbot.waitUntil(lambda: panel._job is None)
    assert photos(session) == ()
    assert "nothing was added" in panel.state.text()


def test_stop_adds_nothing(panel, session, qtbot, tmp_path):
    panel.add_files([picture_file(tmp_path, seed) for seed in range(5)])
    panel.stop()
    qtbot.wait(300)
    assert photos(session) == ()
    assert panel.state.text() == "Stopped; nothing was added."


@pytest.mark.parametrize("with_photo", [False, True])
def test_a_picture_is_pasted(panel, session, qtbot, with_photo):
    if with_photo:
        add(session, 1)
    picture = QImage(120, 90, QImage.Format.Format_RGB32)
    picture.fill(Qt.GlobalColor.red)
    QApplication.clipboard().setImage(picture)
    (panel.list if with_photo else panel.add_button).setFocus()
    press(Qt.Key.Key_V, CTRL)
    wait_for(qtbot, panel, session, 1 + with_photo)
    assert (photos(session)[-1].width_px, photos(session)[-1].height_px) == (120, 90)


def test_text_is_pasted_into_a_field_and_is_no_picture(panel, session, qtbot):
    add(session, 1)
    QApplication.clipboard().setText("Strip X1")
    panel.form.focus_field("caption")
    press(Qt.Key.Key_V, CTRL)
    enter()
    assert photos(session)[0].caption == "Strip X1"
    panel.list.setFocus()
    press(Qt.Key.Key_V, CTRL)
    assert "holds no picture" in panel.faults.text


def test_files_are_dropped(panel, session, qtbot, tmp_path):
    held = QMimeData()
    held.setUrls([QUrl.fromLocalFile(str(picture_file(tmp_path)))])
    given = (Qt.DropAction.CopyAction, held, Qt.MouseButton.LeftButton)
    none = Qt.KeyboardModifier.NoModifier
    entered = QDragEnterEvent(panel.rect().center(), *given, none)
    QApplication.sendEvent(panel, entered)
    assert entered.isAccepted()
    QApplication.sendEvent(panel, QDropEvent(QPointF(panel.rect().center()), *given, none))
    wait_for(qtbot, panel, session, 1)


def test_a_text_cannot_be_dropped(panel):
    held = QMimeData()
    held.setText("notes")
    entered = QDragEnterEvent(
        panel.rect().center(),
        Qt.DropAction.CopyAction,
        held,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    entered.ignore()
    QApplication.sendEvent(panel, entered)
    assert not entered.isAccepted()


# --- showing --------------------------------------------------------------------------------


def test_the_list_keeps_the_rules_of_models(panel, session, qtmodeltester):
    add(session, 1, 2)
    qtmodeltester.check(panel.model)


def test_removing_and_moving_by_keyboard_can_be_undone(panel, session):
    numbers = add(session, 1, 2, 3)
    panel.list.setFocus()
    panel.list.go_to(0)
    press(Qt.Key.Key_Right, ALT)
    assert [photo.id for photo in photos(session)] == [numbers[1], numbers[0], numbers[2]]
    assert panel.photo.id == numbers[0]
    press(Qt.Key.Key_Delete, CTRL)
    assert [photo.id for photo in photos(session)] == [numbers[1], numbers[2]]
    assert panel.photo.id == numbers[2]
    session.undo()
    assert [photo.id for photo in photos(session)] == [numbers[1], numbers[0], numbers[2]]


def test_enter_looks_closer_and_pages_on(panel, session, qtbot):
    add(session, 1, 2)
    panel.list.setFocus()
    panel.list.go_to(0)
    enter()
    viewer = panel._viewer
    with qtbot.waitExposed(viewer):
        pass
    assert viewer.caption.text().startswith("1 of 2   Something else")
    assert viewer.view.picture.width() == 640
    viewer.view.setFocus()
    before = viewer.view.zoom
    press(Qt.Key.Key_Plus)
    assert viewer.view.zoom > before
    press(Qt.Key.Key_PageDown)
    assert viewer.caption.text().startswith("2 of 2")
    assert panel.list.row == 1
    assert not viewer.on_button.isEnabled()
    press(Qt.Key.Key_Escape)
    assert not viewer.isVisible()


def test_pictures_are_read_only_when_they_come_in_sight(qtbot, tmp_path):
    session = Session()
    session.take(make_book(tmp_path / "test.linebook"))
    add(session, 1, 2, 3)
    stations = StationsPage(session)
    qtbot.addWidget(stations)
    stations.resize(1200, 700)
    stations.show()
    stations.complete()
    stations.choose(session.line.stations[0].id)
    page = stations.station_page
    qtbot.waitUntil(lambda: page.is_whole)
    qtbot.wait(100)
    assert page.photos.model.read_so_far == frozenset()
    assert len(page.photos.model.photos) == 3
    page.go_to_section("photos")
    wanted = {photo.sha256 for photo in photos(session)}
    qtbot.waitUntil(lambda: page.photos.model.read_so_far == wanted)
    assert page.jumps.buttons["photos"].toolTip() == "Ctrl+0"
    session.close()


def test_ctrl_0_goes_there_and_the_section_comes_into_sight(qtbot, tmp_path):
    session = Session()
    session.take(make_book(tmp_path / "test.linebook"))
    add(session, 1)
    stations = StationsPage(session)
    qtbot.addWidget(stations)
    stations.resize(1200, 700)
    show_active(qtbot, stations)
    stations.complete()
    stations.choose(session.line.stations[0].id)
    stations.station_page.go_to_section("station")
    press(Qt.Key.Key_0, CTRL)
    page = stations.station_page
    assert focused() is page.photos.add_button
    qtbot.waitUntil(lambda: not page.photos.list.visibleRegion().isEmpty())
    assert any("Live parts" in card for card in _cautions(stations))
    session.close()


def _cautions(stations):
    from PySide6.QtWidgets import QLabel

    return [label.text() for label in stations.remarks.findChildren(QLabel)]


def test_what_was_altered_outside_is_told_in_words(session, panel, qtbot, tmp_path):
    add(session, 1, 2)
    path = session.book.path
    session.close()
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("UPDATE photo_content SET content = x'FFD8' WHERE id = 1")
        raw.execute("DELETE FROM photo_content WHERE id = 2")
        raw.commit()
    session.take(LineFile.open(path))
    panel.show_station(session.line.stations[0])
    size = panel.list.size()
    told = [panel.model.picture(photo, size) for photo in photos(session)]
    assert told == ["It was altered outside Linebook.", "It is not in the file."]
    panel.list.go_to(0)
    panel.look()
    assert "altered outside Linebook" in panel._viewer.fault.text()
    panel._viewer.close()


def test_find_leads_to_a_photograph(qtbot, tmp_path):
    session = Session()
    session.take(make_book(tmp_path / "test.linebook"))
    [_, second] = add(session, 1, 2)
    actions.set_fields(session.book, "photo", second, caption="Strip X1 as found")
    stations = StationsPage(session)
    qtbot.addWidget(stations)
    stations.resize(1200, 700)
    show_active(qtbot, stations)
    stations.complete()
    stations.choose(session.line.stations[0].id)
    assert stations.station_page.reveal("photo", second, "caption")
    assert focused() is stations.station_page.photos.form.editor("caption").input
    assert stations.station_page.photos.photo.id == second
    session.close()


def test_the_history_tells_what_was_added_and_proves_it(session):
    add(session, 1, shows="wiring", person="R. Vale")
    [row] = shown_changes(session.book.history(1), session.line)
    told = " ".join(row.texts)
    assert "Photograph" in told
    assert "Shows Wiring" in told
    assert photos(session)[0].sha256 in told
    assert "dots" not in told


# --- record and trial -----------------------------------------------------------------------


def test_a_shown_record_has_its_photographs_though_they_were_removed_since(session, panel):
    [number] = add(session, 1)
    line = line_of(canonical_text(session.line, FORMAT))
    session.book.freeze("as_commissioned", "R. Vale", "Handover", canonical_text(line, FORMAT))
    actions.remove_record(session.book, "photo", number)
    session.show_record(line, "As commissioned, revision 1")
    digest = photos(session)[0].sha256
    assert session.book.photo(digest) == take_bytes(as_file(plate(seed=1))).content
    session.end_trial()
    assert photos(session) == ()


def test_a_trial_that_is_taken_over_brings_its_photographs(session, panel):
    session.begin_trial()
    add(session, 1)
    assert session.take_over_trial()
    assert session.book.photo_faults() == {}
    assert session.book.photo(photos(session)[0].sha256)
