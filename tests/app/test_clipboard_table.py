"""Cells to clipboard text and back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.clipboard_table import LONGEST, parse_table, write_table
from core.errors import InputError


@pytest.mark.parametrize(
    ("text", "cells"),
    [
        ("A01", [["A01"]]),
        ("A01\t60\r\nA02\t50\r\n", [["A01", "60"], ["A02", "50"]]),
        ("A01\t60\nA02\t50", [["A01", "60"], ["A02", "50"]]),
        ("A01\r\n\r\n", [["A01"], [""]]),
        ('"two\nlines"\t"say ""go"""\r\n', [["two\nlines", 'say "go"']]),
        ('5" pipe\t"5" pipe', [['5" pipe', '"5" pipe']]),
        ("a\tb\nc", [["a", "b"], ["c", ""]]),
        ("\t\n", [["", ""]]),
        ("'=1+1\t'-x\t's", [["=1+1", "-x", "'s"]]),
    ],
)
def test_parse_table_takes_what_spreadsheets_put_there(text, cells):
    assert parse_table(text) == cells


@pytest.mark.parametrize("text", ["", "x" * (LONGEST + 1)])
def test_parse_table_refuses_nothing_and_too_much(text):
    with pytest.raises(InputError):
        parse_table(text)


def test_a_text_that_a_spreadsheet_would_run_is_held_back_and_numbers_are_not():
    assert write_table([["=cmd()", "+a", "@b", "-c", "-3", "-0,5"]]) == (
        "'=cmd()\t'+a\t'@b\t'-c\t-3\t-0,5\r\n"
    )


CELLS = st.text(st.sampled_from("ab1 '\"=+-@\t\n\r,."), max_size=8)


@given(
    st.integers(1, 4).flatmap(
        lambda wide: st.lists(st.lists(CELLS, min_size=wide, max_size=wide), min_size=1, max_size=4)
    )
)
def test_a_table_comes_back_as_it_was_written(rows):
    assert parse_table(write_table(rows)) == rows
