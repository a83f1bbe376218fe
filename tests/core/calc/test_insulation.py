"""Insulation resistance: limits by voltage, and readings referred to another temperature."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import insulation
from core.errors import RangeError


@given(st.floats(1e3, 1e12), st.floats(250.0, 400.0), st.floats(250.0, 400.0))
def test_there_and_back_is_the_same_reading(reading, temperature, reference):
    there = insulation.at_reference_ohm(reading, temperature, reference)
    assert insulation.at_reference_ohm(there, reference, temperature) == pytest.approx(reading)


@given(st.floats(250.0, 390.0))
def test_ten_kelvin_halve_the_reading(temperature):
    cold = insulation.at_reference_ohm(8e6, temperature)
    warm = insulation.at_reference_ohm(8e6, temperature + 10.0)
    assert warm == pytest.approx(2.0 * cold)


def test_bounds_of_the_table_belong_to_the_lower_row():
    assert insulation.iec_60364_6_test_v(50.0) == 250.0
    assert insulation.iec_60364_6_test_v(50.1) == 500.0
    assert insulation.iec_60364_6_test_v(500.0) == 500.0
    assert insulation.iec_60364_6_least_ohm(50.0) == 0.5e6


def test_form_wound_coils_below_1_kv_count_as_the_rest():
    assert insulation.ieee_43_least_ohm(690.0, form_wound=True) == 5e6


@pytest.mark.parametrize(
    "call",
    [
        lambda: insulation.iec_60364_6_test_v(0.0),
        lambda: insulation.iec_60364_6_least_ohm(-1.0),
        lambda: insulation.ieee_43_least_ohm(0.0),
        lambda: insulation.at_reference_ohm(-1.0, 300.0),
        lambda: insulation.at_reference_ohm(1e6, 0.0),
        lambda: insulation.at_reference_ohm(1e6, 300.0, -5.0),
        lambda: insulation.at_reference_ohm(float("nan"), 300.0),
    ],
)
def test_nonsense_is_refused(call):
    with pytest.raises(RangeError):
        call()
