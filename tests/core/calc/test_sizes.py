"""Sizes: values by hand, conservation over classes, draws beside the formulas, refusals."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import sizes
from core.errors import RangeError

NAN, INF = math.nan, math.inf
MEANS = st.floats(0.03, 0.15)
SPREADS = st.floats(0.0005, 0.007)
BOUNDS = st.lists(st.floats(0.0, 0.2), min_size=1, max_size=8, unique=True).map(
    lambda bounds: tuple(sorted(bounds))
)


def test_share_by_hand():
    # tables of the normal distribution: 0.6827 within one spread, 0.1587 above it
    assert sizes.share_between(0.06, 0.07, 0.065, 0.005) == pytest.approx(0.6827, abs=5e-5)
    assert sizes.share_between(0.07, None, 0.065, 0.005) == pytest.approx(0.1587, abs=5e-5)
    assert sizes.share_between(None, 0.065, 0.065, 0.005) == pytest.approx(0.5)


def test_class_without_bounds_gets_all():
    assert sizes.share_between(None, None, 0.065, 0.005) == 1.0
    assert sizes.mass_share_between(None, None, 0.065, 0.005) == 1.0


def test_fruit_without_spread_is_all_in_one_class():
    assert sizes.shares_of_classes((0.06, 0.07), 0.065, 0.0) == (0.0, 1.0, 0.0)
    # at a bound it belongs to the class above
    assert sizes.shares_of_classes((0.06, 0.07), 0.07, 0.0) == (0.0, 0.0, 1.0)
    assert sizes.mass_share_between(0.06, 0.07, 0.065, 0.0) == 1.0
    assert sizes.mass_share_between(0.07, None, 0.065, 0.0) == 0.0


def test_small_shares_far_above_keep_their_digits():
    # mirror of the share as far below
    above = sizes.share_between(0.115, 0.120, 0.065, 0.005)
    below = sizes.share_between(0.010, 0.015, 0.065, 0.005)
    assert above == pytest.approx(below, rel=1e-9)
    assert 0.0 < above < 1e-20


@given(bounds=BOUNDS, mean=MEANS, spread=SPREADS)
def test_classes_together_hold_all_fruit_and_all_mass(bounds, mean, spread):
    shares = sizes.shares_of_classes(bounds, mean, spread)
    assert len(shares) == len(bounds) + 1
    assert math.fsum(shares) == pytest.approx(1.0)
    ends = (None, *bounds, None)
    masses = [sizes.mass_share_between(low, high, mean, spread) for low, high in pairwise(ends)]
    assert math.fsum(masses) == pytest.approx(1.0)
    assert all(0.0 <= share <= 1.0 for share in (*shares, *masses))


@given(mean=MEANS, spread=SPREADS, away=st.floats(0.0, 0.02))
def test_share_mirrors_about_the_mean(mean, spread, away):
    above = sizes.share_between(mean + away, None, mean, spread)
    assert above == pytest.approx(sizes.share_between(None, mean - away, mean, spread))


@given(mean=MEANS, spread=SPREADS, away=st.floats(-3.0, 3.0))
def test_larger_fruit_have_more_of_the_mass_than_of_the_count(mean, spread, away):
    bound = mean + away * spread
    by_count = sizes.share_between(bound, None, mean, spread)
    assert sizes.mass_share_between(bound, None, mean, spread) >= by_count


def test_share_and_mass_of_drawn_fruit():
    drawn = np.random.default_rng(5).normal(0.065, 0.006, 400_000)
    within = (drawn >= 0.060) & (drawn < 0.075)
    share = sizes.share_between(0.060, 0.075, 0.065, 0.006)
    assert share == pytest.approx(np.mean(within), abs=3e-3)
    mass = sizes.mass_share_between(0.060, 0.075, 0.065, 0.006)
    assert mass == pytest.approx(np.sum(drawn[within] ** 3) / np.sum(drawn**3), abs=3e-3)


def test_load_by_hand():
    # 4 fruit/s of 0.2 kg at 0.5 m/s: 0.8 kg/s over 0.5 m/s = 1.6 kg/m
    assert sizes.mass_per_metre_kg_m(4.0, 0.2, 0.5) == pytest.approx(1.6)
    assert sizes.mass_per_metre_kg_m(0.0, 0.2, 0.5) == 0.0


@given(flow=st.floats(0.0, 50.0), mass=st.floats(0.01, 3.0), speed=st.floats(0.01, 3.0))
def test_load_times_speed_is_the_mass_flow(flow, mass, speed):
    assert sizes.mass_per_metre_kg_m(flow, mass, speed) * speed == pytest.approx(flow * mass)


def test_sure_measurement_misplaces_none():
    assert sizes.misplaced_share(0.065, 0.065, 0.005, 0.0) == 0.0


def test_useless_measurement_misplaces_half_at_the_mean():
    assert sizes.misplaced_share(0.065, 0.065, 0.005, 5.0) == pytest.approx(0.5, abs=1e-3)


def test_bound_that_no_fruit_comes_near_misplaces_none():
    assert sizes.misplaced_share(0.2, 0.065, 0.005, 0.0005) == 0.0


@given(width=st.floats(1e-4, 20.0))
def test_bound_at_the_mean_has_a_closed_form(width):
    got = sizes.misplaced_share(0.065, 0.065, 0.005, 0.005 * width)
    assert got == pytest.approx(math.atan(width) / math.pi, rel=1e-6)


def test_misplaced_of_drawn_fruit():
    random = np.random.default_rng(6)
    drawn = random.normal(0.065, 0.005, 400_000)
    measured = drawn + random.normal(0.0, 0.001, drawn.size)
    wrong = np.mean((drawn < 0.07) != (measured < 0.07))
    assert sizes.misplaced_share(0.07, 0.065, 0.005, 0.001) == pytest.approx(wrong, rel=2e-2)


def test_empty_class_is_told():
    with pytest.raises(RangeError, match="70 mm to 60 mm"):
        sizes.share_between(0.07, 0.06, 0.065, 0.005)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (sizes.share_between, (0.06, 0.06, 0.065, 0.005)),
        (sizes.share_between, (-0.06, 0.07, 0.065, 0.005)),
        (sizes.share_between, (0.06, NAN, 0.065, 0.005)),
        (sizes.share_between, (0.06, 0.07, 0.0, 0.005)),
        (sizes.share_between, (0.06, 0.07, 0.065, -0.005)),
        (sizes.share_between, (0.06, 0.07, 0.065, NAN)),
        (sizes.shares_of_classes, ((0.07, 0.06), 0.065, 0.005)),
        (sizes.shares_of_classes, ((0.06, INF), 0.065, 0.005)),
        (sizes.mass_share_between, (0.06, 0.07, 0.065, 0.02)),
        (sizes.mass_share_between, (0.07, 0.06, 0.065, 0.005)),
        (sizes.mass_per_metre_kg_m, (-1.0, 0.2, 0.5)),
        (sizes.mass_per_metre_kg_m, (1.0, 0.0, 0.5)),
        (sizes.mass_per_metre_kg_m, (1.0, 0.2, 0.0)),
        (sizes.misplaced_share, (-0.1, 0.065, 0.005, 0.001)),
        (sizes.misplaced_share, (0.07, 0.0, 0.005, 0.001)),
        (sizes.misplaced_share, (0.07, 0.065, 0.0, 0.001)),
        (sizes.misplaced_share, (0.07, 0.065, 0.005, -0.001)),
        (sizes.misplaced_share, (0.07, 0.065, NAN, 0.001)),
    ],
)
def test_refuses(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
