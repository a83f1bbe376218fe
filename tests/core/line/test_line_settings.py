"""What a setting means: the value in force, and ranges put into words."""

import dataclasses

import pytest

from core.line.settings import Span, coasts, in_force, span_from_words
from core.model import ListedSetting, Setting
from tests.core.line.builders import DRIVE_TYPE, station


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("4-20 mA", Span("current", 0.004, 0.020)),
        ("0 to 10 V", Span("voltage", 0.0, 10.0)),
        ("2–10 V", Span("voltage", 2.0, 10.0)),
        ("0…20 mA", Span("current", 0.0, 0.020)),
        ("-10 to 10 V", Span("voltage", -10.0, 10.0)),
    ],
)
def test_ranges_are_read_as_lists_word_them(words, expected):
    found = span_from_words(words)
    assert found is not None
    assert (found.signal, found.low, found.high) == (
        expected.signal,
        pytest.approx(expected.low),
        pytest.approx(expected.high),
    )


@pytest.mark.parametrize("words", ["", "keypad", "V", "10 V", "a-b mA", "4-20"])
def test_other_words_are_no_range(words):
    assert span_from_words(words) is None


def test_entered_value_goes_before_the_factory_value():
    held = in_force(station(), DRIVE_TYPE, "frequency_max")
    assert held is not None
    assert (held.value, held.entered, held.assumed) == (60.0, True, "")


def test_a_role_that_the_list_lacks_is_not_in_force():
    assert in_force(station(), DRIVE_TYPE, "bus_address") is None
    assert in_force(station(), None, "frequency_max") is None


@pytest.mark.parametrize(
    ("meaning", "expected"),
    [
        ("coast", True),
        ("free run", True),
        ("runs out by itself", True),
        ("paro por inercia", True),
        ("giro libre", True),
        ("on the ramp", False),
        ("ramp, no coasting", False),
        ("ramp to 2 Hz, then free", False),
        ("en rampa, sin inercia", False),
    ],
)
def test_how_a_list_words_a_stop_without_ramp(meaning, expected):
    way = ListedSetting(99, "stop", role="stop_mode", options=f"0 = other; 1 = {meaning}")
    kind = dataclasses.replace(DRIVE_TYPE, listed_settings=(*DRIVE_TYPE.listed_settings, way))
    held = station()
    entered = (*held.drive.settings, Setting(99, "stop", "1", 1.0))
    held = dataclasses.replace(held, drive=dataclasses.replace(held.drive, settings=entered))
    assert coasts(held, kind) is expected
