"""Cells: every value comes back as it was, and no text runs as a formula."""

import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from core.errors import InputError
from core.exchange.cells import (
    EMPTY,
    exact_text,
    guard,
    is_example,
    read_typed,
    read_value,
    shield,
    short,
    under_heading,
    unshield,
    write_value,
)
from core.model import RECORDS, FieldSpec
from core.units import KINDS, parse_quantity
from tests.core.exchange.lines import TRICKY_NOTES, TRICKY_TEXTS

POWER = RECORDS["motor"].field("power_w")
EFFICIENCY = RECORDS["motor"].field("efficiency")
DELTA = RECORDS["motor"].field("connection_low")
FLAG = RECORDS["bus"].field("terminated_at_last_drive")
# Kinds of which the trade types no SI unit; see the exact_text notes.
WITHOUT_SI = {"bin_rate", "conductor"}


@given(st.text(st.characters(exclude_categories=("Cs", "Cc"))))
@example("'")
@example("'=1")
@example("''s")
def test_shielded_text_comes_back(text):
    assert unshield(shield(text)) == text
    assert unshield(guard(shield(text))) == text
    assert shield(text) != EMPTY or text == EMPTY


@pytest.mark.parametrize("text", [*TRICKY_TEXTS, *TRICKY_NOTES])
def test_guarded_text_is_no_formula(text):
    # The signs named by the usual advice on CSV injection (OWASP).
    assert not re.match(r"[=+\-@\t\r]", guard(shield(text)))


def test_apostrophe_before_plain_letters_belongs_to_the_text():
    assert unshield("'s-Gravenhage") == "'s-Gravenhage"


@given(
    kind=st.sampled_from(sorted(KINDS.keys() - WITHOUT_SI - {"count"})),
    value=st.floats(min_value=0, allow_infinity=False),
    system=st.sampled_from(["metric", "us"]),
)
@example(kind="ratio", value=0.0123, system="us")
def test_quantity_is_written_so_that_it_reads_back_exactly(kind, value, system):
    field = FieldSpec("x", "X", "quantity", kind=kind)
    text = exact_text(field, value, system)
    assert parse_quantity(text, kind, system) == value


@pytest.mark.parametrize(
    ("kind", "typed"),
    [("conductor", "12 AWG"), ("conductor", "2.5 mm²"), ("conductor", "300 kcmil")]
    + [("bin_rate", f"{n} bins/{per}") for n in ("6", "0.7", "13") for per in ("h", "min")],
)
@pytest.mark.parametrize("system", ["metric", "us"])
def test_quantity_without_si_unit_reads_back_if_it_was_typed(kind, typed, system):
    field = FieldSpec("x", "X", "quantity", kind=kind)
    value = parse_quantity(typed, kind, system)
    assert parse_quantity(exact_text(field, value, system), kind, system) == value


def test_quantity_is_written_as_typed_while_that_still_means_the_value():
    assert exact_text(POWER, parse_quantity("3/4 hp", "power", "us"), "us", "3/4 hp") == "3/4 hp"
    assert exact_text(POWER, 750.0, "metric", "3/4 hp") == "750.0 W"
    assert exact_text(POWER, 750.0, "metric") == "0.75 kW"


@pytest.mark.parametrize(
    ("text", "kept"), [("3/4 hp", "3/4 hp"), ("0.75", "0.75 kW"), ("750.0 W", ""), (EMPTY, "")]
)
def test_typed_text_is_kept_with_its_unit(text, kept):
    value = None if text == EMPTY else read_value(POWER, text, "metric")
    assert read_typed(POWER, text, value, "metric") == kept


def test_bare_number_is_in_the_unit_of_its_heading():
    assert under_heading(POWER, "0.75", "kW", "us") == "0.75 kW"
    assert under_heading(POWER, "3/4 hp", "kW", "us") == "3/4 hp"
    assert under_heading(EFFICIENCY, "0.82", "%", "us") == "0.82"


@pytest.mark.parametrize("word", ["Delta (Δ)", "delta", "DELTA (δ)", " Delta "])
def test_choice_is_taken_in_any_usual_spelling(word):
    assert read_value(DELTA, word, "metric") == "delta"


@pytest.mark.parametrize(
    ("word", "meant"), [("yes", True), ("X", True), ("TRUE", True), ("no", False), ("0", False)]
)
def test_flag_is_taken_in_words(word, meant):
    assert read_value(FLAG, word, "metric") is meant


@pytest.mark.parametrize(
    ("field", "text", "told"),
    [
        (POWER, "5 kg", "'5 kg' is a mass. Type a power"),
        (POWER, "0 kW", "Found 0 kW. It has to be more than 0 kW."),
        (EFFICIENCY, "120 %", "It has to be more than 0 % and 100 % at the most."),
        (EFFICIENCY, "0.82", "'0.82' can mean 0.82 % or 82 %."),
        (DELTA, "triangle", "Choose one of: Delta (Δ), Star (Y)"),
        (FLAG, "perhaps", "Found 'perhaps'. Say yes or no."),
        (RECORDS["motor"].field("poles"), "4.5", "Found 4.5. Type a whole number."),
        (RECORDS["instrument"].field("calibration_due"), "31/12/26", "such as 2026-11-25"),
        (RECORDS["motor"].field("inverter_duty"), EMPTY, "Choose one of the values offered."),
    ],
)
def test_value_that_cannot_be_is_refused_with_a_reason(field, text, told):
    with pytest.raises(InputError) as refused:
        read_value(field, text, "metric")
    assert told in f"{refused.value.why} {refused.value.fix}"


def test_lone_apostrophe_empties():
    assert read_value(POWER, EMPTY, "metric") is None
    assert read_value(RECORDS["station"].field("name"), EMPTY, "metric") == ""


def test_words_are_written_as_shown():
    assert write_value(DELTA, "delta", "metric") == "Delta (Δ)"
    assert write_value(FLAG, True, "metric") == "yes"
    assert write_value(POWER, None, "metric") == ""


def test_example_is_known_by_its_first_cell():
    assert is_example("Example: ST01")
    assert not is_example(shield("Example: ST01"))


def test_long_text_is_cut_with_a_sign():
    assert short("a" * 100, 10) == "a" * 9 + "…"
