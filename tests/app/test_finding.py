"""Finding a text anywhere in the line."""

import pytest

from app.finding import MOST_FOUND, find
from core.store import actions
from tests.app.made_line import make_book


@pytest.fixture
def book(tmp_path):
    with make_book(tmp_path / "test.linebook") as made:
        yield made


def test_a_tag_comes_first(book):
    actions.set_fields(book, "station", book.line.stations[0].id, name="before A03")
    first = find(book.line, "a03")[0]
    assert (first.table, first.field, first.text) == ("station", "tag", "A03")


def test_every_word_counts_in_text_or_place(book):
    drive = book.line.stations[1].drive
    actions.set_fields(book, "drive", drive.id, serial="SN 1234")
    [found] = find(book.line, "A02 1234")
    assert (found.table, found.record_id, found.field) == ("drive", drive.id, "serial")
    assert found.top == ("station", book.line.stations[1].id)
    assert find(book.line, "A03 1234") == []


def test_codes_terminals_and_supplies_are_found_where_they_belong(book):
    [code] = find(book.line, "jog-hz")
    assert code.top == ("drive_type", book.line.drive_types[1].id)
    assert {place.table for place in find(book.line, "X1:1")} == {"terminal"}
    [supply] = find(book.line, "shed")
    assert supply.top == ("supply", book.line.supplies[0].id)


def test_units_of_listed_settings_do_not_hide_their_codes(book):
    found = find(book.line, "hz")
    assert found
    assert {place.field for place in found} <= {"code", "meaning"}


def test_nothing_is_found_for_nothing(book):
    assert find(book.line, "  ") == []
    assert find(book.line, "no such thing") == []


def test_a_flood_is_cut(tmp_path):
    with make_book(tmp_path / "many.linebook", stations=80) as made:
        assert len(find(made.line, "station")) == MOST_FOUND
