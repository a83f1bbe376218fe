"""A line that is written as a spreadsheet and imported into a new file is the same line."""

import tempfile
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings

from core.errors import LinebookError
from core.exchange import apply_import, export_line, plan_import, read_tables
from core.exchange.template import readme_lines
from core.model import Line, OwnCheck, Photo, Station
from tests.core.exchange.lines import content, lines


@pytest.mark.parametrize("name", ["line.xlsx", "folder"])
@given(line=lines())
@settings(max_examples=60)
def test_import_of_an_export_into_a_new_file_is_the_same_line(new_book, name, line):
    with tempfile.TemporaryDirectory() as folder, new_book() as book:
        path = Path(folder) / name
        export_line(line, path)
        apply_import(book, plan_import(book.line, read_tables(path)))
        assert content(book.line) == content(line)


@given(line=lines())
@settings(max_examples=20)
def test_import_of_an_export_into_its_own_line_changes_nothing(line):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "folder"
        export_line(line, path)
        assert plan_import(line, read_tables(path)).changes == ()


def test_photographs_stay_in_the_line_file(tmp_path):
    held = (Photo(id=1, shows="wiring", caption="Strip X1", sha256="0" * 64),)
    line = Line(stations=(Station(id=1, tag="ST01", photos=held),))
    for path in export_line(line, tmp_path / "line"):
        assert "Strip X1" not in path.read_text(encoding="utf-8")
    assert plan_import(line, read_tables(tmp_path / "line")).changes == ()
    assert any("Photographs do not travel" in told for told in readme_lines("metric"))


def test_text_that_looks_like_a_formula_is_a_text_in_a_workbook(tmp_path):
    line = Line(stations=(Station(id=1, tag="=1+1", name="-M1 _x0041_"),))
    (path,) = export_line(line, tmp_path / "line.xlsx")
    _, row = openpyxl.load_workbook(path)["Stations"].iter_rows(max_col=2)
    assert [(cell.value, cell.data_type) for cell in row] == [
        ("=1+1", "s"),
        ("-M1 _x005F_x0041_", "s"),  # ECMA-376 part 1, 22.9.2.19
    ]
    assert all(cell.quotePrefix for cell in row)


def test_text_that_looks_like_a_formula_is_shielded_in_a_csv_file(tmp_path):
    export_line(Line(stations=(Station(id=1, tag="=1+1"),)), tmp_path / "line")
    written = (tmp_path / "line" / "Stations.csv").read_bytes()
    assert written.startswith(b"\xef\xbb\xbf")
    assert b"\n'=1+1," in written


def test_export_replaces_a_file_whole_or_leaves_it(tmp_path):
    path = tmp_path / "line.xlsx"
    path.write_bytes(b"old")
    export_line(Line(), path)
    assert openpyxl.load_workbook(path).sheetnames[1] == "Line"
    assert [entry.name for entry in tmp_path.iterdir()] == ["line.xlsx"]
    with pytest.raises(LinebookError, match="No such file or directory"):
        export_line(Line(), tmp_path / "none" / "line.xlsx")


def test_line_without_flow_or_motors_stays_so(new_book, tmp_path):
    line = Line(stations=(Station(id=1, tag="A01"), Station(id=2, tag="A02")))
    export_line(line, tmp_path / "line")
    with new_book() as book:
        apply_import(book, plan_import(book.line, read_tables(tmp_path / "line")))
        assert book.line.flows == ()
        assert [entry.motors for entry in book.line.stations] == [(), ()]


def test_one_kind_of_record_alone_goes_from_line_to_line(tmp_path, new_book):
    own = OwnCheck(1, "Brush speed", "coupled", "station", "reading", "rotation", 9.0, 10.5)
    line = Line(name="Old", stations=(Station(id=1, tag="A01"),), own_checks=(own,))
    (path,) = export_line(line, tmp_path / "own.xlsx", ["own_check"])
    with new_book() as book:
        before = book.line
        apply_import(book, plan_import(book.line, read_tables(path)))
        [found] = book.line.own_checks
        assert (found.name, found.kind, found.low, found.high) == (
            "Brush speed", "rotation", 9.0, 10.5,
        )  # fmt: skip
        assert (book.line.name, book.line.stations) == (before.name, before.stations)
