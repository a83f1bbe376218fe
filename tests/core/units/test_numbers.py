import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.units import parse_number
from core.units.numbers import UnreadableError, split_number

READ = [
    ("4.7", 4.7),
    ("4,7", 4.7),
    (",5", 0.5),
    (".5", 0.5),
    ("-3", -3.0),
    ("\u22123", -3.0),  # minus sign
    ("\u20133", -3.0),  # en dash
    ("+3", 3.0),
    ("- 3", -3.0),
    ("3/4", 0.75),
    ("3\u20444", 0.75),  # fraction slash
    ("1 1/2", 1.5),
    ("1-1/2", 1.5),
    ("-1 1/2", -1.5),
    ("½", 0.5),
    ("1½", 1.5),
    ("1-½", 1.5),
    ("2 ¾", 2.75),
    ("⅜", 0.375),
    ("1e3", 1000.0),
    ("1,5E-3", 0.0015),
    ("1.500", 1.5),
    ("0,500", 0.5),
    ("1500,500", 1500.5),
    ("1 500", 1500.0),
    ("1\u2009500", 1500.0),  # thin space
    ("1\u202f500,25", 1500.25),  # narrow no-break space
    ("12 345 678", 12345678.0),
    ("  7  ", 7.0),
]

REFUSED = [
    ("", "Nothing was typed"),
    ("   ", "Nothing was typed"),
    ("1,500", "1.500 or as 1500"),
    ("12,345", "12.345 or as 12345"),
    ("-1,500", "1.500 or as 1500"),
    ("1,500e2", "one number"),
    ("1.500,5", "one number"),
    ("1,500.5", "one number"),
    ("1,500,000", "one number"),
    ("1.500.000", "one number"),
    ("1'500", "one number"),
    ("1_500", "one number"),
    ("1 50", "one number"),
    ("0 500", "one number"),
    ("1 500/2", "fraction below one"),
    ("1 3/2", "fraction below one"),
    ("1 500 1/2", "one number"),
    ("3/4/5", "one number"),
    ("3/0", "divides by zero"),
    ("1 1/0", "divides by zero"),
    ("1½½", "one number"),
    ("9**9**9", "one number"),
    ("2+2", "one number"),
    ("--3", "begin with a number"),
    ("nan", "begin with a number"),
    ("-inf", "begin with a number"),
    ("1e400", "too large"),
    ("1e-400", "too small"),
    ("10²", "plain number"),
    ("٣", "begin with a number"),  # Arabic-Indic three, which float() would take
    ("0x10", "plain number"),
    ("3e", "plain number"),
    ("5 kW", "plain number"),
    ("__import__('os')", "begin with a number"),
    ("1" * 41, "41 characters"),
]


@pytest.mark.parametrize(("text", "value"), READ)
def test_a_number_is_read_as_people_write_it(text, value):
    assert parse_number(text) == value


@pytest.mark.parametrize(("text", "reason"), REFUSED)
def test_what_could_be_misread_is_refused_with_its_reason(text, reason):
    with pytest.raises(InputError, match=reason):
        parse_number(text)


def test_the_error_names_the_field_what_was_typed_and_what_to_type():
    with pytest.raises(InputError) as caught:
        parse_number("1,500", what="gear ratio")
    assert caught.value.what == "Gear ratio was not taken."
    assert caught.value.why == "'1,500' can be read as 1.500 or as 1500."
    assert caught.value.fix == "Type 1.500 or 1500."


def test_a_message_stays_short_and_printable():
    with pytest.raises(InputError) as caught:
        parse_number("\x1b[31m" + "x" * 5000)
    assert "\x1b" not in str(caught.value)
    assert len(str(caught.value)) < 150


def test_minus_zero_is_zero():
    assert math.copysign(1.0, parse_number("-0")) == 1.0


def test_a_unit_that_begins_with_one_is_no_part_of_the_number():
    assert split_number("1400 1/min") == (1400.0, "1/min")
    assert split_number("5 1/2 1/min") == (5.5, "1/min")


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_what_python_writes_is_read_back_exactly(value):
    assert parse_number(repr(value)) == value


@given(st.integers(0, 999), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_mixed_numbers_are_the_sum_of_their_parts(whole, numerator, denominator):
    numerator %= denominator
    for joint in (" ", "-"):
        text = f"{whole}{joint}{numerator}/{denominator}"
        assert parse_number(text) == whole + numerator / denominator


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_and_nothing_else(text):
    try:
        outcome = split_number(text)[0]
    except UnreadableError as fault:
        outcome = fault
    assert outcome.why if isinstance(outcome, UnreadableError) else math.isfinite(outcome)
