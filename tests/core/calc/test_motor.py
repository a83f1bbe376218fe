"""Motors: limiting cases, inverses and refusals; published values are in tests/published."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import motor
from core.errors import RangeError

RPM = math.pi / 30
NAN = math.nan


@pytest.mark.parametrize(
    ("rpm", "hz", "poles"),
    [
        # Catalogue-like nameplates; synchronous speeds 120 f / p by hand beside them.
        (3450, 60, 2),  # 3600
        (1725, 60, 4),  # 1800
        (1140, 60, 6),  # 1200
        (860, 60, 8),  # 900
        (2890, 50, 2),  # 3000
        (1410, 50, 4),  # 1500
        (910, 50, 6),  # 1000
        (690, 50, 8),  # 750
        (480, 50, 12),  # 500
    ],
)
def test_poles_from_nameplate(rpm, hz, poles):
    assert motor.poles_from_speed(rpm * RPM, hz) == poles


@pytest.mark.parametrize(
    ("rpm", "hz"),
    [
        (1500, 50),  # synchronous: no induction motor
        (1800, 60),
        (3600, 60),  # faster than any field
        (4000, 60),
        (2300, 50),  # 23 % slip of 3000
        (60, 60),  # a gearmotor's output shaft
        (0, 50),
        (-1440, 50),
        (NAN, 50),
        (1440, NAN),
        (1440, 0),
        (1440, 5000),
    ],
)
def test_speed_of_no_induction_motor_is_refused(rpm, hz):
    with pytest.raises(RangeError):
        motor.poles_from_speed(rpm * RPM, hz)


@given(
    poles=st.sampled_from([2, 4, 6, 8, 10, 12]),
    slip=st.floats(0.003, 0.07),
    hz=st.sampled_from([50.0, 60.0, 87.0]),
)
def test_poles_come_back_from_any_rated_speed(poles, slip, hz):
    # Below 1/13 of slip the next field, of 14 poles or fewer, is always slower than the shaft.
    rated_speed = 4 * math.pi * hz / poles * (1 - slip)
    assert motor.poles_from_speed(rated_speed, hz) == poles


def test_field_stands_still_at_zero_frequency():
    assert motor.synchronous_speed_rad_s(0.0, 4) == 0.0


@pytest.mark.parametrize(
    ("hz", "poles"), [(-1, 4), (NAN, 4), (1001, 4), (50, 3), (50, 0), (50, 26)]
)
def test_synchronous_speed_refuses(hz, poles):
    with pytest.raises(RangeError):
        motor.synchronous_speed_rad_s(hz, poles)


def test_slip_ends():
    assert motor.slip(0.0, 157.0) == 1.0
    assert motor.slip(157.0, 157.0) == 0.0


@pytest.mark.parametrize(("speed", "field"), [(158, 157), (-1, 157), (1, 0), (NAN, 157), (1, NAN)])
def test_slip_refuses(speed, field):
    with pytest.raises(RangeError):
        motor.slip(speed, field)


@pytest.mark.parametrize(("rpm", "poles"), [(1440, 2), (1499, 4), (1440, 6), (1440, 5)])
def test_rated_slip_refuses_poles_that_do_not_fit(rpm, poles):
    with pytest.raises(RangeError):
        motor.rated_slip_rad_s(rpm * RPM, 50.0, poles)


def test_torque_of_one_watt_at_one_radian_per_second():
    assert motor.rated_torque_n_m(1.0, 1.0) == 1.0


@pytest.mark.parametrize(
    ("power", "speed"), [(0, 150), (-750, 150), (750, 0), (NAN, 150), (750, NAN)]
)
def test_torque_refuses(power, speed):
    with pytest.raises(RangeError):
        motor.rated_torque_n_m(power, speed)


def test_current_without_losses():
    assert motor.full_load_current_a(1000.0, 1000.0, 1.0, 1.0, phases=1) == pytest.approx(1.0)
    assert motor.full_load_current_a(1000 * math.sqrt(3), 1000.0, 1.0, 1.0) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("power", "voltage", "power_factor", "efficiency", "phases"),
    [
        (750, 400, 0.75, 82.5, 3),  # percent for a ratio
        (750, 400, 75, 0.825, 3),
        (750, 400, 0.75, 0, 3),
        (750, 0, 0.75, 0.825, 3),
        (0, 400, 0.75, 0.825, 3),
        (750, 400, 0.75, 0.825, 2),
        (NAN, 400, 0.75, 0.825, 3),
        (750, NAN, 0.75, 0.825, 3),
        (750, 400, NAN, 0.825, 3),
        (750, 400, 0.75, NAN, 3),
    ],
)
def test_current_refuses(power, voltage, power_factor, efficiency, phases):
    with pytest.raises(RangeError):
        motor.full_load_current_a(power, voltage, power_factor, efficiency, phases)


def test_speed_at_rated_point_is_the_nameplate_speed():
    slip = motor.rated_slip_rad_s(1440 * RPM, 50.0, 4)
    assert motor.speed_at_rad_s(50.0, 4, slip, 1.0, 50.0) == pytest.approx(1440 * RPM)


def test_speed_without_load_is_synchronous():
    assert motor.speed_at_rad_s(30.0, 4, 6.0, 0.0) == pytest.approx(900 * RPM)


def test_speed_above_base_by_hand():
    # 4 poles, 60 r/min rated slip, half torque, 60 Hz on a 50 Hz motor:
    # 1800 - 60 * 0.5 * (60/50)^2 = 1800 - 43.2 = 1756.8 r/min
    speed = motor.speed_at_rad_s(60.0, 4, 60 * RPM, 0.5, 50.0)
    assert speed / RPM == pytest.approx(1756.8)


def test_base_changes_nothing_below_it():
    below = motor.speed_at_rad_s(45.0, 4, 6.0, 1.0, 50.0)
    assert below == motor.speed_at_rad_s(45.0, 4, 6.0, 1.0)


def test_motor_stands_still_below_its_slip():
    # 1 Hz on 4 poles is a field of 30 r/min; rated load needs 60 r/min of slip.
    assert motor.speed_at_rad_s(1.0, 4, 60 * RPM, 1.0) == 0.0


@pytest.mark.parametrize(
    ("hz", "slip", "load", "base"),
    [
        (50, 6.0, 60.0, 50.0),  # percent for a ratio
        (50, 6.0, -0.1, 50.0),
        (50, 6.0, 1.7, 50.0),
        (100, 6.0, 0.5, 50.0),  # 0.5 * 2^2 = 2 > 1.6
        (50, 0.0, 1.0, 50.0),
        (50, 6.0, 1.0, 0.0),
        (-50, 6.0, 1.0, 50.0),
        (NAN, 6.0, 1.0, 50.0),
        (50, NAN, 1.0, 50.0),
        (50, 6.0, NAN, 50.0),
        (50, 6.0, 1.0, NAN),
    ],
)
def test_speed_refuses(hz, slip, load, base):
    with pytest.raises(RangeError):
        motor.speed_at_rad_s(hz, 4, slip, load, base)


@given(
    hz=st.floats(5.0, 75.0),
    poles=st.sampled_from([2, 4, 6, 8]),
    rated_slip=st.floats(0.01, 0.08),
    load=st.floats(0.0, 0.7),
    base=st.sampled_from([None, 50.0, 60.0]),
)
def test_frequency_for_speed_inverts_speed(hz, poles, rated_slip, load, base):
    slip_rad_s = rated_slip * 4 * math.pi * 50 / poles
    speed = motor.speed_at_rad_s(hz, poles, slip_rad_s, load, base)
    assert speed > 0.0
    back = motor.frequency_for_speed_hz(speed, poles, slip_rad_s, load, base)
    assert back == pytest.approx(hz, rel=1e-9)


@pytest.mark.parametrize(
    ("rpm", "slip_rpm", "load", "base"),
    [
        (0, 60, 1.0, 50.0),
        (-900, 60, 1.0, 50.0),
        (NAN, 60, 1.0, 50.0),
        (1440, 60, 100.0, 50.0),
        (2900, 60, 1.0, 50.0),  # near 100 Hz, where the motor has a quarter of its torque
        (30000, 250, 1.5, 50.0),  # no frequency at all gives it
        (1440, 60, 1.0, NAN),
        (1440, NAN, 1.0, 50.0),
        (60000, 60, 1.0, None),  # beyond 1000 Hz
    ],
)
def test_frequency_for_speed_refuses(rpm, slip_rpm, load, base):
    with pytest.raises(RangeError):
        motor.frequency_for_speed_hz(rpm * RPM, 4, slip_rpm * RPM, load, base)


def test_frequency_for_speed_refuses_odd_poles():
    with pytest.raises(RangeError, match="pairs"):
        motor.frequency_for_speed_hz(100.0, 5, 6.0, 1.0)
