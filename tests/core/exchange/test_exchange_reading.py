"""Reading real files: workbooks, texts in several forms, and files that are neither."""

import datetime
import io
import zipfile

import openpyxl
import pytest

from core.errors import ImportRefusedError, LinebookError
from core.exchange import read_tables
from core.exchange import reading as module
from core.exchange.reading import BadCell


def workbook(tmp_path, *rows, title="Stations", **formats):
    book = openpyxl.Workbook()
    book.active.title = title
    for row in rows:
        book.active.append(row)
    for place, number_format in formats.items():
        book.active[place].number_format = number_format
    path = tmp_path / "book.xlsx"
    book.save(path)
    return path


def cells(path):
    (table,) = read_tables(path)
    return dict(table.rows)


def test_what_a_spreadsheet_made_of_cells_is_undone_where_that_is_safe(tmp_path):
    row = (12345, 0.1, 5.0, 1e20, True, 0.82, "0012", None, "x")
    path = workbook(tmp_path, row, F1="0.0%")
    read = ("12345", "0.1", "5", "1e+20", "yes", "82 %", "0012", "", "x")
    assert cells(path) == {1: read}


def test_dates_and_times_stay_what_the_spreadsheet_made_of_them(tmp_path):
    day, time = datetime.datetime(2026, 2, 1), datetime.time(12, 30)
    first, second = cells(workbook(tmp_path, (day, time)))[1]
    assert first == datetime.date(2026, 2, 1)
    assert isinstance(second, BadCell)
    assert "Format the cell as text" in second.why


def test_formula_counts_by_its_result_and_is_refused_without_one(tmp_path):
    path = workbook(tmp_path, ("=1+1", "a"))
    (first, _) = cells(path)[1]
    assert isinstance(first, BadCell)
    assert "formula without a result" in first.why
    with zipfile.ZipFile(path) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    sheet = "xl/worksheets/sheet1.xml"
    parts[sheet] = parts[sheet].replace(b"<v />", b"<v>2</v>").replace(b"<v></v>", b"<v>2</v>")
    with zipfile.ZipFile(path, "w") as package:
        for name, content in parts.items():
            package.writestr(name, content)
    assert cells(path)[1] == ("2", "a")


def test_error_in_a_cell_is_told(tmp_path):
    path = workbook(tmp_path, ("#N/A",))
    assert cells(path)[1] == (BadCell("the cell holds the error #N/A."),)


def test_blank_rows_and_pages_that_explain_are_left_out_and_numbers_kept(tmp_path):
    path = workbook(tmp_path, ("Tag",), (None,), ("  ",), ("A01", None, None))
    book = openpyxl.load_workbook(path)
    book.create_sheet("Read me").append(["words"])
    book.create_sheet("Empty")
    book.save(path)
    assert cells(path) == {1: ("Tag",), 4: ("A01",)}


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_text_is_read_whatever_it_was_saved_as(tmp_path, delimiter, encoding):
    lines = [["Tag", "Name", "Motor: Rated power"], ["A01", "Bürsten", '"0,75 kW"']]
    text = "\r\n".join(delimiter.join(line) for line in lines)
    path = tmp_path / "Stations.csv"
    path.write_bytes(text.encode(encoding))
    (table,) = read_tables(path)
    assert table.title == "Stations"
    assert table.rows[1] == (2, ("A01", "Bürsten", "0,75 kW"))


def test_commas_in_headings_do_not_hide_the_semicolon(tmp_path):
    path = tmp_path / "Drive types.csv"
    path.write_text("Name;Rated input current, 1-phase;Rated input current, 3-phase\nD;5;3\n")
    assert cells(path)[2] == ("D", "5", "3")


def test_line_that_names_the_delimiter_is_followed(tmp_path):
    path = tmp_path / "Stations.csv"
    path.write_text("sep=;\nTag;Name\nA01;a,b\n")
    assert cells(path) == {2: ("Tag", "Name"), 3: ("A01", "a,b")}


def test_folder_is_read_file_by_file(tmp_path):
    (tmp_path / "Stations.csv").write_text("Tag\nA01\n")
    (tmp_path / "People.csv").write_text("Name\n")
    (tmp_path / "Flow.csv").write_text("")
    (tmp_path / "Read me.txt").write_text("words")
    assert [table.title for table in read_tables(tmp_path)] == ["People", "Stations"]


def damaged(content):
    return content[: len(content) // 2]


def without_workbook(_content):
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as package:
        package.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
    return stream.getvalue()


def with_broken_sheet(content):
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w") as new:
        for name in old.namelist():
            part = old.read(name)
            new.writestr(name, part[:200] if "sheet1" in name else part)
    return stream.getvalue()


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (damaged, "damaged"),
        (with_broken_sheet, "damaged"),
        (without_workbook, "no XLSX workbook"),
        (lambda _: b"\xd0\xcf\x11\xe0\xa1\xb1" + b"\0" * 600, "password"),
        (lambda _: b"%PDF-1.7\n", "PDF"),
        (lambda _: b"SQLite format 3\0", "database"),
        (lambda _: b"\x00\x01\x02", "neither a spreadsheet nor a text"),
        (lambda _: b'Tag,Name\nA01,"never closed\n', "Line 2 is no line of a CSV"),
    ],
)
def test_file_that_is_no_sound_spreadsheet_is_refused(tmp_path, spoil, told):
    path = workbook(tmp_path, ("Tag",), ("A01",))
    path.write_bytes(spoil(path.read_bytes()))
    with pytest.raises(ImportRefusedError, match=told):
        read_tables(path)


def test_package_that_unpacks_to_too_much_is_refused_unread(tmp_path):
    path = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("xl/workbook.xml", b"")
        package.writestr("xl/worksheets/sheet1.xml", b" " * (module.LARGEST_UNPACKED_BYTES + 1))
    assert path.stat().st_size < 1_000_000
    with pytest.raises(ImportRefusedError, match="unpacks to more than 200 MB"):
        read_tables(path)


@pytest.mark.parametrize(
    ("limit", "value", "told"),
    [
        ("LARGEST_FILE_BYTES", 10, "larger than"),
        ("MOST_ROWS", 1, "more than 1 rows"),
        ("MOST_COLUMNS", 1, "1 columns"),
    ],
)
def test_file_that_is_too_large_is_refused(tmp_path, monkeypatch, limit, value, told):
    path = tmp_path / "Stations.csv"
    path.write_text("Tag,Name\nA01,x\nA02,y\n")
    monkeypatch.setattr(module, limit, value)
    with pytest.raises(ImportRefusedError, match=told):
        read_tables(path)


def test_missing_file_and_empty_folder_are_told(tmp_path):
    with pytest.raises(LinebookError, match=r"none.xlsx was not read. No such file or directory\."):
        read_tables(tmp_path / "none.xlsx")
    with pytest.raises(ImportRefusedError, match="no CSV file"):
        read_tables(tmp_path)
