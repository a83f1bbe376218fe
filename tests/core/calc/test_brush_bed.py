"""Drift and scrub: inverses, signs, both kinds of uncertainty by trial, and refusals."""

import math
import random
import statistics

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.calc import brush_bed as bed
from core.errors import RangeError

NAN = math.nan
SPEEDS = st.floats(0.05, 2.0)
FACTORS = st.floats(0.1, 2.0)


def test_drift_and_scrub_worked_by_hand():
    # (0.64 - 0.54) / 2, and its half on a bed with factor 0.5; (0.64 + 0.54) / 2
    assert bed.drift_index_m_s(0.64, 0.54, 1.0) == pytest.approx(0.05)
    assert bed.drift_index_m_s(0.64, 0.54, 0.5) == pytest.approx(0.025)
    assert bed.scrub_index_m_s(0.64, 0.54) == pytest.approx(0.59)


@given(SPEEDS, FACTORS)
def test_equal_speeds_scrub_and_do_not_carry(speed, factor):
    assert bed.drift_index_m_s(speed, speed, factor) == 0.0
    assert bed.scrub_index_m_s(speed, speed) == speed


@given(SPEEDS, SPEEDS, FACTORS)
def test_sets_changing_places_turn_the_drift_round(one, other, factor):
    assert bed.drift_index_m_s(one, other, factor) == pytest.approx(
        -bed.drift_index_m_s(other, one, factor)
    )
    assert bed.scrub_index_m_s(one, other) == bed.scrub_index_m_s(other, one)


@given(SPEEDS, SPEEDS, FACTORS)
def test_speeds_come_back_from_the_drift(forward, reverse, factor):
    drift = bed.drift_index_m_s(forward, reverse, factor)
    assert bed.reverse_speed_m_s(forward, drift, factor) == pytest.approx(reverse)
    assert bed.forward_speed_m_s(reverse, drift, factor) == pytest.approx(forward)


def test_reverse_brushes_at_rest_give_the_most_drift():
    assert bed.reverse_speed_m_s(0.6, 0.3) == 0.0
    with pytest.raises(RangeError, match=r"give 0\.3 m/s of drift; 0\.31"):
        bed.reverse_speed_m_s(0.6, 0.31)


def test_backward_drift_beyond_the_reverse_brushes_is_refused():
    assert bed.forward_speed_m_s(0.5, -0.25) == 0.0
    with pytest.raises(RangeError, match="turn in reverse"):
        bed.forward_speed_m_s(0.5, -0.26)


def test_uncertainty_of_the_drift_by_hand():
    # 0.5 · √(0.003² + 0.004²) = 0.0025
    assert bed.drift_budget(0.6, 0.5, 0.003, 0.004).standard == pytest.approx(0.0025)
    # all shared: 0.5 · (0.004 - 0.003)
    shared = bed.drift_budget(0.6, 0.5, 0.003, 0.004, correlation=1.0)
    assert shared.standard == pytest.approx(0.0005)
    # the factor alone: 0.05 · 0.1
    factor = bed.drift_budget(0.6, 0.5, 0.0, 0.0, travel_factor=0.8, travel_factor_u=0.1)
    assert factor.standard == pytest.approx(0.005)


@given(SPEEDS, SPEEDS, st.floats(0.0, 0.05), FACTORS)
def test_shared_share_of_both_speeds_stays_that_share_of_the_drift(one, other, share, factor):
    # One reference a per cent too high makes the drift a per cent too high, no more.
    budget = bed.drift_budget(one, other, share * one, share * other, 1.0, factor)
    drift = abs(bed.drift_index_m_s(one, other, factor))
    assert budget.standard == pytest.approx(share * drift, abs=1e-7)


def test_factor_worked_by_hand():
    # 2 m in 50 s is 0.04 m/s; of 0.05
    assert bed.travel_factor(2.0, 50.0, 0.05) == pytest.approx(0.8)


@given(SPEEDS, SPEEDS, FACTORS, st.floats(0.5, 5.0))
def test_factor_of_a_fruit_that_follows_the_index_comes_back(forward, reverse, factor, length):
    assume(forward - reverse > 1e-3)
    time = length / bed.drift_index_m_s(forward, reverse, factor)
    found = bed.travel_factor(length, time, bed.drift_index_m_s(forward, reverse))
    assert found == pytest.approx(factor)


def test_timed_fruit_against_simulated_ones():
    """Many beds timed with ten fruit each scatter as the budget of one of them says."""
    rng = random.Random(41)
    length_u, index_u, spread_s = 0.01, 0.002, 4.0
    found, told = [], []
    for _bed in range(3000):
        times = tuple(rng.gauss(40.0, spread_s) for _fruit in range(10))
        length, index = rng.gauss(1.6, length_u), rng.gauss(0.05, index_u)
        timed = bed.timed_travel(length, times, index, length_u, index_u)
        found.append(timed.factor)
        told.append(timed.standard)
    assert statistics.fmean(found) == pytest.approx(0.8, rel=0.01)
    assert statistics.stdev(found) == pytest.approx(statistics.fmean(told), rel=0.05)


def test_equal_times_leave_only_length_and_index():
    timed = bed.timed_travel(1.6, (40.0, 40.0, 40.0), 0.05, length_u_m=0.016)
    assert timed.standard == pytest.approx(0.008)
    assert [row.name for row in timed.budget.rows][1] == "times of marked fruit"


def test_single_fruit_tells_nothing_of_spread():
    with pytest.raises(RangeError, match="twice"):
        bed.timed_travel(1.6, (40.0,), 0.05)


def test_worn_brush_by_hand():
    assert bed.effective_diameter_m(0.127) == 0.127
    assert bed.effective_diameter_m(0.127, 0.006, 0.002) == pytest.approx(0.117)
    with pytest.raises(RangeError, match="left of the brush"):
        bed.effective_diameter_m(0.02, 0.01, 0.005)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (bed.drift_index_m_s, (-0.1, 0.5, 1.0)),
        (bed.drift_index_m_s, (0.6, -0.5, 1.0)),
        (bed.drift_index_m_s, (0.6, 0.5, 0.0)),
        (bed.drift_index_m_s, (NAN, 0.5, 1.0)),
        (bed.scrub_index_m_s, (-0.1, 0.5)),
        (bed.scrub_index_m_s, (0.1, NAN)),
        (bed.reverse_speed_m_s, (-0.1, 0.05, 1.0)),
        (bed.reverse_speed_m_s, (0.6, NAN, 1.0)),
        (bed.reverse_speed_m_s, (0.6, 0.05, 0.0)),
        (bed.forward_speed_m_s, (-0.1, 0.05, 1.0)),
        (bed.forward_speed_m_s, (0.6, math.inf, 1.0)),
        (bed.forward_speed_m_s, (0.6, 0.05, -1.0)),
        (bed.drift_budget, (0.6, 0.5, -0.01, 0.01)),
        (bed.drift_budget, (0.6, 0.5, 0.01, NAN)),
        (bed.drift_budget, (0.6, 0.5, 0.01, 0.01, 1.1)),
        (bed.drift_budget, (0.6, 0.5, 0.01, 0.01, NAN)),
        (bed.drift_budget, (0.6, 0.5, 0.01, 0.01, 0.0, 1.0, -0.1)),
        (bed.travel_factor, (0.0, 40.0, 0.05)),
        (bed.travel_factor, (1.6, 0.0, 0.05)),
        (bed.travel_factor, (1.6, 40.0, 0.0)),
        (bed.travel_factor, (1.6, 40.0, -0.05)),
        (bed.timed_travel, (1.6, (40.0, -1.0), 0.05)),
        (bed.timed_travel, (1.6, (40.0, 41.0), 0.05, -0.1)),
        (bed.timed_travel, (1.6, (40.0, 41.0), 0.05, 0.1, NAN)),
        (bed.effective_diameter_m, (0.0,)),
        (bed.effective_diameter_m, (0.1, -0.01)),
        (bed.effective_diameter_m, (0.1, 0.0, -0.01)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
