"""A line that is written as a spreadsheet and imported into a new file is the same line."""

import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings

from core.exchange import apply_import, export_line, plan_import, read_tables
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
