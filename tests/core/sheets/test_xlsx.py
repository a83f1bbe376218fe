import io

import openpyxl
import pypdf
import pytest

from core.line import compute_line
from core.sheets import SHEETS, SheetCancelledError, write_xlsx
from core.sheets.document import Cell, Column, Document, Grid, Paragraph, Section
from core.sheets.pdf import pdf_bytes
from core.sheets.xlsx import xlsx_bytes
from tests.core.sheets import lines

RISKY = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "#N/A", "=cmd|'/c calc'!A0", "\r\n=2")

ONLY_IN_TABLES = (
    "Unit",
    "All settings",
    "Station or bus",
    "Name",
    "Run",
    "Supply",
    "Tag",
    "Circuit as entered",
    *(f"Text {number}" for number in range(1, 6)),
)
"""Headings of columns that stand on paper as headings of groups, or not at all."""


def _built(key, line=None):
    line = line or lines.line(2)
    return SHEETS[key].build(line, compute_line(line))


def _opened(document):
    return openpyxl.load_workbook(io.BytesIO(xlsx_bytes(document)))


def _document(*texts):
    rows = tuple((Cell(text), Cell(text)) for text in texts)
    parts = (Grid((Column("A"), Column("B")), rows), *(Paragraph(text) for text in texts))
    return Document("T", "S", "=line", "+site", (Section("=Sheet", parts),))


def _cells(book):
    return [cell for sheet in book for row in sheet.iter_rows() for cell in row]


@pytest.mark.parametrize("key", SHEETS)
def test_no_cell_is_a_formula(key):
    assert {cell.data_type for cell in _cells(_opened(_built(key)))} <= {"s", "n"}


@pytest.mark.parametrize("text", RISKY)
def test_a_text_that_looks_like_a_formula_stays_a_text(text):
    cells = [cell for cell in _cells(_opened(_document(text))) if cell.value is not None]
    assert {cell.data_type for cell in cells} == {"s"}
    shown = [cell for cell in cells if str(cell.value).strip() == text.strip()]
    assert len(shown) == 3
    if text.startswith(("=", "+", "-", "@")):
        assert all(cell.quotePrefix for cell in shown)


def test_characters_that_no_xml_may_hold_are_replaced():
    values = [cell.value for cell in _cells(_opened(_document("a\x00b\x0b", "half \ud83d")))]
    assert "a\ufffdb" in [str(value).strip() for value in values]
    assert "half \ufffd" in values


def test_scripts_that_paper_lacks_are_kept():
    values = [cell.value for cell in _cells(_opened(_document("電動機", "\U0001f600")))]
    assert {"電動機", "\U0001f600"} <= set(values)


def test_a_text_longer_than_a_cell_may_hold_says_that_it_is_cut():
    values = [str(cell.value) for cell in _cells(_opened(_document("w" * 40_000)))]
    assert any(value.endswith("… (cut: 40000 characters in all)") for value in values)


def test_each_station_has_a_worksheet_and_all_settings_one_table():
    book = _opened(_built("parameter_record"))
    assert book.sheetnames == [
        "Overview",
        "B01 Brush bed 1",
        "B02 Brush bed 2",
        "X99 Not looked at yet",
        "All settings",
    ]
    sheet = book["All settings"]
    assert sheet.auto_filter.ref == sheet.dimensions
    assert sheet.freeze_panes == "A2"
    assert sheet.print_title_rows == "$1:$1"
    assert [cell.value for cell in sheet[2]][:6] == [
        "B01",
        "Brush bed 1",
        "hz-max",
        "Maximum frequency",
        60,
        "Hz",
    ]


def test_stations_of_one_name_have_worksheets_of_their_own():
    first = lines.station(1)
    twins = tuple(lines.station(number, tag="A" * 40 + str(number), name="") for number in (1, 2))
    book = _opened(_built("parameter_record", lines.line(0, stations=(first, *twins))))
    assert len({name.casefold() for name in book.sheetnames}) == len(book.sheetnames) == 5


def test_numbers_are_numbers_with_the_unit_beside_them():
    sheet = _opened(_built("wiring_schedule"))["Conductors"]
    header = [cell.value for cell in sheet[1]]
    size, length = header.index("Size"), header.index("Length")
    assert header[size + 1] == header[length + 1] == "Unit"
    row = [cell.value for cell in sheet[2]]
    assert (row[size], row[size + 1], row[length], row[length + 1]) == (1.5, "mm²", 12, "m")
    assert sheet.cell(2, size + 1).number_format == "0.0"


def test_a_keypad_value_keeps_its_decimals():
    sheet = _opened(_built("parameter_record"))["All settings"]
    value = sheet.cell(2, 5)
    assert (value.value, value.number_format) == (60, "0.0")


def test_choices_made_of_digits_are_no_numbers():
    sheet = _opened(_built("parameter_record"))["All settings"]
    row = next(row for row in sheet.iter_rows(values_only=True) if row[2] == "ref-range")
    assert row[4:8] == ("0", "0-10 V", "0", "0-10 V")


def test_the_spreadsheet_is_made_to_be_printed():
    for key in SHEETS:
        for sheet in _opened(_built(key, lines.line(1, paper="letter"))):
            assert sheet.page_setup.paperSize == 1  # Letter, ECMA-376 Part 1, 18.3.1.63
            assert sheet.page_setup.fitToWidth == 1
            assert sheet.sheet_properties.pageSetUpPr.fitToPage
            assert sheet.freeze_panes


def test_a_printed_table_names_its_line_whatever_the_name_holds():
    sheet = _opened(_built("wiring_schedule", lines.line(1, name="Peel & Sort")))["Conductors"]
    assert sheet.oddHeader.left.text == "Peel && Sort"


@pytest.mark.parametrize("key", SHEETS)
def test_both_writers_say_the_same(key):
    document = _built(key)
    content = pdf_bytes(document)
    read = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages)
    paper = "".join(read.split())
    for sheet in _opened(document):
        for cell in (cell for row in sheet.iter_rows() for cell in row):
            if cell.data_type == "s" and cell.value not in ONLY_IN_TABLES:
                words = str(cell.value).split()
                assert all(word in paper for word in words), (sheet.title, cell.value)
            if isinstance(cell.value, int | float):
                assert f"{cell.value:g}" in paper


def test_equal_documents_give_equal_bytes():
    assert xlsx_bytes(_built("wiring_schedule")) == xlsx_bytes(_built("wiring_schedule"))


def test_writing_can_be_stopped_and_leaves_nothing(tmp_path):
    with pytest.raises(SheetCancelledError):
        write_xlsx(_built("wiring_schedule"), tmp_path / "w.xlsx", lambda done, of: False)
    assert list(tmp_path.iterdir()) == []


def test_a_file_is_written(tmp_path):
    write_xlsx(_built("wiring_schedule"), tmp_path / "w.xlsx")
    assert openpyxl.load_workbook(tmp_path / "w.xlsx").sheetnames[0] == "Overview"
