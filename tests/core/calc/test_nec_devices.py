"""Overcurrent devices by the NEC: which way each rule rounds, and what holds a drive's back."""

import math

import pytest

from core.calc import nec_devices
from core.errors import RangeError
from core.units import gauge_area


@pytest.mark.parametrize(
    ("current", "device", "up", "down"),
    [
        (15.0, "breaker", 15, 15),
        (15.1, "breaker", 20, 15),
        (37.5, "breaker", 40, 35),
        (562.0, "breaker", 600, 500),
        (3.5, "delay_fuse", 6, 3),
        (8.0, "plain_fuse", 10, 6),
    ],
)
def test_standard_ratings_up_and_down(current, device, up, down):
    assert nec_devices.standard_rating_up_a(current, device) == up
    assert nec_devices.standard_rating_down_a(current, device) == down


def test_smallest_breaker_is_fifteen_amperes():
    assert nec_devices.standard_rating_up_a(1.0, "breaker") == 15.0
    with pytest.raises(RangeError, match="no standard rating of 14 A or less"):
        nec_devices.standard_rating_down_a(14.0, "breaker")


@pytest.mark.parametrize("current", [0.0, -5.0, 6001.0, math.nan])
def test_current_without_device_is_refused(current):
    with pytest.raises(RangeError):
        nec_devices.standard_rating_up_a(current, "breaker")


def test_unknown_device_is_refused():
    with pytest.raises(RangeError, match="one of breaker, delay_fuse, plain_fuse"):
        nec_devices.standard_rating_up_a(10.0, "relay")


def test_small_conductor_limit_ends_above_ten_gauge():
    assert nec_devices.small_conductor_limit_a(gauge_area(10)) == 30.0
    assert nec_devices.small_conductor_limit_a(gauge_area(8)) == math.inf


def test_next_size_up_ends_at_800_amperes():
    area = gauge_area(-3)
    assert nec_devices.conductor_device_a(area, 790.0, "breaker") == 800.0
    assert nec_devices.conductor_device_a(area, 810.0, "breaker") == 800.0


def test_weakened_small_conductor_keeps_the_smaller_device():
    # 12 AWG that may carry 13 A: next size up 15 A, below the 20 A of 240.4(D)
    assert nec_devices.conductor_device_a(gauge_area(12), 13.0, "breaker") == 15.0


def test_motor_device_on_a_standard_size_stays_there():
    # 22 A at 250 % = 55 A is no size; 24 A at 250 % = 60 A is one
    assert nec_devices.motor_device(24.0, "breaker", "polyphase").rating_a == 60.0


def test_unknown_motor_is_refused():
    with pytest.raises(RangeError, match="wound_rotor"):
        nec_devices.motor_device(24.0, "breaker", "linear")


def test_marking_of_the_drive_is_never_exceeded():
    # 9.6 A: 24 A, up to 25 A; marked for 20 A at most
    found = nec_devices.drive_device(9.6, 18.0, "breaker", 20.0)
    assert found.by_motor.rating_a == 25.0
    assert found.rating_a == 20.0
    assert found.carries_input


def test_marking_between_two_sizes_takes_the_lower():
    assert nec_devices.drive_device(9.6, 18.0, "breaker", 23.0).rating_a == 20.0


def test_generous_marking_does_not_raise_the_rule():
    assert nec_devices.drive_device(9.6, 18.0, "breaker", 60.0).rating_a == 25.0


def test_single_phase_input_above_the_motors_rule_is_told():
    # 2 hp 230 V: 6.8 A, 17 A, up to 20 A; a drive on one phase may draw 24 A
    found = nec_devices.drive_device(6.8, 24.0, "breaker", None)
    assert found.rating_a == 20.0
    assert not found.carries_input


def test_feeder_device_leaves_out_the_branch_of_the_largest_device():
    # 40 + (10 + 8) + 5 = 63, down to 60
    found = nec_devices.feeder_device(((40.0, 16.0), (25.0, 10.0), (20.0, 8.0)), 5.0, "breaker")
    assert (found.largest_device_a, found.rest_a, found.limit_a) == (40.0, 18.0, 63.0)
    assert found.rating_a == 60.0


def test_feeder_of_one_branch_has_its_device():
    assert nec_devices.feeder_device(((40.0, 16.0),), 0.0, "breaker").rating_a == 40.0


@pytest.mark.parametrize("branches", [(), ((0.0, 5.0),), ((20.0, 0.0),), ((math.nan, 5.0),)])
def test_impossible_feeder_is_refused(branches):
    with pytest.raises(RangeError):
        nec_devices.feeder_device(branches, 0.0, "breaker")
