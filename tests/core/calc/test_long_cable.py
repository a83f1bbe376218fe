"""Reflected waves: limits, identities and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import long_cable as cable
from core.errors import RangeError

NAN = math.nan


def test_matched_motor_reflects_nothing():
    assert cable.reflection_share(80.0, 80.0) == 0.0


@given(st.floats(50.0, 5000.0), st.floats(20.0, 200.0))
def test_reflection_turns_its_sign_with_the_impedances(motor, line):
    there, back = cable.reflection_share(motor, line), cable.reflection_share(line, motor)
    assert there == pytest.approx(-back)
    assert abs(there) < 1.0


def test_peak_without_cable_is_the_bus():
    assert cable.terminal_peak_v(325.0, 0.0, 15.0) == 325.0


@given(st.floats(0.0, 15.0))
def test_peak_rises_straight_up_to_the_critical_length(length):
    peak = cable.terminal_peak_v(325.0, length, 15.0, 0.9)
    assert peak == pytest.approx(325.0 * (1 + 0.9 * length / 15.0))


def test_peak_stays_beyond_the_critical_length():
    assert cable.terminal_peak_v(325.0, 200.0, 15.0) == cable.terminal_peak_v(325.0, 15.0, 15.0)


def test_general_purpose_limit_does_not_depend_on_voltage():
    limit = cable.insulation_limit(230.0, inverter_duty=False)
    assert (limit.peak_v, limit.rise_time_min_s) == (1000.0, 2e-6)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (cable.critical_length_m, (0,)),
        (cable.critical_length_m, (NAN,)),
        (cable.critical_length_m, (0.2,)),  # microseconds for seconds
        (cable.critical_length_m, (2e-7, 3e8)),  # faster than light
        (cable.reflection_share, (0, 80)),
        (cable.reflection_share, (2000, NAN)),
        (cable.terminal_peak_v, (0, 10, 15)),
        (cable.terminal_peak_v, (325, -1, 15)),
        (cable.terminal_peak_v, (325, 10, 0)),
        (cable.terminal_peak_v, (325, 10, 15, 90.0)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)


@pytest.mark.parametrize("voltage", [0, 601, NAN])
def test_limits_hold_up_to_600_v(voltage):
    with pytest.raises(RangeError):
        cable.insulation_limit(voltage, inverter_duty=True)
