"""Freezing in the window: what is open is told, records are verified, altered ones not used."""

import sqlite3
from contextlib import closing

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from app.frozen_rows import HEADINGS
from app.settings import Settings
from app.window import MainWindow
from core.photos import take_bytes
from core.store import LineFile, actions
from core.store.faults import DamagedError, told
from core.store.photo_actions import add_photos
from tests.app.keyboard import CTRL, enter, focused, press, replace_with, show_active, tab
from tests.app.sample_copy import copied
from tests.core.drawn_photos import as_file, plate


@pytest.fixture
def path(tmp_path):
    return copied(tmp_path)


@pytest.fixture
def window(qtbot, path):
    made = MainWindow(Settings(), path)
    qtbot.addWidget(made)
    made.resize(1366, 768)
    show_active(qtbot, made)
    made.show_page("visits")
    yield made
    made.close()


def frozen(window):
    return window.page("visits").view("records")


def freeze(window, kind="as_commissioned", person="R. Vale", reason="Handover"):
    return window.session.freeze(kind, person, reason)


def cells(view, row):
    return [view.table.item(row, column).text() for column in range(len(HEADINGS))]


def alter(path, statement="content = replace(content, 'Mandarins', 'Mandarinz')"):
    with closing(sqlite3.connect(path)) as raw:
        raw.execute(f"UPDATE frozen_record SET {statement} WHERE id = 1")
        raw.commit()


def test_a_line_is_frozen_with_the_keyboard_alone(window, qtbot):
    view = frozen(window)
    view.form.kind.setFocus()
    press(Qt.Key.Key_Down)  # as found
    tab()
    replace_with("J. Hale")
    tab()
    replace_with("Visit")
    enter()
    [record] = window.session.book.frozen()
    assert (record.kind, record.person, record.reason) == ("as_found", "J. Hale", "Visit")
    assert cells(view, 0)[:3] == ["✓ Verified", "As found", "1"]
    assert cells(view, 0)[4:] == ["J. Hale", "Visit", record.sha256[:12]]
    assert focused() is view.table
    assert view.digest.text() == record.sha256


def test_what_is_open_is_told_before(window, qtbot):
    view = frozen(window)
    qtbot.waitUntil(lambda: "checks open" in view.form.standing.text())
    # None of the sample's checks is answered; its own notes name faults that stand.
    assert "▲ " in view.form.standing.text()
    assert "faults not accepted." in view.form.standing.text()
    assert "all the same" in view.form.standing.text()
    assert view.form.button.isVisible()


def test_a_missing_reason_is_told_beside_it_and_nothing_is_lost(window):
    view = frozen(window)
    view.form.person.setEditText("R. Vale")
    view.form.button.click()
    assert "It is not said why" in view.form.told.text()
    assert view.form.told.isVisible()
    assert focused() is view.form.reason
    assert view.form.person.currentText() == "R. Vale"
    assert window.session.book.frozen() == ()
    replace_with("Handover")
    enter()
    assert not view.form.told.isVisible()
    assert len(window.session.book.frozen()) == 1


def test_the_person_is_proposed_from_the_last_record_then_from_the_people(window):
    # The sample names one person.
    view = frozen(window)
    assert view.form.person.currentText() == "Sample electrician"
    freeze(window, person="R. Vale")
    assert view.form.person.currentText() == "R. Vale"
    assert [view.form.person.itemText(at) for at in range(2)] == [
        "R. Vale",
        "Sample electrician",
    ]


def test_records_are_listed_newest_first_and_copied_with_the_whole_hash(window):
    first, second = freeze(window), freeze(window, reason="Again")
    view = frozen(window)
    assert [cells(view, row)[2] for row in range(2)] == ["2", "1"]
    view.table.setFocus()
    press(Qt.Key.Key_A, CTRL)
    press(Qt.Key.Key_C, CTRL)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0].split("\t") == list(HEADINGS)
    assert [line.split("\t")[-1] for line in lines[1:]] == [second.sha256, first.sha256]
    view.copy_button.click()
    assert QGuiApplication.clipboard().text() == second.sha256


def test_enter_looks_into_a_record_on_every_page(window):
    freeze(window)
    window.session.do(actions.set_fields, "line", window.session.line.id, name="Renamed later")
    view = frozen(window)
    view.table.setFocus()
    enter()
    assert window.session.record_name == "As commissioned, revision 1"
    assert window.session.line.name == "Quillback Hollow Packing Shed"
    assert "private copy" in window.trial.text.text()
    assert view.back_button.isVisible()
    assert view.table.rowCount() == 1
    view.back_button.click()
    assert window.session.line.name == "Renamed later"
    assert not view.back_button.isVisible()


def test_back_to_the_file_the_keys_stay_with_the_records(window):
    freeze(window)
    view = frozen(window)
    view.look_into()
    view.back_button.setFocus()
    press(Qt.Key.Key_Space)
    assert not window.session.is_trial
    assert focused() is view.table


def test_while_a_record_is_shown_nothing_is_frozen(window):
    freeze(window)
    view = frozen(window)
    view.look_into()
    assert not view.form.button.isVisible()
    assert "Not now. As commissioned, revision 1 is shown" in view.form.standing.text()
    view.freeze("as_found", "R. Vale", "Visit")
    assert "Go back to the file first" in view.form.told.text()
    window.session.end_trial()
    assert len(window.session.book.frozen()) == 1
    assert view.form.button.isVisible()


def test_from_one_record_straight_into_another(window):
    freeze(window)
    window.session.do(actions.set_fields, "line", window.session.line.id, name="Second name")
    freeze(window, "as_found")
    view = frozen(window)
    assert view.look_into()
    assert window.session.line.name == "Second name"
    view.table.setCurrentCell(1, 0)
    assert view.look_into()
    assert window.session.record_name == "As commissioned, revision 1"
    assert window.session.line.name == "Quillback Hollow Packing Shed"


def test_in_a_trial_neither_freezing_nor_looking(window):
    freeze(window)
    window.begin_trial()
    view = frozen(window)
    assert "Not now. A trial is on" in view.form.standing.text()
    assert not view.look_into()
    assert "A trial is on" in view.told.text()
    assert window.session.can_take_over
    window.discard_trial()
    assert not view.told.isVisible()
    assert view.form.button.isVisible()


def test_an_altered_record_is_told_when_the_file_is_opened_and_is_not_used(window, path):
    freeze(window)
    window.close_file()
    alter(path)
    window.open_path(path)
    assert "ALTERED OUTSIDE LINEBOOK: As commissioned, revision 1" in window.notice.text
    window.show_page("visits")
    view = frozen(window)
    assert cells(view, 0)[0] == "✗ ALTERED"
    assert "ALTERED OUTSIDE LINEBOOK" in view.about.text()
    assert not view.look_into()
    assert not window.session.is_trial
    assert "altered outside Linebook" in view.told.text()
    view.compare_button.click()
    assert window.page("visits").chosen == "records"


def test_bytes_that_are_no_text_are_told_too(window, path):
    freeze(window)
    window.close_file()
    alter(path, "content = CAST(x'ff00ff' AS TEXT), at = 'yesterday'")
    window.open_path(path)
    assert "ALTERED OUTSIDE LINEBOOK" in window.notice.text
    window.show_page("visits")
    assert cells(frozen(window), 0)[0] == "✗ ALTERED"
    assert cells(frozen(window), 0)[3] == "yesterday"


def test_sound_records_need_no_notice(window, path):
    freeze(window)
    window.close_file()
    window.open_path(path)
    assert window.notice.text == ""


def test_records_made_elsewhere_appear_when_the_view_is_shown(window):
    window.show_page("stations")
    window.session.do(LineFile.freeze, "as_found", "J. Hale", "Read back", "{}")
    window.show_page("visits")
    assert cells(frozen(window), 0)[1] == "As found"


def test_sheets_of_a_record_name_it_and_its_hash(window, qtbot):
    import io

    import pypdf

    record = freeze(window)
    frozen(window).sheets_button.click()
    page = window.page("sheets")
    assert window.pages.currentWidget() is page
    assert page.choice.sheet == "handover_book"
    page.choice.choose("spares")
    qtbot.waitUntil(lambda: bool(page.pdf) and page._job is None, timeout=60_000)

    def foot():
        return pypdf.PdfReader(io.BytesIO(page.pdf)).pages[0].extract_text()

    assert f"As commissioned, revision 1 · SHA-256 {record.sha256[:16]}" in foot()
    # Something typed into the private copy makes it another line.
    before = page.pdf
    window.session.do(actions.set_fields, "line", window.session.line.id, owner="Nobody")
    qtbot.waitUntil(lambda: page.pdf != before and page._job is None, timeout=60_000)
    assert "SHA-256" not in foot()
    assert "A private copy of As commissioned, revision 1, changed since" in foot()
    before = page.pdf
    window.session.end_trial()
    qtbot.waitUntil(lambda: page.pdf != before and page._job is None, timeout=60_000)
    assert "Not frozen" in foot()


def test_a_record_is_verified_with_its_photographs(window, path):
    taken = [take_bytes(as_file(plate(seed=seed))) for seed in (1, 2)]
    window.session.do(add_photos, window.session.line.stations[0].id, taken)
    freeze(window)
    view = frozen(window)
    assert "Verified with it: photographs (2)." in view.about.text()
    window.close_file()
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("DELETE FROM photo_content WHERE id = 1")
        raw.commit()
    window.open_path(path)
    window.show_page("visits")
    view.table.choose(1)
    assert "✗ 1 of its photographs (2) are not in the file" in view.about.text()


def unreadable(book):
    """As SQLite answers where the disk has a bad sector."""
    with told(f"The records of {book.path.name} were not read."):
        raise DamagedError


def test_records_that_cannot_be_read_are_told_when_the_view_is_shown(window, monkeypatch):
    freeze(window)
    window.show_page("stations")
    with monkeypatch.context() as patch:
        patch.setattr(LineFile, "frozen", unreadable)
        window.show_page("visits")
        view = frozen(window)
        assert view.isVisible()
        assert view.told.isVisible()
        assert "damaged or cut short" in view.told.text()
        assert view.state.text() == "The records of this file cannot be read, so none is listed."
        assert view.table.records == ()
    # When it can be read again, it is.
    window.show_page("stations")
    window.show_page("visits")
    assert cells(view, 0)[0] == "✓ Verified"
    assert view.told.isHidden()
