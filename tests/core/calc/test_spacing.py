"""Pitch, gap, cover, settling and drops: values by hand, inverses, conservation, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import spacing
from core.errors import RangeError

NAN, INF = math.nan, math.inf
FLOWS = st.floats(0.01, 100.0)
SPEEDS = st.floats(0.01, 3.0)
PITCHES = st.floats(0.02, 0.5)
LANES = st.integers(1, 20)
SHARES = st.floats(0.01, 1.0)
DIAMETERS = st.floats(0.02, 0.2)
WIDTHS = st.floats(0.2, 3.0)


def test_speed_for_pitch_by_hand():
    # 6 fruit/s in 2 lanes, 100 mm, three of four places filled: 3 / 0.75 · 0.1 = 0.4 m/s
    assert spacing.speed_for_pitch_m_s(6.0, 2, 0.1, 0.75) == pytest.approx(0.4)
    assert spacing.speed_for_pitch_m_s(0.0, 2, 0.1, 0.75) == 0.0


def test_fruit_rate_by_hand():
    assert spacing.fruit_rate_at_1_s(0.4, 2, 0.1, 0.75) == pytest.approx(6.0)
    assert spacing.fruit_rate_at_1_s(0.0, 2, 0.1) == 0.0
    assert spacing.fruit_rate_at_1_s(0.4, 2, 0.1, 0.0) == 0.0


def test_pitch_by_hand():
    # 0.5 m/s in 2 lanes of 2.5 fruit/s each: 200 mm
    assert spacing.pitch_at_m(0.5, 2, 5.0) == pytest.approx(0.2)


def test_pitch_after_a_faster_belt_by_hand():
    # half as fast again: half as far again
    assert spacing.pitch_after_m(0.08, 0.4, 0.6) == pytest.approx(0.12)
    assert spacing.pitch_after_m(0.08, 0.4, 0.4) == 0.08


def test_gap_by_hand():
    assert spacing.gap_m(0.1, 0.061) == pytest.approx(0.039)
    assert spacing.gap_m(0.061, 0.061) == 0.0
    assert spacing.gap_m(0.05, 0.06) == pytest.approx(-0.01)


def test_fruit_per_metre_by_hand():
    assert spacing.fruit_per_metre(4.5, 0.3) == pytest.approx(15.0)


def test_cover_by_hand():
    # 10 rows of 80 mm a metre's width take 0.8 m; at 0.16 m/s two rows a second, half full: 10
    assert spacing.wide_rate_1_s(0.16, 0.8, 0.08, 0.5) == pytest.approx(10.0)
    assert spacing.speed_for_cover_m_s(10.0, 0.8, 0.08, 0.5) == pytest.approx(0.16)
    assert spacing.cover_share(10.0, 0.16, 0.8, 0.08) == pytest.approx(0.5)


def test_cover_of_more_than_one_layer_is_told_as_such():
    assert spacing.cover_share(30.0, 0.16, 0.8, 0.08) == pytest.approx(1.5)


@given(flow=FLOWS, lanes=LANES, pitch=PITCHES, filled=SHARES)
def test_speed_and_fruit_invert_each_other(flow, lanes, pitch, filled):
    speed = spacing.speed_for_pitch_m_s(flow, lanes, pitch, filled)
    assert spacing.fruit_rate_at_1_s(speed, lanes, pitch, filled) == pytest.approx(flow)


@given(flow=FLOWS, lanes=LANES, speed=SPEEDS)
def test_pitch_gives_its_speed_back(flow, lanes, speed):
    pitch = spacing.pitch_at_m(speed, lanes, flow)
    assert spacing.speed_for_pitch_m_s(flow, lanes, pitch) == pytest.approx(speed)


@given(flow=FLOWS, lanes=LANES, first=SPEEDS, second=SPEEDS)
def test_no_fruit_is_made_or_lost_at_a_transfer(flow, lanes, first, second):
    pitch = spacing.pitch_at_m(first, lanes, flow)
    after = spacing.pitch_after_m(pitch, first, second)
    assert spacing.fruit_rate_at_1_s(second, lanes, after) == pytest.approx(flow)


@given(pitch=PITCHES, a=SPEEDS, b=SPEEDS, c=SPEEDS)
def test_belts_between_do_not_matter_to_the_mean_pitch(pitch, a, b, c):
    over = spacing.pitch_after_m(spacing.pitch_after_m(pitch, a, b), b, c)
    assert over == pytest.approx(spacing.pitch_after_m(pitch, a, c))


@given(speed=SPEEDS, lanes=LANES, flow=FLOWS)
def test_fruit_on_a_metre_times_their_pitch_is_a_metre_of_each_lane(speed, lanes, flow):
    on = spacing.fruit_per_metre(flow, speed)
    assert on * spacing.pitch_at_m(speed, lanes, flow) == pytest.approx(lanes)


@given(flow=FLOWS, width=WIDTHS, diameter=DIAMETERS, cover=SHARES)
def test_cover_comes_back(flow, width, diameter, cover):
    speed = spacing.speed_for_cover_m_s(flow, width, diameter, cover)
    assert spacing.cover_share(flow, speed, width, diameter) == pytest.approx(cover)
    assert spacing.wide_rate_1_s(speed, width, diameter, cover) == pytest.approx(flow)


@given(speed=SPEEDS, diameter=DIAMETERS, lanes=LANES)
def test_full_belt_is_touching_fruit_in_lanes(speed, diameter, lanes):
    wide = spacing.wide_rate_1_s(speed, lanes * diameter, diameter, 1.0)
    assert wide == pytest.approx(spacing.fruit_rate_at_1_s(speed, lanes, diameter))


def test_spread_of_pitch_by_hand():
    # 3-4-5: two lags of spread 5 differ by 7.07
    assert spacing.pitch_spread_m(0.005) == pytest.approx(0.0070711, rel=1e-4)
    assert spacing.pitch_spread_m(0.0) == 0.0


def test_small_number_of_lanes_is_told():
    with pytest.raises(RangeError, match="number of lanes"):
        spacing.pitch_at_m(0.5, 0, 5.0)


def test_fruit_wider_than_its_belt_is_told():
    with pytest.raises(RangeError, match="diameter of the fruit"):
        spacing.wide_rate_1_s(0.2, 0.05, 0.06, 0.5)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (spacing.speed_for_pitch_m_s, (-1.0, 1, 0.1)),
        (spacing.speed_for_pitch_m_s, (NAN, 1, 0.1)),
        (spacing.speed_for_pitch_m_s, (1.0, 1.5, 0.1)),
        (spacing.speed_for_pitch_m_s, (1.0, 1, 0.0)),
        (spacing.speed_for_pitch_m_s, (1.0, 1, 0.1, 0.0)),
        (spacing.speed_for_pitch_m_s, (1.0, 1, 0.1, 80.0)),
        (spacing.fruit_rate_at_1_s, (-0.1, 1, 0.1)),
        (spacing.fruit_rate_at_1_s, (0.5, 0, 0.1)),
        (spacing.fruit_rate_at_1_s, (0.5, 1, 0.0)),
        (spacing.fruit_rate_at_1_s, (0.5, 1, 0.1, 1.01)),
        (spacing.pitch_at_m, (0.0, 1, 5.0)),
        (spacing.pitch_at_m, (0.5, 1, 0.0)),
        (spacing.pitch_after_m, (0.0, 0.4, 0.5)),
        (spacing.pitch_after_m, (0.1, 0.0, 0.5)),
        (spacing.pitch_after_m, (0.1, 0.4, 0.0)),
        (spacing.pitch_after_m, (0.1, 0.4, NAN)),
        (spacing.pitch_spread_m, (-0.01,)),
        (spacing.gap_m, (0.0, 0.06)),
        (spacing.gap_m, (0.1, 0.0)),
        (spacing.gap_m, (INF, 0.06)),
        (spacing.fruit_per_metre, (-1.0, 0.5)),
        (spacing.fruit_per_metre, (1.0, 0.0)),
        (spacing.wide_rate_1_s, (-0.2, 0.8, 0.08, 0.5)),
        (spacing.wide_rate_1_s, (0.2, 0.0, 0.08, 0.5)),
        (spacing.wide_rate_1_s, (0.2, 0.8, 0.0, 0.5)),
        (spacing.wide_rate_1_s, (0.2, 0.8, 0.08, 50.0)),
        (spacing.speed_for_cover_m_s, (-1.0, 0.8, 0.08, 0.5)),
        (spacing.speed_for_cover_m_s, (1.0, 0.8, 0.08, 0.0)),
        (spacing.speed_for_cover_m_s, (1.0, 0.05, 0.08, 0.5)),
        (spacing.cover_share, (1.0, 0.0, 0.8, 0.08)),
        (spacing.cover_share, (-1.0, 0.2, 0.8, 0.08)),
        (spacing.cover_share, (1.0, 0.2, 0.8, NAN)),
    ],
)
def test_refuses(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
