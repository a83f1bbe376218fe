"""Drive inputs: lossless limits, inverses, whose value counts, and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import drive_input as supply
from core.errors import RangeError

NAN = math.nan


def test_current_without_losses_or_harmonics_is_power_over_voltage():
    assert supply.needed_input_a(1000.0, 1.0, 1.0, 250.0, 1.0) == 4.0
    assert supply.needed_input_a(1000.0, 1.0, 1.0, 250.0, 1.0, 3) == pytest.approx(
        4.0 / math.sqrt(3)
    )


def test_idle_drive_needs_nothing():
    assert supply.needed_input_a(0.0, 0.8, 0.95, 230.0, 0.6) == 0.0


@given(st.floats(0.4, 1.0), st.floats(0.4, 1.0))
def test_single_phase_ratio_is_that_of_the_two_currents(three, one):
    on_one = supply.needed_input_a(1000.0, 0.8, 0.95, 230.0, one, 1)
    on_three = supply.needed_input_a(1000.0, 0.8, 0.95, 230.0, three, 3)
    assert supply.single_phase_ratio(three, one) == pytest.approx(on_one / on_three)


def test_rated_input_current_wins():
    assert supply.input_current_a(12.0, 9.0).basis == "stated"
    guess = supply.input_current_a(None, 9.0)
    assert (guess.value, guess.basis) == (9.0, "estimate")


def test_choke_helps_and_every_assumption_is_marked():
    for phases in (1, 3):
        bare = supply.assumed_power_factor(phases, choke=False)
        choked = supply.assumed_power_factor(phases, choke=True)
        assert bare.value < choked.value
        assert bare.is_estimate
        assert choked.is_estimate


def test_doubler_doubles():
    assert supply.bus_voltage_v(120.0, doubles=True) == 2 * supply.bus_voltage_v(120.0)


@given(st.floats(61.0, 900.0), st.floats(1e3, 1e6), st.floats(1e-5, 1e-2))
def test_discharge_time_ends_at_the_safe_voltage(start, bleeder, capacitance):
    time_s = supply.discharge_time_s(start, bleeder, capacitance)
    left = supply.discharged_voltage_v(time_s, start, bleeder, capacitance)
    assert left == pytest.approx(60.0)


def test_safe_bus_needs_no_wait():
    assert supply.discharge_time_s(48.0, 1e4, 1e-3) == 0.0


def test_one_time_constant_leaves_one_over_e():
    assert supply.discharged_voltage_v(1.0, 300.0, 1e3, 1e-3) == pytest.approx(300 / math.e)


@given(st.floats(0.0, 900.0), st.floats(1e-5, 1e-2))
def test_energy_is_half_of_charge_times_voltage(voltage, capacitance):
    energy = supply.stored_energy_j(voltage, capacitance)
    assert energy == pytest.approx(0.5 * voltage * supply.stored_charge_c(voltage, capacitance))


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (supply.needed_input_a, (-1, 0.8, 0.95, 230, 0.6)),
        (supply.needed_input_a, (750, 80.0, 0.95, 230, 0.6)),
        (supply.needed_input_a, (750, 0.8, 0.0, 230, 0.6)),
        (supply.needed_input_a, (750, 0.8, 0.95, 0, 0.6)),
        (supply.needed_input_a, (750, 0.8, 0.95, 230, NAN)),
        (supply.needed_input_a, (750, 0.8, 0.95, 230, 0.6, 2)),
        (supply.input_current_a, (None, None)),
        (supply.input_current_a, (0.0, 9.0)),
        (supply.input_current_a, (None, NAN)),
        (supply.single_phase_ratio, (0.0, 0.6)),
        (supply.single_phase_ratio, (0.9, 60.0)),
        (supply.bus_voltage_v, (0,)),
        (supply.bus_voltage_v, (NAN,)),
        (supply.discharged_voltage_v, (-1, 325, 33e3, 1e-3)),
        (supply.discharged_voltage_v, (1, 0, 33e3, 1e-3)),
        (supply.discharge_time_s, (325, 0, 1e-3)),
        (supply.discharge_time_s, (325, 33e3, NAN)),
        (supply.discharge_time_s, (325, 33e3, 1e-3, 0)),
        (supply.stored_charge_c, (-1, 1e-3)),
        (supply.stored_energy_j, (300, 0)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)


def test_two_phases_have_no_power_factor():
    with pytest.raises(RangeError):
        supply.assumed_power_factor(2, choke=False)
