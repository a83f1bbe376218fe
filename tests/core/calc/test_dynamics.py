"""Ramps: conservation of energy, limits, a numerical stop beside the closed form, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import dynamics as dyn
from core.errors import RangeError

NAN = math.nan


@given(st.floats(1e-4, 1.0), st.floats(1.0, 300.0), st.floats(1.0, 60.0))
def test_reflected_inertia_keeps_the_energy(inertia, speed, ratio):
    at_load = dyn.stopping_energy_j(inertia, speed / ratio)
    at_motor = dyn.stopping_energy_j(dyn.reflected_inertia_kg_m2(inertia, ratio), speed)
    assert at_motor == pytest.approx(at_load)


@given(st.floats(1.0, 500.0), st.floats(0.05, 3.0), st.floats(10.0, 300.0))
def test_belt_keeps_its_energy_at_the_shaft(mass, surface, shaft):
    energy = dyn.stopping_energy_j(dyn.belt_inertia_kg_m2(mass, surface, shaft), shaft)
    assert energy == pytest.approx(0.5 * mass * surface**2)


def test_nothing_to_accelerate_takes_no_time():
    assert dyn.acceleration_time_s(0.0, 150.0, 5.0) == 0.0
    assert dyn.acceleration_time_s(0.02, 0.0, 5.0) == 0.0


def test_load_takes_its_part_of_the_torque():
    alone = dyn.acceleration_time_s(0.02, 150.0, 5.0)
    assert dyn.acceleration_time_s(0.02, 150.0, 5.0, 2.5) == pytest.approx(2 * alone)


@pytest.mark.parametrize("load", [5.0, 6.0])
def test_too_heavy_a_load_never_starts(load):
    with pytest.raises(RangeError, match="not start"):
        dyn.acceleration_time_s(0.02, 150.0, 5.0, load)


@given(st.floats(1e-3, 0.5), st.floats(10.0, 300.0), st.floats(0.1, 60.0))
def test_peak_is_twice_the_mean(inertia, speed, time_s):
    mean = dyn.stopping_energy_j(inertia, speed) / time_s
    assert dyn.stopping_power_w(inertia, speed, time_s) == pytest.approx(2 * mean)


def test_large_bus_leaves_torque_as_the_limit():
    ramp = dyn.deceleration_time_s(0.02, 150.0, 7.5, 1e6, load_torque_n_m=2.5)
    # J w / (M + M_L) = 3 / 10
    assert (ramp.time_s, ramp.limit) == (pytest.approx(0.3), "torque")
    assert ramp.braking_torque_n_m == pytest.approx(7.5)


def test_bus_without_losses_or_friction_takes_all_or_needs_a_resistor():
    kinetic = dyn.stopping_energy_j(0.02, 150.0)  # 225 J
    ramp = dyn.deceleration_time_s(0.02, 150.0, 7.5, kinetic * 1.000001)
    assert ramp.bus_energy_j == pytest.approx(225.0)
    with pytest.raises(RangeError, match="resistor"):
        dyn.deceleration_time_s(0.02, 150.0, 7.5, kinetic * 0.99)


def test_no_room_in_the_bus_is_coasting_on_friction():
    # M_B = 0 at t = J w / M_L = 3 / 1.5
    ramp = dyn.deceleration_time_s(0.02, 150.0, 7.5, 0.0, load_torque_n_m=1.5)
    assert ramp.time_s == pytest.approx(2.0)
    assert ramp.braking_torque_n_m == pytest.approx(0.0, abs=1e-9)


def test_no_room_in_the_bus_brakes_with_the_losses():
    # M_B w = P: 3 / t = 1.5 + 75 / 150 = 2
    ramp = dyn.deceleration_time_s(0.02, 150.0, 7.5, 0.0, load_torque_n_m=1.5, losses_w=75.0)
    assert ramp.time_s == pytest.approx(1.5)
    assert ramp.braking_torque_n_m == pytest.approx(0.5)


@given(
    inertia=st.floats(0.005, 0.2),
    speed=st.floats(50.0, 300.0),
    margin=st.floats(1.0, 100.0),
    load=st.floats(0.1, 3.0),
    losses=st.floats(0.0, 200.0),
)
def test_energy_into_the_bus_by_stepping_through_the_ramp(inertia, speed, margin, load, losses):
    ramp = dyn.deceleration_time_s(inertia, speed, 8.0, margin, load, losses)
    count, energy = 2000, 0.0
    for number in range(count):
        now = speed * (1.0 - (number + 0.5) / count)
        power = (inertia * speed / ramp.time_s - load) * now - losses
        energy += max(0.0, power) * ramp.time_s / count
    kinetic = dyn.stopping_energy_j(inertia, speed)
    assert energy == pytest.approx(ramp.bus_energy_j, abs=1e-5 * kinetic)
    assert ramp.bus_energy_j <= margin * (1 + 1e-9)
    assert 0.0 <= ramp.braking_torque_n_m <= 8.0 * (1 + 1e-9)
    if ramp.limit == "bus":
        assert ramp.bus_energy_j == pytest.approx(margin, rel=1e-6)


def test_ramp_travels_the_mean_speed():
    assert dyn.ramp_travel_m(0.6, 10.0) == pytest.approx(3.0)
    assert dyn.ramp_travel_m(0.0, 10.0) == 0.0


def test_margin_vanishes_towards_the_trip_level():
    assert dyn.bus_margin_j(1e-3, 399.999, 400.0) == pytest.approx(0.0, abs=1e-3)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (dyn.reflected_inertia_kg_m2, (-1, 20)),
        (dyn.reflected_inertia_kg_m2, (1, 0)),
        (dyn.belt_inertia_kg_m2, (-1, 1, 100)),
        (dyn.belt_inertia_kg_m2, (1, NAN, 100)),
        (dyn.belt_inertia_kg_m2, (1, 1, 0)),
        (dyn.acceleration_time_s, (-1, 150, 5)),
        (dyn.acceleration_time_s, (0.02, NAN, 5)),
        (dyn.acceleration_time_s, (0.02, 150, 0)),
        (dyn.acceleration_time_s, (0.02, 150, 5, -1)),
        (dyn.stopping_energy_j, (NAN, 150)),
        (dyn.stopping_power_w, (0.02, 150, 0)),
        (dyn.bus_margin_j, (0, 300, 400)),
        (dyn.bus_margin_j, (1e-3, 400, 400)),
        (dyn.bus_margin_j, (1e-3, NAN, 400)),
        (dyn.deceleration_time_s, (0, 150, 5, 30)),
        (dyn.deceleration_time_s, (0.02, 150, 0, 30)),
        (dyn.deceleration_time_s, (0.02, 150, 5, -1)),
        (dyn.deceleration_time_s, (0.02, 150, 5, 30, NAN)),
        (dyn.deceleration_time_s, (0.02, 150, 5, 30, 1, -1)),
        (dyn.ramp_travel_m, (-1, 5)),
        (dyn.ramp_travel_m, (1, NAN)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
