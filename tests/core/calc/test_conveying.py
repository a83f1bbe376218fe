"""Pull, power and torque of belts: by hand, energy, inverse, table, refusals."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import conveying as conv
from core.calc.curves import table_points
from core.errors import RangeError

NAN = math.nan
MASSES = st.floats(0.0, 40.0)
LENGTHS = st.floats(1.0, 20.0)


def test_level_slider_by_hand():
    # 9.80665 · (0.3 · 15 · 2 + 0.05 · 5 · 2) = 9.80665 · 9.5
    assert conv.slider_pull_n(10.0, 5.0, 2.0, 0.0, 0.3) == pytest.approx(9.80665 * 9.5)


def test_idlers_by_hand():
    # 3 up in 5: cosine 0.8. 9.80665 · (6 · 0.02 · 5 · (4 + 15 · 0.8) + 11 · 3)
    pull = conv.idler_pull_n(11.0, 2.0, 4.0, 5.0, 3.0, 6.0, 0.02)
    assert pull == pytest.approx(9.80665 * 42.6)


@given(MASSES, MASSES, LENGTHS, st.floats(-0.5, 0.5))
def test_without_friction_only_the_lift_is_left(load, belt, length, slope):
    rise = slope * length
    pull = conv.slider_pull_n(load, belt, length, rise, 0.0, 0.0)
    assert pull == pytest.approx(conv.GRAVITY_M_S2 * load * rise)
    idler = conv.idler_pull_n(load, belt, 5.0, length, rise, 5.0, 0.0)
    assert idler == pytest.approx(pull)


@given(MASSES, MASSES, LENGTHS, st.floats(0.0, 0.5))
def test_up_and_down_average_to_level_on_a_slider(load, belt, length, slope):
    rise = slope * length
    up, level, down = (
        conv.slider_pull_n(load, belt, length, height, 0.3) for height in (rise, 0.0, -rise)
    )
    assert (up + down) / 2 == pytest.approx(level)


def test_steep_downhill_load_drives_the_belt():
    assert conv.slider_pull_n(20.0, 2.0, 4.0, -3.0, 0.2) < 0.0


def test_idlers_need_less_than_a_bed():
    slider = conv.slider_pull_n(12.0, 3.0, 10.0, 0.0, 0.3)
    assert conv.idler_pull_n(12.0, 3.0, 5.0, 10.0, 0.0, conv.length_factor(10.0)) < slider


def test_length_factor_falls_with_length_and_ends_with_its_table():
    points = table_points("belt_length_factor", "length_m", "factor")
    assert len(points) == 11
    assert all(left[1] > right[1] for left, right in pairwise(points))
    assert [conv.length_factor(length) for length, _ in points] == [value for _, value in points]
    for length in (2.9, 101.0, NAN):
        with pytest.raises(RangeError):
            conv.length_factor(length)


@given(st.floats(0.0, 2000.0), st.floats(0.01, 0.3), st.floats(1.0, 100.0), st.floats(0.3, 1.0))
def test_power_is_the_same_at_drum_and_motor(pull, radius, ratio, efficiency):
    drum_rad_s = 3.0
    torque = conv.drum_torque_n_m(pull, 2 * radius)
    motor = conv.motor_torque_n_m(torque, ratio, efficiency)
    power = conv.motor_power_w(pull, drum_rad_s * radius, efficiency)
    assert motor * drum_rad_s * ratio == pytest.approx(power)
    assert conv.pull_for_torque_n(motor, ratio, efficiency, radius) == pytest.approx(pull)


def test_belt_thickness_adds_to_the_arm():
    assert conv.drum_torque_n_m(100.0, 0.1, 0.004) == pytest.approx(5.2)


def test_belt_power_keeps_the_sign_of_the_pull():
    assert conv.belt_power_w(-50.0, 0.4) == pytest.approx(-20.0)
    with pytest.raises(RangeError):
        conv.motor_power_w(-50.0, 0.4, 0.8)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (conv.slider_pull_n, (-1.0, 3.0, 6.0, 0.0, 0.3)),
        (conv.slider_pull_n, (12.0, -3.0, 6.0, 0.0, 0.3)),
        (conv.slider_pull_n, (12.0, 3.0, 0.0, 0.0, 0.3)),
        (conv.slider_pull_n, (12.0, 3.0, 6.0, 6.1, 0.3)),
        (conv.slider_pull_n, (12.0, 3.0, 6.0, NAN, 0.3)),
        (conv.slider_pull_n, (12.0, 3.0, 6.0, 0.0, -0.3)),
        (conv.slider_pull_n, (12.0, 3.0, 6.0, 0.0, 0.3, -0.05)),
        (conv.idler_pull_n, (-12.0, 3.0, 5.0, 10.0, 0.0, 4.5)),
        (conv.idler_pull_n, (12.0, -3.0, 5.0, 10.0, 0.0, 4.5)),
        (conv.idler_pull_n, (12.0, 3.0, -5.0, 10.0, 0.0, 4.5)),
        (conv.idler_pull_n, (12.0, 3.0, 5.0, 0.0, 0.0, 4.5)),
        (conv.idler_pull_n, (12.0, 3.0, 5.0, 10.0, -11.0, 4.5)),
        (conv.idler_pull_n, (12.0, 3.0, 5.0, 10.0, 0.0, 0.9)),
        (conv.idler_pull_n, (12.0, 3.0, 5.0, 10.0, 0.0, 4.5, -0.02)),
        (conv.belt_power_w, (NAN, 0.4)),
        (conv.belt_power_w, (100.0, -0.4)),
        (conv.motor_power_w, (100.0, 0.4, 0.0)),
        (conv.motor_power_w, (100.0, 0.4, 65.0)),
        (conv.drum_torque_n_m, (NAN, 0.1)),
        (conv.drum_torque_n_m, (100.0, 0.0)),
        (conv.drum_torque_n_m, (100.0, 0.1, 0.2)),
        (conv.motor_torque_n_m, (-6.0, 60.0, 0.55)),
        (conv.motor_torque_n_m, (6.0, 0.0, 0.55)),
        (conv.motor_torque_n_m, (6.0, 60.0, 1.1)),
        (conv.pull_for_torque_n, (-0.2, 60.0, 0.55, 0.04)),
        (conv.pull_for_torque_n, (0.2, 0.0, 0.55, 0.04)),
        (conv.pull_for_torque_n, (0.2, 60.0, 0.0, 0.04)),
        (conv.pull_for_torque_n, (0.2, 60.0, 0.55, 0.0)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
