"""The V of two belts: values by hand, inverses, limiting cases and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import belt_pair
from core.errors import RangeError

NAN, INF = math.nan, math.inf
SPEEDS = st.floats(0.01, 3.0)
DIAMETERS = st.floats(0.02, 0.2)
SLOPES = st.floats(0.1, math.pi / 2)


def test_mean_by_hand():
    assert belt_pair.mean_speed_m_s(0.274, 0.253) == pytest.approx(0.2635)


def test_differential_by_hand():
    # 0.021 of 0.2635 = 7.97 %
    assert belt_pair.differential_share(0.274, 0.253) == pytest.approx(0.0797, abs=5e-5)


def test_speeds_for_a_differential_by_hand():
    # 0.5 m/s with 6 %: 0.515 and 0.485
    assert belt_pair.first_speed_m_s(0.5, 0.06) == pytest.approx(0.515)
    assert belt_pair.second_speed_m_s(0.5, 0.06) == pytest.approx(0.485)


def test_turning_by_hand():
    # 0.03 m/s over 60 mm · sin 30° = 30 mm: 1 rad/s
    assert belt_pair.turning_rad_s(0.33, 0.30, 0.06, math.radians(30)) == pytest.approx(1.0)


def test_turning_between_two_upright_belts_is_over_the_whole_diameter():
    # 0.05 m/s over 50 mm: 1 rad/s
    assert belt_pair.turning_rad_s(0.35, 0.30, 0.05, math.pi / 2) == pytest.approx(1.0)


def test_length_to_part_by_hand():
    # 0.24 m/s · 60 mm / 0.02 m/s = 0.72 m
    assert belt_pair.separation_length_m(0.25, 0.23, 0.06) == pytest.approx(0.72)


def test_one_belt_stands_at_the_largest_differential():
    assert belt_pair.differential_share(0.4, 0.0) == pytest.approx(2.0)
    assert belt_pair.second_speed_m_s(0.2, 2.0) == 0.0
    assert belt_pair.first_speed_m_s(0.2, -2.0) == 0.0


@given(v=SPEEDS, diameter=DIAMETERS, slope=SLOPES)
def test_equal_belts_carry_and_do_not_turn(v, diameter, slope):
    assert belt_pair.mean_speed_m_s(v, v) == pytest.approx(v)
    assert belt_pair.differential_share(v, v) == 0.0
    assert belt_pair.turning_rad_s(v, v, diameter, slope) == 0.0


@given(a=SPEEDS, b=SPEEDS)
def test_speeds_come_back_from_mean_and_differential(a, b):
    mean, share = belt_pair.mean_speed_m_s(a, b), belt_pair.differential_share(a, b)
    assert belt_pair.first_speed_m_s(mean, share) == pytest.approx(a)
    assert belt_pair.second_speed_m_s(mean, share) == pytest.approx(b)


@given(a=SPEEDS, b=SPEEDS, diameter=DIAMETERS, slope=SLOPES)
def test_belts_changed_over_turn_fruit_the_other_way(a, b, diameter, slope):
    assert belt_pair.turning_rad_s(a, b, diameter, slope) == pytest.approx(
        -belt_pair.turning_rad_s(b, a, diameter, slope)
    )
    assert belt_pair.differential_share(a, b) == pytest.approx(-belt_pair.differential_share(b, a))


@given(b=SPEEDS, step=st.floats(0.001, 1.0), diameter=DIAMETERS)
def test_one_gains_a_diameter_within_the_length(b, step, diameter):
    a = b + step
    length = belt_pair.separation_length_m(a, b, diameter)
    time_s = length / belt_pair.mean_speed_m_s(a, b)
    assert (a - b) * time_s == pytest.approx(diameter)
    assert belt_pair.separation_length_m(b, a, diameter) == pytest.approx(length)


@given(mean=SPEEDS, share=st.floats(0.001, 2.0), diameter=DIAMETERS)
def test_length_is_diameter_over_differential(mean, share, diameter):
    a = belt_pair.first_speed_m_s(mean, share)
    b = belt_pair.second_speed_m_s(mean, share)
    assert belt_pair.separation_length_m(a, b, diameter) == pytest.approx(diameter / share)


def test_belts_of_one_speed_never_part_fruit():
    with pytest.raises(RangeError, match="stay so"):
        belt_pair.separation_length_m(0.4, 0.4, 0.06)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (belt_pair.mean_speed_m_s, (-0.1, 0.4)),
        (belt_pair.mean_speed_m_s, (0.4, -0.1)),
        (belt_pair.mean_speed_m_s, (NAN, 0.4)),
        (belt_pair.mean_speed_m_s, (0.4, INF)),
        (belt_pair.differential_share, (0.0, 0.0)),
        (belt_pair.differential_share, (-0.1, 0.4)),
        (belt_pair.first_speed_m_s, (-0.1, 0.05)),
        (belt_pair.first_speed_m_s, (0.4, 2.1)),
        (belt_pair.first_speed_m_s, (0.4, NAN)),
        (belt_pair.second_speed_m_s, (0.4, 5.0)),
        (belt_pair.second_speed_m_s, (0.4, -2.1)),
        (belt_pair.second_speed_m_s, (NAN, 0.1)),
        (belt_pair.turning_rad_s, (-0.4, 0.4, 0.06, 0.8)),
        (belt_pair.turning_rad_s, (0.4, 0.4, 0.0, 0.8)),
        (belt_pair.turning_rad_s, (0.4, 0.3, 0.06, 0.0)),
        (belt_pair.turning_rad_s, (0.4, 0.3, 0.06, -0.8)),
        (belt_pair.turning_rad_s, (0.4, 0.3, 0.06, 45.0)),
        (belt_pair.turning_rad_s, (0.4, 0.3, 0.06, NAN)),
        (belt_pair.separation_length_m, (0.4, 0.3, 0.0)),
        (belt_pair.separation_length_m, (0.4, -0.3, 0.06)),
        (belt_pair.separation_length_m, (0.0, 0.0, 0.06)),
    ],
)
def test_refuses(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
