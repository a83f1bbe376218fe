"""Fruit under a camera: values by hand, inverses, limiting cases and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import blur, camera
from core.errors import RangeError

NAN, INF = math.nan, math.inf
CARRIERS = st.floats(0.05, 2.0)
SPINS = st.floats(-2.0, 2.0)
DIAMETERS = st.floats(0.02, 0.2)
VIEWS = st.floats(0.2, 2.0)
FACTORS = st.floats(0.5, 2.0)
COUNTS = st.floats(1.0, 200.0)


def test_skin_by_hand():
    # 1.2 · (0.5 - 0.2) = 0.36 m/s; against the travel 1.2 · 0.7 = 0.84
    assert camera.surface_turning_m_s(0.5, 0.2, 1.2) == pytest.approx(0.36)
    assert camera.surface_turning_m_s(0.5, -0.2, 1.2) == pytest.approx(0.84)


def test_turning_by_hand():
    # a fruit of circumference 0.2 m at 0.3 m/s: 1.5 turns a second
    assert camera.turning_1_s(0.5, 0.2, 0.2 / math.pi) == pytest.approx(1.5)


def test_time_in_view_by_hand():
    assert camera.dwell_s(0.342, 0.4572) == pytest.approx(1.33684, abs=1e-5)


def test_turns_by_hand():
    # 1.5 turns a second for 1.2 s
    assert camera.turns_in_view(0.5, 0.2, 0.2 / math.pi, 0.6) == pytest.approx(1.8)


def test_spin_speed_by_hand():
    # 1.8 turns of 0.2 m in 1.2 s: 0.3 m/s slower than 0.5
    assert camera.spin_speed_m_s(0.5, 1.8, 0.2 / math.pi, 0.6) == pytest.approx(0.2)
    # 3.6 turns: 0.6 m/s slower, so 0.1 m/s against the travel
    assert camera.spin_speed_m_s(0.5, 3.6, 0.2 / math.pi, 0.6) == pytest.approx(-0.1)


def test_images_by_hand():
    # 30 images in 1.2 s: 25 a second; 1.5 turns: 20 a turn, 18° each
    assert camera.frames_needed_hz(30, 1.2) == pytest.approx(25.0)
    assert camera.images_at(25.0, 1.2) == pytest.approx(30.0)
    assert camera.images_per_turn(30, 1.5) == pytest.approx(20.0)
    assert math.degrees(camera.angle_per_image_rad(1.5, 30)) == pytest.approx(18.0)


@pytest.mark.parametrize(
    ("frames", "dwell", "images"), [(25.0, 1.2, 30), (25.0, 1.19, 29), (10.0, 0.05, 0)]
)
def test_images_for_every_fruit_by_hand(frames, dwell, images):
    assert camera.images_at_least(frames, dwell) == images


@given(images=st.integers(1, 200), carrier=CARRIERS, view=VIEWS)
def test_frames_for_whole_images_give_them_all(images, carrier, view):
    dwell = camera.dwell_s(carrier, view)
    assert camera.images_at_least(camera.frames_needed_hz(images, dwell), dwell) == images


@given(frames=st.floats(1.0, 100.0), dwell=st.floats(0.1, 3.0), start=st.floats(0.0, 1.0))
def test_a_fruit_gets_as_many_images_as_said_or_one_more(frames, dwell, start):
    # Frames fall at whole numbers of periods; the fruit comes in at a part of one.
    first, last = start, start + frames * dwell
    seen = math.floor(last) - math.ceil(first) + 1
    least = camera.images_at_least(frames, dwell)
    assert least <= seen <= least + 1


def test_spin_belt_as_fast_as_the_carrier_shows_one_side():
    assert camera.turns_in_view(0.4, 0.4, 0.06, 0.6) == 0.0
    assert camera.angle_per_image_rad(0.0, 30) == 0.0
    assert camera.spin_speed_m_s(0.4, 0.0, 0.06, 0.6) == 0.4


@given(slow=CARRIERS, fast=CARRIERS, diameter=DIAMETERS, view=VIEWS, factor=FACTORS)
def test_track_that_stands_turns_fruit_alike_at_any_speed(slow, fast, diameter, view, factor):
    turns = camera.turns_in_view(slow, 0.0, diameter, view, factor)
    assert turns == pytest.approx(camera.turns_in_view(fast, 0.0, diameter, view, factor))
    assert turns == pytest.approx(factor * view / (math.pi * diameter))


@given(carrier=CARRIERS, spin=SPINS, diameter=DIAMETERS, view=VIEWS, factor=FACTORS)
def test_spin_speed_inverts_turns(carrier, spin, diameter, view, factor):
    turns = camera.turns_in_view(carrier, spin, diameter, view, factor)
    found = camera.spin_speed_m_s(carrier, turns, diameter, view, factor)
    # Of two speeds with these turns it is the one below the carrier's.
    assert found == pytest.approx(min(spin, 2.0 * carrier - spin), abs=1e-9)
    assert camera.turns_in_view(carrier, found, diameter, view, factor) == pytest.approx(
        turns, abs=1e-9
    )


@given(images=COUNTS, dwell=st.floats(0.05, 10.0))
def test_frames_and_images_invert_each_other(images, dwell):
    assert camera.images_at(camera.frames_needed_hz(images, dwell), dwell) == pytest.approx(images)


@given(images=COUNTS, turns=st.floats(0.1, 10.0))
def test_angles_of_one_turn_make_a_circle(images, turns):
    angle = camera.angle_per_image_rad(turns, images)
    assert angle * camera.images_per_turn(images, turns) == pytest.approx(2 * math.pi)


def test_rolling_at_a_standing_track_stops_the_far_side_or_doubles_it():
    # A wheel on the ground: its top goes twice as fast; on rollers the fruit's top stands.
    skin = camera.surface_turning_m_s(0.4, 0.0)
    assert blur.blur_m(0.4, skin, 1e-3) == pytest.approx(0.8e-3)
    assert blur.blur_m(0.4, -skin, 1e-3) == 0.0


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (camera.surface_turning_m_s, (-0.1, 0.2)),
        (camera.surface_turning_m_s, (0.5, NAN)),
        (camera.surface_turning_m_s, (0.5, 0.2, 0.0)),
        (camera.turning_1_s, (-0.5, 0.2, 0.07)),
        (camera.turning_1_s, (0.5, INF, 0.07)),
        (camera.turning_1_s, (0.5, 0.2, 0.0)),
        (camera.turning_1_s, (0.5, 0.2, 0.07, -1.0)),
        (camera.dwell_s, (0.0, 0.6)),
        (camera.dwell_s, (0.5, 0.0)),
        (camera.dwell_s, (NAN, 0.6)),
        (camera.turns_in_view, (0.0, 0.2, 0.07, 0.6)),
        (camera.turns_in_view, (0.5, 0.2, -0.07, 0.6)),
        (camera.turns_in_view, (0.5, 0.2, 0.07, 0.0)),
        (camera.spin_speed_m_s, (0.5, -1.0, 0.07, 0.6)),
        (camera.spin_speed_m_s, (0.0, 1.5, 0.07, 0.6)),
        (camera.spin_speed_m_s, (0.5, 1.5, 0.0, 0.6)),
        (camera.spin_speed_m_s, (0.5, 1.5, 0.07, 0.0)),
        (camera.spin_speed_m_s, (0.5, 1.5, 0.07, 0.6, 0.0)),
        (camera.images_at, (0.0, 1.2)),
        (camera.images_at, (25.0, 0.0)),
        (camera.images_at_least, (25.0, NAN)),
        (camera.frames_needed_hz, (0, 1.2)),
        (camera.frames_needed_hz, (30, 0.0)),
        (camera.images_per_turn, (0, 1.5)),
        (camera.images_per_turn, (30, 0.0)),
        (camera.angle_per_image_rad, (-1.0, 30)),
        (camera.angle_per_image_rad, (1.5, 0)),
    ],
)
def test_refuses(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
