"""Drive and motors: current, overload devices, length of the motor cable."""

import dataclasses

import pytest

from tests.core.line.findings.sound import MOTOR, STATION, change, fires, line, quiet

SECOND = dataclasses.replace(MOTOR, id=2, tag="M2", serial="M-2")


def two(**plates):
    motors = tuple(dataclasses.replace(plate, **plates) for plate in (MOTOR, SECOND))
    return dataclasses.replace(STATION, motors=motors)


def test_drive_too_small_fires():
    entry = fires("drive-too-small", line(kind={"output_current_a": 3.0}))
    assert entry.values == {"motors_a": 3.1, "drive_a": 3.0}
    # Two motors count together: 3.1 + 3.1 = 6.2 A against 4.2 A.
    entry = fires("drive-too-small", line(two(own_overload=True)))
    assert entry.values["motors_a"] == pytest.approx(6.2)


def test_drive_too_small_quiet():
    quiet("drive-too-small", line(kind={"output_current_a": 3.1}))
    quiet("drive-too-small", line(change(motor={"current_low_a": None})))


def test_motors_without_own_overload_fires():
    entry = fires("motors-without-own-overload", line(two()))
    assert entry.level == "blocker"
    assert "2 motors run on one drive" in entry.says("metric")
    assert "M1 and M2" in entry.says("metric")


def test_motors_without_own_overload_quiet():
    quiet("motors-without-own-overload", line(two(own_overload=True)))
    quiet("motors-without-own-overload", line())


def test_motor_cable_too_long_fires():
    entry = fires("motor-cable-too-long", line(change(motor_cable={"length_m": 51.0})))
    assert "51 m long; drive type S drive allows 50 m" in entry.says("metric")
    # 51 m / 0.3048 = 167.3 ft
    assert "167.3 ft long" in entry.says("us")


def test_motor_cable_too_long_quiet():
    quiet("motor-cable-too-long", line(change(motor_cable={"length_m": 50.0})))
