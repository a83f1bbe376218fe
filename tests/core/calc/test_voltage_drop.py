"""Voltage drop: hand values, limits, its inverse, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc.voltage_drop import (
    copper_factor,
    drop_impedance_max_ohm_m,
    drop_impedance_ohm_m,
    voltage_drop,
)
from core.errors import RangeError


def test_three_phase_worked_by_hand():
    # 1.7320508 * 10 A * 0.008 ohm/m * 50 m = 6.928 V of 400 V
    drop = voltage_drop(10.0, 50.0, 0.008, 400.0, 3)
    assert drop.drop_v == pytest.approx(6.928, abs=5e-4)
    assert drop.share == pytest.approx(0.01732, abs=5e-6)
    assert drop.end_v == pytest.approx(393.072, abs=5e-4)


def test_without_current_or_length_nothing_drops():
    assert voltage_drop(0.0, 50.0, 0.008, 230.0, 1).drop_v == 0.0
    assert voltage_drop(10.0, 0.0, 0.008, 230.0, 1).end_v == 230.0


def test_unity_and_zero_power_factor_leave_one_part_each():
    assert drop_impedance_ohm_m(0.005, 0.0001, 1.0) == 0.005
    assert drop_impedance_ohm_m(0.005, 0.0001, 0.0) == 0.0001


@given(
    current_a=st.floats(0.1, 100.0),
    length_m=st.floats(1.0, 300.0),
    phases=st.sampled_from([1, 3]),
    share=st.floats(0.001, 0.2),
)
def test_highest_impedance_gives_just_the_limit(current_a, length_m, phases, share):
    ohm_m = drop_impedance_max_ohm_m(current_a, length_m, 240.0, phases, share)
    assert voltage_drop(current_a, length_m, ohm_m, 240.0, phases).share == pytest.approx(share)


def test_copper_there_and_back():
    assert copper_factor(20.0, 75.0) * copper_factor(75.0, 20.0) == pytest.approx(1.0)
    assert copper_factor(40.0, 40.0) == 1.0


@pytest.mark.parametrize("phases", [0, 2, 4])
def test_only_one_or_three_phases(phases):
    with pytest.raises(RangeError, match="1 or 3 is needed"):
        voltage_drop(1.0, 1.0, 0.01, 230.0, phases)


@pytest.mark.parametrize(
    "arguments",
    [
        (-1.0, 1.0, 0.01, 230.0, 1),
        (math.nan, 1.0, 0.01, 230.0, 1),
        (1.0, -1.0, 0.01, 230.0, 1),
        (1.0, 1.0, 0.0, 230.0, 1),
        (1.0, 1.0, 0.01, 0.0, 1),
        (100.0, 1000.0, 0.01, 230.0, 1),  # 2000 V of 230 V
    ],
)
def test_impossible_run_is_refused(arguments):
    with pytest.raises(RangeError):
        voltage_drop(*arguments)


@pytest.mark.parametrize("arguments", [(0.0, 0.0, 0.8), (0.01, -0.1, 0.8), (0.01, 0.0, 80.0)])
def test_impossible_impedance_is_refused(arguments):
    with pytest.raises(RangeError):
        drop_impedance_ohm_m(*arguments)


@pytest.mark.parametrize("arguments", [(20.0, 260.0), (-60.0, 20.0), (math.nan, 20.0)])
def test_impossible_temperature_is_refused(arguments):
    with pytest.raises(RangeError):
        copper_factor(*arguments)


@pytest.mark.parametrize(
    "arguments", [(0.0, 1.0, 230.0, 1, 0.03), (1.0, 0.0, 230.0, 1, 0.03), (1.0, 1.0, 230.0, 1, 3.0)]
)
def test_impossible_limit_is_refused(arguments):
    with pytest.raises(RangeError):
        drop_impedance_max_ohm_m(*arguments)
