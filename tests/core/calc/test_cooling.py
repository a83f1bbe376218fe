"""Own-fan motors at low speed: whose word counts, inverse, ends and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import cooling
from core.errors import RangeError

NAN = math.nan
MAKERS = ((5.0, 0.4), (20.0, 0.8), (50.0, 1.0))


def test_the_makers_curve_wins_over_all():
    curve = cooling.cooling_curve(50.0, MAKERS, 10.0)
    assert curve.points == MAKERS
    assert curve.basis == "stated"


def test_the_makers_lowest_frequency_wins_over_the_rule_of_thumb():
    curve = cooling.cooling_curve(50.0, stated_frequency_min_hz=10.0)
    assert cooling.cooled_torque_share(10.0, curve) == 1.0
    assert not curve.is_estimate
    with pytest.raises(RangeError):
        cooling.cooled_torque_share(9.9, curve)


def test_lowest_frequency_that_is_the_rated_one():
    curve = cooling.cooling_curve(50.0, stated_frequency_min_hz=50.0)
    assert cooling.cooled_torque_share(60.0, curve) == 1.0
    assert cooling.frequency_min_for_load_hz(1.0, curve) == 50.0


def test_rule_of_thumb_says_that_it_is_one():
    curve = cooling.cooling_curve(60.0)
    assert curve.is_estimate
    assert "common practice" in curve.reason
    assert cooling.cooled_torque_share(60.0, curve) == 1.0


def test_nothing_is_told_below_the_curve():
    with pytest.raises(RangeError):
        cooling.cooled_torque_share(5.9, cooling.cooling_curve(60.0))


def test_above_the_curve_its_end_stands():
    assert cooling.cooled_torque_share(75.0, cooling.cooling_curve(50.0, MAKERS)) == 1.0


def test_between_points_by_hand():
    # Halfway from 5 to 20 Hz: (0.4 + 0.8) / 2
    assert cooling.cooled_torque_share(12.5, cooling.cooling_curve(50.0, MAKERS)) == pytest.approx(
        0.6
    )


@given(st.floats(0.4, 1.0), st.sampled_from([(), MAKERS]))
def test_lowest_frequency_inverts_the_curve(load, points):
    curve = cooling.cooling_curve(50.0, points)
    lowest = cooling.frequency_min_for_load_hz(load, curve)
    cooled = cooling.cooled_torque_share(lowest, curve)
    assert cooled == pytest.approx(max(load, curve.points[0][1]), abs=1e-9)


def test_light_load_is_cooled_from_the_first_point_on():
    assert cooling.frequency_min_for_load_hz(0.0, cooling.cooling_curve(50.0, MAKERS)) == 5.0


def test_load_that_no_speed_cools():
    with pytest.raises(RangeError, match="forced"):
        cooling.frequency_min_for_load_hz(1.1, cooling.cooling_curve(60.0))


@pytest.mark.parametrize(
    ("rated", "points", "lowest"),
    [
        (0, (), None),
        (NAN, (), None),
        (50, (), 0.0),
        (50, (), 51.0),
        (50, (), NAN),
        (50, ((5.0, 0.4),), None),
        (50, ((0.0, 0.4), (50.0, 1.0)), None),
        (50, ((20.0, 0.4), (5.0, 1.0)), None),
        (50, ((5.0, 1.0), (50.0, 0.4)), None),
        (50, ((5.0, 40.0), (50.0, 100.0)), None),  # percent for shares
        (50, ((5.0, NAN), (50.0, 1.0)), None),
    ],
)
def test_refusals(rated, points, lowest):
    with pytest.raises(RangeError):
        cooling.cooling_curve(rated, points, lowest)


@pytest.mark.parametrize("load", [-0.1, NAN])
def test_load_refusals(load):
    with pytest.raises(RangeError):
        cooling.frequency_min_for_load_hz(load, cooling.cooling_curve(60.0))
