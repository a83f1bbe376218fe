"""Answers of checks: nothing of the one before stays, and every refusal says what to do."""

import datetime

import pytest

from core.errors import InputError
from core.store import LineFile
from core.store.check_actions import (
    answer_check,
    keep_reading,
    read_moment,
    result_of,
    take_over_reading,
)

NOW = datetime.datetime(2026, 11, 25, 14, 30)


@pytest.fixture
def book(tmp_path):
    with LineFile.create(tmp_path / "made.linebook", name="Made") as opened:
        with opened.step("Prepare") as step:
            step.add("station", tag="A01")
        yield opened


def held(book, name="supply-voltage"):
    return result_of(book, name, book.line.stations[0].id)


def answer(book, kind, name="supply-voltage", **values):
    return answer_check(book, name, book.line.stations[0].id, kind, now=NOW, **values)


def test_a_reading_has_value_instrument_person_and_time(book):
    answer(book, "reading", value=240.0, shown="240 V", instrument="Meter 1", person="R. Vale")
    found = held(book)
    assert (found.value, found.shown, found.instrument) == (240.0, "240 V", "Meter 1")
    assert (found.person, found.done_at) == ("R. Vale", "2026-11-25 14:30")


def test_a_new_answer_does_not_keep_the_reason_of_the_one_before(book):
    first = answer(book, "reading", value=265.0)
    keep_reading(book, first, "Utility told")
    assert answer(book, "reading", value=300.0) == first
    assert held(book).reason == ""
    book.undo()
    assert (held(book).value, held(book).reason) == (265.0, "Utility told")


def test_a_check_opened_again_is_blank(book):
    answer(book, "reading", value=2e6, temperature_k=293.15, person="R. Vale", instrument="Meter 1")
    answer(book, "open")
    found = held(book)
    assert (found.answer, found.value, found.temperature_k) == ("open", None, None)
    assert (found.person, found.instrument, found.done_at) == ("", "", "")


def test_a_choice_keeps_the_word_that_was_chosen(book):
    answer(book, "choice", "lost-reference", shown="hold", person="R. Vale")
    assert (held(book, "lost-reference").answer, held(book, "lost-reference").shown) == (
        "choice",
        "hold",
    )


@pytest.mark.parametrize(
    ("kind", "values"),
    [("reading", {}), ("choice", {"shown": " "}), ("not_applicable", {"reason": " "})],
)
def test_half_an_answer_is_refused_and_stores_nothing(book, kind, values):
    with pytest.raises(InputError) as refused:
        answer(book, kind, **values)
    assert refused.value.fix
    assert held(book) is None


def test_a_reading_is_kept_only_for_a_reason(book):
    made = answer(book, "reading", value=265.0)
    with pytest.raises(InputError):
        keep_reading(book, made, "  ")
    assert held(book).reason == ""


def test_a_time_from_paper_is_read_or_refused():
    assert read_moment(" 2026-11-25 14:30 ") == NOW
    assert read_moment("2026-11-25") == datetime.datetime(2026, 11, 25)
    with pytest.raises(InputError):
        read_moment("yesterday")


def test_what_a_reading_teaches_is_taken_over_as_one_step(book):
    process = book.line.stations[0].process
    take_over_reading(book, "process", process.id, "cup_fill", 0.81, "Cups filled")
    assert book.line.stations[0].process.cup_fill == 0.81
    assert book.undo_name == "Take over Cups filled"
    book.undo()
    assert book.line.stations[0].process.cup_fill is None
