"""Disconnection and protective conductors by IEC 60364: limits of each rule, refusals."""

import math

import pytest

from core.calc import iec_earthing as iec
from core.errors import RangeError

MM2 = 1e-6


def test_table_is_for_final_circuits_up_to_32_amperes():
    assert iec.disconnection_time_s(230.0, "TN", 32.0, True) == 0.4
    assert iec.disconnection_time_s(230.0, "TN", 32.1, True) == 5.0
    assert iec.disconnection_time_s(230.0, "TT", 40.0, True) == 1.0


@pytest.mark.parametrize(
    ("volts", "seconds"), [(51.0, 0.8), (120.0, 0.8), (127.0, 0.4), (230.0, 0.4), (231.0, 0.2)]
)
def test_time_steps_turn_at_their_voltages(volts, seconds):
    assert iec.disconnection_time_s(volts, "TN", 16.0, True) == seconds


@pytest.mark.parametrize(
    "arguments", [(50.0, "TN", 16.0, True), (230.0, "IT", 16.0, True), (230.0, "TN", 0.0, True)]
)
def test_case_outside_of_the_table_is_refused(arguments):
    with pytest.raises(RangeError):
        iec.disconnection_time_s(*arguments)


def test_loop_and_trip_current_are_inverse():
    for letter, multiple in (("B", 5), ("C", 10), ("D", 20)):
        trip_a = iec.instant_trip_a(20.0, letter)
        assert trip_a == 20.0 * multiple
        assert iec.loop_impedance_max_ohm(230.0, trip_a, 1.0) * trip_a == pytest.approx(230.0)


@pytest.mark.parametrize("arguments", [(0.0, 100.0, 1.0), (230.0, 0.0, 1.0), (230.0, 100.0, 95.0)])
def test_impossible_loop_is_refused(arguments):
    with pytest.raises(RangeError):
        iec.loop_impedance_max_ohm(*arguments)


def test_unknown_characteristic_is_refused():
    with pytest.raises(RangeError, match="B, C, D"):
        iec.instant_trip_a(16.0, "K")


@pytest.mark.parametrize(
    ("separate", "protected", "leakage_a", "mm2"),
    [
        (False, False, None, 1.5),
        (True, True, None, 2.5),
        (True, False, None, 4.0),
        (False, False, 0.010, 1.5),
        (False, False, 0.0101, 10.0),
        (True, False, 0.028, 10.0),
    ],
)
def test_floors_raise_a_thin_protective_conductor(separate, protected, leakage_a, mm2):
    found = iec.earth_area(1.5 * MM2, leakage_a, separate, protected)
    assert found.by_table_m2 == pytest.approx(1.5 * MM2)
    assert found.needed_m2 == pytest.approx(mm2 * MM2)
    assert bool(found.remarks) is (mm2 > 1.5)


def test_table_is_met_at_its_ends():
    assert iec.earth_area(16.1 * MM2, None, False, False).needed_m2 == pytest.approx(16 * MM2)
    assert iec.earth_area(50 * MM2, 0.020, False, False).needed_m2 == pytest.approx(25 * MM2)


@pytest.mark.parametrize(("area_m2", "leakage_a"), [(0.0, None), (1e-6, -0.001), (math.nan, None)])
def test_impossible_protective_conductor_is_refused(area_m2, leakage_a):
    with pytest.raises(RangeError):
        iec.earth_area(area_m2, leakage_a, False, False)


def test_four_times_the_time_needs_twice_the_area():
    once = iec.adiabatic_area_m2(800.0, 0.1, 143.0)
    assert iec.adiabatic_area_m2(800.0, 0.4, 143.0) == pytest.approx(2 * once)


@pytest.mark.parametrize(
    "arguments", [(0.0, 0.1, 115.0), (800.0, 0.0, 115.0), (800.0, 5.1, 115.0), (800.0, 0.1, 0.0)]
)
def test_impossible_fault_is_refused(arguments):
    with pytest.raises(RangeError):
        iec.adiabatic_area_m2(*arguments)
