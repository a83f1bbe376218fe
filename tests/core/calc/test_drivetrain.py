"""Drivetrain: values by hand, limiting cases, inverses and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import drivetrain
from core.errors import RangeError

NAN = math.nan
SPEEDS = st.floats(-500.0, 500.0)


def test_total_ratio_by_hand():
    # worm 60:1 and chain 15 to 36 teeth: 60 * 36 / 15 = 144
    assert drivetrain.total_ratio(60.0, 15, 36) == pytest.approx(144.0)


def test_total_ratio_of_a_direct_drive_is_one():
    assert drivetrain.total_ratio(1.0) == 1.0


@pytest.mark.parametrize(
    ("gear", "driver", "driven"), [(0, 15, 15), (-5, 15, 15), (NAN, 15, 15), (5, 0, 15), (5, 15, 0)]
)
def test_total_ratio_refuses(gear, driver, driven):
    with pytest.raises(RangeError):
        drivetrain.total_ratio(gear, driver, driven)


@given(speed=SPEEDS, ratio=st.floats(0.1, 2000.0))
def test_motor_speed_inverts_shaft_speed(speed, ratio):
    shaft = drivetrain.shaft_speed_rad_s(speed, ratio)
    assert drivetrain.motor_speed_rad_s(shaft, ratio) == pytest.approx(speed)


@pytest.mark.parametrize(
    ("speed", "ratio"), [(NAN, 5), (math.inf, 5), (10, 0), (10, NAN), (10, -2)]
)
@pytest.mark.parametrize("function", [drivetrain.shaft_speed_rad_s, drivetrain.motor_speed_rad_s])
def test_shaft_and_motor_speed_refuse(function, speed, ratio):
    with pytest.raises(RangeError):
        function(speed, ratio)


def test_surface_of_a_bare_drum_is_its_circumference_per_turn():
    assert drivetrain.surface_speed_m_s(2 * math.pi, 0.1) == pytest.approx(math.pi * 0.1)


def test_belt_runs_on_its_middle():
    # 80 mm drum, 3 mm belt, one turn per second: pi * 83 mm = 260.8 mm/s
    assert drivetrain.surface_speed_m_s(2 * math.pi, 0.080, 0.003) == pytest.approx(
        0.26075, rel=1e-4
    )


def test_reverse_is_negative():
    assert drivetrain.surface_speed_m_s(-10.0, 0.1) == pytest.approx(-0.5)


@given(speed=st.floats(-5.0, 5.0), diameter=st.floats(0.01, 1.0), share=st.floats(0.0, 1.0))
def test_shaft_speed_for_surface_inverts(speed, diameter, share):
    shaft = drivetrain.shaft_speed_for_surface_rad_s(speed, diameter, share * diameter)
    back = drivetrain.surface_speed_m_s(shaft, diameter, share * diameter)
    assert back == pytest.approx(speed)


@pytest.mark.parametrize(
    ("speed", "diameter", "belt"),
    [
        (NAN, 0.1, 0),
        (1, 0, 0),
        (1, -0.1, 0),
        (1, NAN, 0),
        (1, 0.1, -0.001),
        (1, 0.1, 0.2),
        (1, 0.1, NAN),
    ],
)
@pytest.mark.parametrize(
    "function", [drivetrain.surface_speed_m_s, drivetrain.shaft_speed_for_surface_rad_s]
)
def test_surface_refuses(function, speed, diameter, belt):
    with pytest.raises(RangeError):
        function(speed, diameter, belt)


def test_chain_lays_one_pitch_per_tooth():
    # 12 teeth of 31.75 mm: 381 mm per turn
    assert drivetrain.chain_speed_m_s(2 * math.pi, 12, 0.03175) == pytest.approx(0.381)


@given(speed=st.floats(-5.0, 5.0), teeth=st.integers(3, 120), pitch=st.floats(0.005, 0.2))
def test_shaft_speed_for_chain_inverts(speed, teeth, pitch):
    shaft = drivetrain.shaft_speed_for_chain_rad_s(speed, teeth, pitch)
    assert drivetrain.chain_speed_m_s(shaft, teeth, pitch) == pytest.approx(speed)


@pytest.mark.parametrize(
    ("speed", "teeth", "pitch"),
    [(NAN, 10, 0.04), (1, 2, 0.04), (1, 10.5, 0.04), (1, NAN, 0.04), (1, 10, 0), (1, 10, NAN)],
)
@pytest.mark.parametrize(
    "function", [drivetrain.chain_speed_m_s, drivetrain.shaft_speed_for_chain_rad_s]
)
def test_chain_refuses(function, speed, teeth, pitch):
    with pytest.raises(RangeError):
        function(speed, teeth, pitch)


def test_chordal_variation_of_a_hexagon():
    # cos 30 degrees = 0.8660
    assert drivetrain.chordal_variation(6) == pytest.approx(0.1340, abs=5e-5)


@given(teeth=st.integers(3, 100), pitch=st.floats(0.005, 0.2))
def test_mean_chain_speed_lies_between_corner_and_flat(teeth, pitch):
    # Highest speed: pins at the pitch radius; lowest: the flat of the polygon, cos(pi/z) of it.
    highest = drivetrain.sprocket_pitch_diameter_m(teeth, pitch) / 2
    lowest = highest * (1 - drivetrain.chordal_variation(teeth))
    assert lowest < drivetrain.chain_speed_m_s(1.0, teeth, pitch) < highest


def test_many_teeth_make_a_circle():
    assert drivetrain.chordal_variation(1000) < 5e-6
    circumference = math.pi * drivetrain.sprocket_pitch_diameter_m(1000, 0.01)
    assert circumference == pytest.approx(10.0, rel=2e-6)


@pytest.mark.parametrize("teeth", [2, 0, -5, 7.5, NAN])
def test_chordal_variation_refuses(teeth):
    with pytest.raises(RangeError):
        drivetrain.chordal_variation(teeth)


@pytest.mark.parametrize(("teeth", "pitch"), [(2, 0.04), (10, 0.0), (10, NAN)])
def test_pitch_diameter_refuses(teeth, pitch):
    with pytest.raises(RangeError):
        drivetrain.sprocket_pitch_diameter_m(teeth, pitch)
