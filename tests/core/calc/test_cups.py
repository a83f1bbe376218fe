"""Cups: values by hand, inverses, statistics of a count against draws, refusals."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.calc import cup_drop, cups
from core.errors import RangeError

NAN, INF = math.nan, math.inf
SPEEDS = st.floats(0.01, 3.0)
PITCHES = st.floats(0.03, 0.5)
LANES = st.integers(1, 20)
SHARES = st.floats(0.01, 1.0)


def test_cups_by_hand():
    # 0.45 m/s over 90 mm: 5 cups/s; 4 lanes at 75 %: 15 fruit/s
    assert cups.cups_rate_1_s(0.45, 0.09) == pytest.approx(5.0)
    assert cups.fruit_rate_1_s(0.45, 0.09, 4, 0.75) == pytest.approx(15.0)
    assert cups.speed_for_fruit_m_s(15.0, 0.09, 4, 0.75) == pytest.approx(0.45)


def test_standing_chain_carries_nothing():
    assert cups.cups_rate_1_s(0.0, 0.09) == 0.0
    assert cups.fruit_rate_1_s(0.5, 0.09, 1, 0.0) == 0.0
    assert cups.speed_for_fruit_m_s(0.0, 0.09, 1, 0.8) == 0.0


@given(flow=st.floats(0.0, 100.0), pitch=PITCHES, lanes=LANES, filled=SHARES)
def test_speed_and_fruit_invert_each_other(flow, pitch, lanes, filled):
    speed = cups.speed_for_fruit_m_s(flow, pitch, lanes, filled)
    assert cups.fruit_rate_1_s(speed, pitch, lanes, filled) == pytest.approx(flow)


@given(speed=SPEEDS, latency=st.floats(0.0, 0.5), pitch=PITCHES)
def test_lead_in_cups_is_the_cups_that_pass_meanwhile(speed, latency, pitch):
    lead = cup_drop.lead_cups(cup_drop.lead_m(speed, latency), pitch)
    assert lead == pytest.approx(cups.cups_rate_1_s(speed, pitch) * latency)


def test_fill_by_hand():
    # 200 cups, 50 empty, 10 doubles: 140 single, 0.70; root of 0.21/200 = 0.032404
    count = cups.filled_share_from_counts(200, 50, 10)
    assert count.filled_share == pytest.approx(0.70)
    assert count.standard == pytest.approx(0.032404, abs=1e-6)
    # 5 %: root of 0.0475/200 = 0.015411; fruit: 140 + 20 = 160 in 200
    assert count.doubles_share == pytest.approx(0.05)
    assert count.doubles_standard == pytest.approx(0.015411, abs=1e-6)
    assert count.fruit_per_cup == pytest.approx(0.8)


def test_spread_of_drawn_counts():
    single = np.random.default_rng(3).binomial(200, 0.8, 200_000) / 200
    said = cups.filled_share_from_counts(200, 40, 0).standard
    assert said == pytest.approx(np.std(single), rel=5e-3)


@given(single=st.integers(0, 300), empty=st.integers(0, 300), doubles=st.integers(0, 300))
def test_all_cups_are_single_empty_or_double(single, empty, doubles):
    total = single + empty + doubles
    assume(total > 0)
    count = cups.filled_share_from_counts(total, empty, doubles)
    assert count.filled_share + count.doubles_share + empty / total == pytest.approx(1.0)
    assert count.fruit_per_cup == pytest.approx(count.filled_share + 2 * count.doubles_share)


def test_too_many_counted_is_told():
    with pytest.raises(RangeError, match="too many"):
        cups.filled_share_from_counts(200, 150, 60)


def test_limits_by_hand():
    # z² = 3.84146 for 95 %; none in 200: upper limit z²/(N + z²) = 3.84146/203.84146
    assert cups.share_limits(0, 200) == (0.0, pytest.approx(0.018845, abs=1e-6))
    assert cups.share_limits(200, 200) == (pytest.approx(0.981155, abs=1e-6), 1.0)
    # half of 100: 0.5 ± z/(2·root(100 + z²)) = 0.5 ± 0.096168
    low, high = cups.share_limits(50, 100)
    assert (low, high) == (pytest.approx(0.403832, abs=1e-5), pytest.approx(0.596168, abs=1e-5))


@given(total=st.integers(1, 1000), part=st.floats(0.0, 1.0))
def test_limits_hold_the_share_and_mirror_each_other(total, part):
    count = round(part * total)
    low, high = cups.share_limits(count, total)
    assert 0.0 <= low <= count / total <= high <= 1.0
    assert cups.share_limits(total - count, total) == pytest.approx((1 - high, 1 - low))


def test_limits_hold_what_was_drawn_from_about_as_often_as_said():
    drawn = np.random.default_rng(4).binomial(200, 0.03, 4000)
    limits = {int(count): cups.share_limits(int(count), 200) for count in set(drawn)}
    held = np.mean([limits[int(count)][0] <= 0.03 <= limits[int(count)][1] for count in drawn])
    assert held == pytest.approx(0.95, abs=0.03)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (cups.cups_rate_1_s, (-0.1, 0.09)),
        (cups.cups_rate_1_s, (0.5, 0.0)),
        (cups.cups_rate_1_s, (NAN, 0.09)),
        (cups.fruit_rate_1_s, (-0.5, 0.09, 1, 0.8)),
        (cups.fruit_rate_1_s, (0.5, 0.0, 1, 0.8)),
        (cups.fruit_rate_1_s, (0.5, 0.09, 0, 0.8)),
        (cups.fruit_rate_1_s, (0.5, 0.09, 1, 80.0)),
        (cups.speed_for_fruit_m_s, (-1.0, 0.09, 1, 0.8)),
        (cups.speed_for_fruit_m_s, (1.0, 0.0, 1, 0.8)),
        (cups.speed_for_fruit_m_s, (1.0, 0.09, 1.5, 0.8)),
        (cups.speed_for_fruit_m_s, (1.0, 0.09, 1, 0.0)),
        (cups.filled_share_from_counts, (0, 0, 0)),
        (cups.filled_share_from_counts, (200, -1, 0)),
        (cups.filled_share_from_counts, (200, 0, 1.5)),
        (cups.share_limits, (0, 0)),
        (cups.share_limits, (3, 2)),
        (cups.share_limits, (-1, 2)),
        (cups.share_limits, (1, 2, 1.0)),
        (cups.share_limits, (1, 2, NAN)),
    ],
)
def test_refuses(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
