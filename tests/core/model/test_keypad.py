"""A drive setting as its keypad shows it: by number, by meaning, with a unit, out of range."""

import pytest

from core.errors import InputError
from core.model import ListedSetting
from core.model.keypad import KeypadValue, factory_value, options_of, read_keypad

HERTZ = ListedSetting(code="F-01", unit="Hz", minimum="0.5", maximum="120", factory="60")
SECONDS = ListedSetting(code="F-02", unit="s", minimum="0.1", maximum="600")
SOURCE = ListedSetting(code="F-03", options="0 = keypad; 1=Terminals ;2 = serial bus", factory="1")
WORDS = ListedSetting(code="F-04")
BARE = ListedSetting(code="F-05", minimum="-10", maximum="10")
PERCENT = ListedSetting(code="F-06", unit="%", maximum="150")
CODED = ListedSetting(code="F-07", options="01 = ramp; 02 = coast; A = ramp")


@pytest.mark.parametrize(
    ("typed", "listed", "shown", "value"),
    [
        ("50", HERTZ, "50", 50.0),
        (" 50.0 Hz ", HERTZ, "50.0 Hz", 50.0),
        ("47,5", HERTZ, "47,5", 47.5),
        ("0.5", HERTZ, "0.5", 0.5),
        ("120", HERTZ, "120", 120.0),
        ("5", SECONDS, "5", 5.0),
        ("0.5 min", SECONDS, "0.5 min", 30.0),
        ("200 ms", SECONDS, "200 ms", 0.2),
        ("1", SOURCE, "1", 1.0),
        ("terminals", SOURCE, "1", 1.0),
        ("KEYPAD", SOURCE, "0", 0.0),
        ("1.0", SOURCE, "1", 1.0),
        ("02", CODED, "02", 2.0),
        ("2", CODED, "02", 2.0),
        ("A", CODED, "A", None),
        ("-3", BARE, "-3", -3.0),
        ("anything", WORDS, "anything", None),
        ("12", WORDS, "12", 12.0),
        ("anything", None, "anything", None),
        ("12,5", None, "12,5", 12.5),
        ("", None, "", None),
    ],
)
def test_value_is_read(
    typed: str, listed: ListedSetting | None, shown: str, value: float | None
) -> None:
    found = read_keypad(typed, listed)
    assert found.shown == shown
    assert found.value == (value if value is None else pytest.approx(value, rel=1e-12))


def test_percent_is_a_share_in_si() -> None:
    assert read_keypad("110", PERCENT).value == pytest.approx(1.1)
    assert read_keypad("110 %", PERCENT).value == pytest.approx(1.1)


@pytest.mark.parametrize(
    ("typed", "listed", "why"),
    [
        ("0.4", HERTZ, "'0.4' is below the listed 0.5 Hz."),
        ("120.1", HERTZ, "'120.1' is above the listed 120 Hz."),
        ("11 min", SECONDS, "'11 min' is above the listed 600 s."),
        ("50 ms", SECONDS, "'50 ms' is below the listed 0.1 s."),
        ("11", BARE, "'11' is above the listed 10."),
        ("160 %", PERCENT, "'160 %' is above the listed 150 %."),
        ("3", SOURCE, "'3' is none of its choices."),
        ("remote", SOURCE, "'remote' is none of its choices."),
        ("ramp", CODED, "'ramp' is none of its choices."),
    ],
)
def test_value_outside_of_its_list_is_refused(typed: str, listed: ListedSetting, why: str) -> None:
    with pytest.raises(InputError) as refused:
        read_keypad(typed, listed)
    assert refused.value.what == f"{listed.code} was not taken."
    assert refused.value.why == why


def test_refused_choice_offers_those_there_are() -> None:
    with pytest.raises(InputError, match=r"Use 0 \(keypad\), 1 \(Terminals\), 2 \(serial bus\)\."):
        read_keypad("3", SOURCE)


@pytest.mark.parametrize("typed", ["fast", "50 s", "50 V", "nan", "1e999", "", "5 0", "4..5"])
def test_what_is_no_such_quantity_is_refused(typed: str) -> None:
    with pytest.raises(InputError, match="F-01"):
        read_keypad(typed, HERTZ)


def test_choices_come_in_the_order_of_the_list() -> None:
    assert list(options_of(SOURCE).items()) == [
        ("0", "keypad"),
        ("1", "Terminals"),
        ("2", "serial bus"),
    ]
    assert options_of(WORDS) == {}
    assert options_of(ListedSetting(options=" ; 1 ; = no value;")) == {"1": ""}


def test_factory_value_is_read_like_a_typed_one() -> None:
    assert factory_value(HERTZ) == KeypadValue("60", 60.0)
    assert factory_value(SOURCE) == KeypadValue("1", 1.0)
    assert factory_value(SECONDS) is None


def test_factory_value_that_does_not_fit_its_list_is_shown_as_it_is() -> None:
    odd = ListedSetting(code="F-08", unit="Hz", factory=" as ordered ")
    assert factory_value(odd) == KeypadValue("as ordered", None)


def test_bound_that_is_no_number_binds_nothing() -> None:
    free = ListedSetting(code="F-09", unit="A", minimum="", maximum="rated current")
    assert read_keypad("300", free).value == 300.0
