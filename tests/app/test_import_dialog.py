"""The import: shown first, then taken over as one step or left; faults are all told."""

import openpyxl
import pytest
from PySide6.QtWidgets import QFileDialog

from app import import_dialog
from app.import_dialog import ImportDialog
from app.session import Session
from core.store import actions
from tests.app.made_line import make_book


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def dialog(session, qtbot):
    made = ImportDialog(session)
    qtbot.addWidget(made)
    made.show()
    return made


def csv_file(tmp_path, text):
    path = tmp_path / "stations.csv"
    path.write_text(text, encoding="utf-8")
    return path


def look(dialog, path, qtbot):
    dialog.look_at(path)
    qtbot.waitUntil(lambda: dialog._job is None, timeout=20_000)


def test_what_would_change_is_shown_before_anything_changes(dialog, session, tmp_path, qtbot):
    before = session.line
    assert not dialog.take_button.isEnabled()
    look(dialog, csv_file(tmp_path, "Tag,Name,Kind\nA01,Wet pump,Pump\nB01,New,Fan\n"), qtbot)
    told = f"{dialog.head.text()}\n{dialog.told.toPlainText()}"
    assert "B01" in told
    assert "Wet pump" in told
    assert session.line is before
    assert dialog.take_button.isEnabled()


def test_take_over_is_one_step(dialog, session, tmp_path, qtbot):
    before = session.line
    look(dialog, csv_file(tmp_path, "Tag,Name,Kind\nA01,Wet pump,Pump\nB01,New,Fan\n"), qtbot)
    with qtbot.waitSignal(dialog.accepted):
        dialog.take_button.click()
    assert session.line.station_tagged("B01").kind == "fan"
    assert session.line.station_tagged("A01").name == "Wet pump"
    session.undo()
    assert session.line == before


def test_leave_as_it_is_changes_nothing(dialog, session, tmp_path, qtbot):
    before = session.line
    look(dialog, csv_file(tmp_path, "Tag,Name\nB01,New\n"), qtbot)
    with qtbot.waitSignal(dialog.rejected):
        dialog.leave_button.click()
    assert session.line is before


def test_every_fault_is_told_with_row_and_column(dialog, session, tmp_path, qtbot):
    rows = "Tag,Kind,Motor: Rated power\nB01,Rocket,5 kg\nB02,Pump,1 hp\n"
    look(dialog, csv_file(tmp_path, rows), qtbot)
    assert "Refused" in dialog.head.text()
    first, second = sorted(dialog.told.toPlainText().split("\n"))
    assert "row 2" in first
    assert "row 2" in second
    assert "Kind" in first
    assert "'5 kg' is a mass" in second
    assert not dialog.take_button.isEnabled()


def test_a_file_that_is_no_spreadsheet_is_told(dialog, tmp_path, qtbot):
    path = tmp_path / "stations.xlsx"
    path.write_bytes(b"not a workbook")
    look(dialog, path, qtbot)
    assert "Refused" in dialog.head.text()
    assert dialog.told.toPlainText()


def test_a_spreadsheet_that_changes_nothing_cannot_be_taken_over(dialog, tmp_path, qtbot):
    look(dialog, csv_file(tmp_path, "Tag,Name\nA01,Station 1\n"), qtbot)
    assert "Changes nothing" in dialog.head.text()
    assert not dialog.take_button.isEnabled()


def test_a_line_that_changed_meanwhile_is_not_overrun(dialog, session, tmp_path, qtbot):
    look(dialog, csv_file(tmp_path, "Tag,Name\nB01,New\n"), qtbot)
    session.do(actions.add_station)
    dialog.take_over()
    assert "Refused" in dialog.head.text()
    assert session.line.station_tagged("B01") is None


def test_a_file_is_chosen_by_its_dialog(dialog, tmp_path, qtbot, monkeypatch):
    path = csv_file(tmp_path, "Tag,Name\nB01,New\n")
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
    dialog.file_button.click()
    qtbot.waitUntil(lambda: "stations.csv" in dialog.head.text() and dialog._job is None)
    assert "B01" in dialog.told.toPlainText()


def test_a_template_is_written_and_reads_back_as_no_change(
    dialog, session, tmp_path, qtbot, monkeypatch
):
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "fill in"), ""))
    written = []
    import_dialog.write_template_as(session, dialog, written.append)
    qtbot.waitUntil(lambda: bool(written), timeout=20_000)
    assert written == [tmp_path / "fill in.xlsx"]
    assert "Stations" in openpyxl.load_workbook(written[0]).sheetnames


def test_the_whole_line_is_written_and_reads_back_as_no_change(
    dialog, session, tmp_path, qtbot, monkeypatch
):
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "a.xlsx"), ""))
    written = []
    import_dialog.export_as(session, dialog, written.append)
    qtbot.waitUntil(lambda: bool(written), timeout=20_000)
    look(dialog, written[0], qtbot)
    assert "Changes nothing" in dialog.head.text()


def test_a_template_that_cannot_be_written_is_told(dialog, session, tmp_path, qtbot, monkeypatch):
    target = tmp_path / "none" / "a.xlsx"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(target), ""))
    with qtbot.waitSignal(session.refused, timeout=20_000):
        import_dialog.write_template_as(session, dialog, pytest.fail)
