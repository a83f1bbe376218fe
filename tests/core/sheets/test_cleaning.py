import doctest

import pytest

from core.sheets import cleaning
from core.sheets.cleaning import LONGEST, clean, markup, printable, sheet_name
from core.sheets.words import words_in

SAY = words_in("en")


@pytest.mark.parametrize(
    ("stored", "shown"),
    [
        ("plain 3/4 hp", "plain 3/4 hp"),
        ("a\x00b\x07c\x1bd\x7fe\x9ff", "a\ufffdb\ufffdc\ufffdd\ufffde\ufffdf"),
        ("one\r\ntwo\rthree\u2028four", "one\ntwo\nthree\nfour"),
        ("tab\there", "tab here"),
        ("half \ud83d of a pair", "half \ufffd of a pair"),
        ("no character \uffff\ufdd0", "no character \ufffd\ufffd"),
        ("X1:1\u202e01\u2066\u200f", "X1:101"),
        ("e\u0301", "é"),
    ],
)
def test_what_cannot_be_shown_is_replaced_by_what_can(stored, shown):
    assert clean(stored, SAY) == shown


def test_a_cut_text_says_so_and_how_long_it_was():
    assert clean("x" * 12, SAY, longest=10) == "x" * 10 + "… (cut: 12 characters in all)"


def test_the_longest_field_is_not_cut():
    text = "y" * LONGEST
    assert clean(text, SAY) == text


def test_signs_without_a_glyph_are_replaced_and_line_ends_kept():
    assert printable("漢\nkW", range(128)) == "\ufffd\nkW"


def test_markup_of_a_paragraph_is_never_the_users():
    shown = markup("<b>&<img src='/etc/passwd'/>\nnext")
    assert shown == "&lt;b&gt;&amp;&lt;img src='/etc/passwd'/&gt;<br/>next"


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("A04 brushes: [odd]/*?\\", "A04 brushes- -odd-----"),
        ("'quoted'", "quoted"),
        ("", "-"),
        ("History", "History -"),
        ("x" * 40, "x" * 31),
    ],
)
def test_worksheet_names_are_valid(title, name):
    assert sheet_name(title, set()) == name


def test_worksheet_names_are_unique_whatever_their_case():
    taken: set[str] = set()
    names = [sheet_name(title, taken) for title in ("x" * 40, "X" * 40, "x" * 31)]
    assert names == ["x" * 31, "X" * 29 + " 2", "x" * 29 + " 3"]


def test_examples_in_the_docstrings_run():
    assert doctest.testmod(cleaning).failed == 0
