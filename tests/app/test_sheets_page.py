"""The sheets page: the preview is what is saved; stations can be chosen; a stop stops."""

import io
import time

import openpyxl
import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrinter

from app.session import Session
from app.sheets_page import SheetsPage
from core.errors import LinebookError
from core.records.keeping import line_of_record
from core.store import LineFile, actions
from tests.app.keyboard import ALT, focused, press, show_active
from tests.app.made_line import make_book


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def page(session, qtbot):
    made = SheetsPage(session)
    qtbot.addWidget(made)
    made.resize(1000, 600)
    made.show()
    qtbot.waitUntil(lambda: bool(made.pdf), timeout=20_000)
    return made


def text_of(data):
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)


def page_text(data, number):
    return pypdf.PdfReader(io.BytesIO(data)).pages[number].extract_text()


def built_anew(page, qtbot, act):
    before = page.pdf
    act()
    qtbot.waitUntil(lambda: page.pdf != before and page._job is None, timeout=20_000)


def test_the_sheet_is_shown_with_its_pages_counted(page):
    assert page.view.page_count == len(pypdf.PdfReader(io.BytesIO(page.pdf)).pages)
    assert page.place.text() == f"Page 1 of {page.view.page_count}"
    assert "Station 3" in text_of(page.pdf)


def test_the_saved_pdf_is_the_very_one_that_is_shown(page, tmp_path):
    page.save_pdf(tmp_path / "sheet.pdf")
    assert (tmp_path / "sheet.pdf").read_bytes() == page.pdf


def test_a_folder_that_is_not_there_is_told_and_nothing_is_written(page, tmp_path):
    with pytest.raises(LinebookError, match=r"sheet\.pdf was not written"):
        page.save_pdf(tmp_path / "none" / "sheet.pdf")


def test_the_spreadsheet_has_the_same_stations(page, tmp_path, qtbot):
    page.save_xlsx(tmp_path / "sheet.xlsx")
    qtbot.waitUntil(lambda: page.state.text() == "Saved sheet.xlsx", timeout=20_000)
    book = openpyxl.load_workbook(tmp_path / "sheet.xlsx")
    cells = {cell.value for sheet in book for row in sheet.iter_rows() for cell in row}
    assert {"A01", "A02", "A03", "A04"} <= cells


def test_another_choice_takes_no_spreadsheet_away_that_is_being_written(
    page, tmp_path, qtbot, monkeypatch
):
    target = tmp_path / "sheet.xlsx"

    def slowly(_document, path, progress):
        time.sleep(1.0)
        if progress(1, 2):
            path.write_text("whole")

    monkeypatch.setattr("core.sheets.write_xlsx", slowly)
    page.save_xlsx(target)
    built_anew(page, qtbot, lambda: page.choice.sheets.setCurrentIndex(1))
    assert "Conductors" in text_of(page.pdf)
    assert target.read_text() == "whole"


def test_a_spreadsheet_that_cannot_be_written_is_told(page, tmp_path, qtbot):
    page.save_xlsx(tmp_path / "none" / "sheet.xlsx")
    qtbot.waitUntil(lambda: "sheet.xlsx was not written" in page.faults.text, timeout=20_000)
    assert page.save_xlsx_button.isEnabled()


def test_another_sheet_is_built_when_it_is_chosen(page, qtbot):
    built_anew(page, qtbot, lambda: page.choice.sheets.setCurrentIndex(1))
    assert "Conductors" in text_of(page.pdf)


def test_labels_begin_where_the_sheet_is_still_whole(page, qtbot):
    choice = page.choice
    assert not choice.firsts.isVisible()
    built_anew(page, qtbot, lambda: choice.sheets.setCurrentIndex(choice.sheets.findData("labels")))
    assert choice.firsts.isVisible()
    first = page_text(page.pdf, 1).split()[0]
    # An A4 sheet has 5 x 13 labels for wires and 3 x 8 for stations.
    assert (choice.first_wire.maximum(), choice.first_station.maximum()) == (65, 24)
    choice.first_wire.setFocus()
    choice.first_wire.selectAll()
    built_anew(page, qtbot, lambda: qtbot.keyClicks(choice.first_wire, "65"))
    qtbot.waitUntil(lambda: page._job is None and page_text(page.pdf, 1).count("\n") <= 3)
    assert page_text(page.pdf, 1).split()[0] == first
    choice.sheets.setCurrentIndex(0)
    assert not choice.firsts.isVisible()


def test_stations_that_are_left_out_are_not_on_the_sheet(page, qtbot):
    page.choice.all_stations.setChecked(False)
    item = page.choice.stations.item(2)
    built_anew(page, qtbot, lambda: item.setCheckState(Qt.CheckState.Unchecked))
    assert "Station 3" not in text_of(page.pdf)
    assert "Station 4" in text_of(page.pdf)


def test_without_any_station_the_page_asks_for_one(page, qtbot):
    page.choice.all_stations.setChecked(False)
    for place in range(page.choice.stations.count()):
        page.choice.stations.item(place).setCheckState(Qt.CheckState.Unchecked)
    qtbot.waitUntil(lambda: page.state.text() == "Choose at least one station")
    assert page.view.page_count == 0
    assert not page.save_pdf_button.isEnabled()


def test_a_change_of_the_line_is_on_the_sheet(page, session, qtbot):
    station = session.line.stations[0].id
    built_anew(
        page, qtbot, lambda: session.do(actions.set_fields, "station", station, name="Wet pump")
    )
    assert "Wet pump" in text_of(page.pdf)


def test_a_stop_leaves_the_last_sheet_and_offers_to_build_again(page, qtbot):
    before = page.pdf
    page._build()
    assert page.stop_button.isVisible()
    page.stop_button.click()
    assert page.state.text() == "Stopped"
    assert page.again_button.isVisible()
    assert page.pdf == before
    page.again_button.click()
    qtbot.waitUntil(lambda: page._job is None, timeout=20_000)
    assert page.state.text() == ""


def test_printing_sends_all_pages(page, tmp_path, qtbot):
    printer = QPrinter(QPrinter.PrinterMode.ScreenResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    page.print_on(printer)
    count = page.view.page_count
    qtbot.waitUntil(lambda: page.state.text() == f"Sent {count} pages to the printer")
    assert len(pypdf.PdfReader(tmp_path / "printed.pdf").pages) == count


def test_the_name_proposed_for_a_file_is_one_that_every_system_takes(page, session):
    session.do(actions.set_fields, "line", session.line.id, name='Shed 1/2: "wet"')
    proposed = page._proposed(".pdf")
    assert proposed.endswith("Shed 1-2- -wet- Parameter record.pdf")


def test_a_closed_file_shows_nothing(page, session, qtbot):
    session.close()
    qtbot.waitUntil(lambda: page.view.page_count == 0)


def test_a_line_without_stations_has_its_sheet(tmp_path, qtbot):
    session = Session()
    session.take(LineFile.create(tmp_path / "empty.linebook", name="Empty line"))
    page = SheetsPage(session)
    qtbot.addWidget(page)
    page.show()
    qtbot.waitUntil(lambda: bool(page.pdf), timeout=20_000)
    assert "Empty line" in text_of(page.pdf)
    session.close()


# --- the language that is printed -----------------------------------------------------------


def choose_language(page, qtbot, key):
    """By keys alone: Alt+L goes to the choice, an arrow takes the other language."""
    show_active(qtbot, page)
    page.choice.sheets.setFocus()
    press(Qt.Key.Key_L, ALT)
    assert focused() is page.choice.language.box
    built_anew(page, qtbot, lambda: press(key))


def test_another_language_is_chosen_by_keys_and_nothing_is_stored(page, session, qtbot, tmp_path):
    box = page.choice.language.box
    assert (box.currentText(), box.accessibleName()) == ("English (stored)", "Language to print in")
    steps = len(session.book.done)
    choose_language(page, qtbot, Qt.Key.Key_Down)
    assert box.currentText() == "Spanish"
    assert "Registro de parámetros" in text_of(page.pdf)
    assert (session.line.language, len(session.book.done)) == ("en", steps)
    assert page._proposed(".pdf").endswith(" Parameter record Spanish.pdf")
    page.save_xlsx(tmp_path / "sheet.xlsx")
    qtbot.waitUntil(lambda: page.state.text() == "Saved sheet.xlsx", timeout=20_000)
    cells = openpyxl.load_workbook(tmp_path / "sheet.xlsx").worksheets[0]
    assert "Reglas de instalación" in {cell.value for row in cells.iter_rows() for cell in row}
    built_anew(page, qtbot, lambda: press(Qt.Key.Key_Up))
    assert "Registro de parámetros" not in text_of(page.pdf)
    assert page._proposed(".pdf").endswith(" Parameter record.pdf")


def test_the_language_of_the_line_is_the_default(page, session, qtbot):
    box = page.choice.language.box
    line = session.line.id
    built_anew(page, qtbot, lambda: session.do(actions.set_fields, "line", line, language="es"))
    assert box.currentText() == "Spanish (stored)"
    assert "Registro de parámetros" in text_of(page.pdf)
    choose_language(page, qtbot, Qt.Key.Key_Up)
    assert box.currentText() == "English"
    assert "Parameter record" in text_of(page.pdf)


def test_a_record_is_printed_in_either_language_with_the_same_digest(page, session, qtbot):
    record = session.freeze("as_commissioned", "R. Vale", "Handover")
    before = session.book.path.read_bytes()
    built_anew(
        page, qtbot, lambda: session.show_record(line_of_record(record), record.name, record.sha256)
    )
    for key, name in ((Qt.Key.Key_Down, "Como se entregó"), (Qt.Key.Key_Up, "As commissioned")):
        choose_language(page, qtbot, key)
        text = text_of(page.pdf)
        assert f"{name}, " in text
        assert record.sha256 in "".join(text.split())
    assert not session.is_record_changed
    assert session.file_path.read_bytes() == before
    assert session.file_book.frozen() == (record,)


def test_a_choice_of_language_ends_where_something_else_is_shown(page, session, qtbot):
    choose_language(page, qtbot, Qt.Key.Key_Down)
    record = session.freeze("as_commissioned", "R. Vale", "Handover")
    built_anew(
        page, qtbot, lambda: session.show_record(line_of_record(record), record.name, record.sha256)
    )
    assert page.choice.language.box.currentText() == "English (stored)"
    assert "Parameter record" in text_of(page.pdf)


def test_a_choice_of_language_stays_while_the_line_is_worked_on(page, session, qtbot):
    choose_language(page, qtbot, Qt.Key.Key_Down)
    station = session.line.stations[0].id
    built_anew(
        page, qtbot, lambda: session.do(actions.set_fields, "station", station, name="Wet pump")
    )
    assert page.choice.language.box.currentText() == "Spanish"
    assert "Registro de parámetros" in text_of(page.pdf)
