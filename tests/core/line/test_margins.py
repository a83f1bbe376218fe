"""A station's margins, worked by hand."""

import dataclasses
from math import sqrt

import pytest

from core.line import compute_station
from core.model import Drivetrain, SpeedReference, Supply
from tests.core.line.builders import DRIVE_TYPE, INPUTS, PLATE, station

SUPPLY = Supply(1, "shed", "3ph_400y_230", 50.0)
BITS = tuple(dataclasses.replace(entry, resolution_bits=10) for entry in INPUTS)
FULL_TYPE = dataclasses.replace(
    DRIVE_TYPE,
    output_current_a=7.8,
    overload=1.5,
    bus_capacitance_f=1500e-6,
    bus_trip_v=400.0,
    frequency_step_hz=0.1,
    reference_inputs=BITS,
)
FULL_PLATE = dataclasses.replace(
    PLATE, power_factor=0.7, efficiency=0.84, inertia_kg_m2=0.0035, cooling="own_fan"
)
TRAIN = Drivetrain(1, gear_ratio=2.0, surface="none", inertia_kg_m2=0.016, load_fraction=0.5)


def full(**changes):
    return compute_station(
        station(motors=(FULL_PLATE,), drivetrain=TRAIN, **changes), FULL_TYPE, SUPPLY
    )


def test_inertia_of_the_load_comes_through_the_square_of_the_ratio():
    # 0.0035 + 0.016 / 2² = 0.0075 kg·m²
    assert full().value("inertia_at_motor_kg_m2") == pytest.approx(0.0075)


def test_overload_torque_counts_the_active_current_only():
    # 7.8 A · 1.5 = 11.7 A over 6.4 A = 1.828; less sin² = 0.51: √(3.342 − 0.51)/0.7 = 2.404
    assert full().value("overload_torque_share") == pytest.approx(2.404, abs=0.002)


def test_shortest_acceleration():
    # J ω / (M_o − M_l): ω at 60 Hz and half load = 1770 rpm = 185.35 rad/s; M_N = 8.185 N·m;
    # 0.0075 · 185.35 / ((2.404 − 0.5) · 8.185) = 1.3901 / 15.58 = 0.0892 s
    assert full().value("acceleration_shortest_s") == pytest.approx(0.0892, abs=0.0003)


def test_shortest_deceleration_is_not_told_with_a_brake_resistor():
    with_resistor = dataclasses.replace(station().drive, brake_resistor=True)
    assert "deceleration_shortest_s" in full().figures
    assert "deceleration_shortest_s" not in full(drive=with_resistor).figures


def test_shortest_deceleration_says_what_is_lacking():
    bare = dataclasses.replace(FULL_TYPE, bus_capacitance_f=None)
    result = compute_station(station(motors=(FULL_PLATE,), drivetrain=TRAIN), bare, SUPPLY)
    figure = result.figures["deceleration_shortest_s"]
    assert figure.value is None
    assert figure.lacks == ("bus capacitance",)


def test_torque_falls_above_rated_frequency():
    # 60 Hz plate run to 75 Hz: 60/75 = 0.8; the belt still asks its half
    from tests.core.line.test_results import drive_with

    result = full(drive=drive_with(hz_max=75, hz_min=0, ref_low=0, ref_high=75))
    assert result.value("torque_at_top_share") == pytest.approx(0.8)
    assert result.value("load_at_top_share") == pytest.approx(0.5)


def test_own_fan_is_an_estimate_until_its_maker_says():
    assert full().figures["cooled_from_hz"].is_estimate
    stated = dataclasses.replace(FULL_PLATE, frequency_min_hz=20.0)
    result = compute_station(station(motors=(stated,), drivetrain=TRAIN), FULL_TYPE, SUPPLY)
    assert not result.figures["cooled_from_hz"].is_estimate


def test_step_of_a_ten_bit_input():
    # 60 Hz / 1023
    assert full().value("reference_step_hz") == pytest.approx(60 / 1023)


def test_uncertainty_budget_of_a_potentiometer():
    # Rectangular: linearity 0.5 % of 60 Hz = 0.3 Hz; half a step 0.02933 Hz; half of 0.1 Hz.
    # U = 2 √((0.3² + 0.02933² + 0.05²)/3) = 0.3529 Hz
    pot = SpeedReference(
        1, "potentiometer", input_name="V in", pot_ohm=10e3, pot_linearity=0.005, now_v=5.0
    )
    by_hand = 2 * sqrt((0.3**2 + (60 / 1023 / 2) ** 2 + 0.05**2) / 3)
    assert by_hand == pytest.approx(0.3529, abs=0.0001)
    assert full(reference=pot).value("frequency_uncertainty_hz") == pytest.approx(by_hand)
