"""Places on a bed: counting by hand, Little's law on a simulated bed, identities, refusals."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import brush_places as bed
from core.errors import RangeError

NAN = math.nan
FLOWS = st.floats(0.1, 50.0)
DRIFTS = st.floats(0.005, 0.5)
PITCHES = st.floats(0.05, 0.3)
FRUIT = st.floats(1.0, 60.0)


def test_valley_and_bed_counted_by_hand():
    # 1.2 m / 0.06 m = 20 side by side; three quarters of them
    assert bed.fruit_per_valley(1.2, 0.06, 0.75) == pytest.approx(15.0)
    assert bed.places(11, 15.0) == 165.0
    # 6 fruit/s, valleys of 15 every 0.12 m: 0.4 valleys a second
    assert bed.needed_drift_m_s(6.0, 0.12, 15.0) == pytest.approx(0.048)
    assert bed.time_by_places_s(165.0, 6.0) == pytest.approx(27.5)
    assert bed.hold_up(6.0, 1.32, 0.06) == pytest.approx(132.0)
    assert bed.places_used_share(0.048, 0.06) == pytest.approx(0.8)


@given(FLOWS, PITCHES, FRUIT)
def test_capacity_and_needed_drift_turn_each_other_round(flow, pitch, fruit):
    drift = bed.needed_drift_m_s(flow, pitch, fruit)
    assert bed.capacity_1_s(drift, pitch, fruit) == pytest.approx(flow)
    assert bed.places_used_share(drift, drift) == 1.0


@given(FLOWS, DRIFTS, PITCHES, FRUIT, st.integers(1, 40))
def test_share_of_places_is_fruit_on_the_bed_by_its_places(flow, drift, pitch, fruit, valleys):
    on_it = bed.hold_up(flow, valleys * pitch, drift)
    share = bed.places_used_share(bed.needed_drift_m_s(flow, pitch, fruit), drift)
    assert on_it / bed.places(valleys, fruit) == pytest.approx(share)


@given(FLOWS, st.floats(0.2, 5.0), DRIFTS)
def test_little_closes_the_circle(flow, length, drift):
    on_it = bed.hold_up(flow, length, drift)
    time = bed.time_by_places_s(on_it, flow)
    assert time == pytest.approx(bed.time_on_bed_s(length, drift))
    assert bed.flow_for_time_1_s(on_it, time) == pytest.approx(flow)


def test_bed_stepped_through_fruit_by_fruit():
    """Fruit fed one by one and carried evenly: the count and the stay the formulas give."""
    flow, length, drift, step = 4.0, 1.5, 0.05, 0.01
    due, on_it, left_after, counts = 0.0, [], [], []
    for tick in range(20_000):
        now = tick * step
        if now >= due:
            on_it.append(now)
            due += 1.0 / flow
        gone = [fed for fed in on_it if (now - fed) * drift >= length]
        left_after.extend(now - fed for fed in gone)
        on_it = on_it[len(gone) :]
        if now > 60.0:
            counts.append(len(on_it))
    mean = sum(counts) / len(counts)
    assert mean == pytest.approx(bed.hold_up(flow, length, drift), rel=0.01)
    stay = sum(left_after) / len(left_after)
    assert stay == pytest.approx(bed.time_by_places_s(mean, flow), rel=0.01)


def test_bed_that_does_not_carry_has_no_time():
    for drift in (0.0, -0.01, NAN):
        with pytest.raises(RangeError, match="only when others push"):
            bed.time_on_bed_s(1.6, drift)


def test_nothing_fed_needs_nothing():
    assert bed.needed_drift_m_s(0.0, 0.12, 15.0) == 0.0
    assert bed.hold_up(0.0, 1.5, 0.05) == 0.0
    assert bed.capacity_1_s(0.0, 0.12, 15.0) == 0.0


def test_spin_is_that_of_a_fruit_rolling_on_the_brush():
    # 0.6 m/s round a girth of π·0.06 m: 3.1831 turns a second
    turns = bed.valley_turning_rad_s(0.6, 0.06) / (2 * math.pi)
    assert turns == pytest.approx(3.1831, abs=5e-5)
    assert bed.valley_turning_rad_s(-0.6, 0.06) == -bed.valley_turning_rad_s(0.6, 0.06)


@given(st.floats(0.03, 0.15), st.floats(0.08, 0.2))
def test_touching_brushes_make_the_shallowest_valley(fruit, brush):
    # sin α = d / (D + d) where brushes touch; it steepens as they part, up to falling through.
    angles = [
        bed.valley_climb_rad(fruit, brush, brush + share * fruit) for share in (0, 0.3, 0.6, 0.9)
    ]
    assert angles[0] == pytest.approx(math.asin(brush / (fruit + brush)))
    assert all(low < high for low, high in pairwise(angles))
    with pytest.raises(RangeError, match="fall through"):
        bed.valley_climb_rad(fruit, brush, fruit + brush)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (bed.fruit_per_valley, (0.0, 0.06, 0.8)),
        (bed.fruit_per_valley, (1.2, 0.0, 0.8)),
        (bed.fruit_per_valley, (0.05, 0.06, 0.8)),
        (bed.fruit_per_valley, (1.2, 0.06, 0.0)),
        (bed.fruit_per_valley, (1.2, 0.06, 80.0)),
        (bed.fruit_per_valley, (1.2, NAN, 0.8)),
        (bed.needed_drift_m_s, (-1.0, 0.12, 15.0)),
        (bed.needed_drift_m_s, (6.0, 0.0, 15.0)),
        (bed.needed_drift_m_s, (6.0, 0.12, 0.0)),
        (bed.capacity_1_s, (-0.05, 0.12, 15.0)),
        (bed.capacity_1_s, (NAN, 0.12, 15.0)),
        (bed.places, (0, 15.0)),
        (bed.places, (11.5, 15.0)),
        (bed.places, (11, 0.0)),
        (bed.hold_up, (-1.0, 1.5, 0.05)),
        (bed.hold_up, (1.0, 0.0, 0.05)),
        (bed.hold_up, (1.0, 1.5, 0.0)),
        (bed.time_on_bed_s, (0.0, 0.05)),
        (bed.time_on_bed_s, (1.6, math.inf)),
        (bed.time_by_places_s, (-1.0, 6.0)),
        (bed.time_by_places_s, (192.0, 0.0)),
        (bed.flow_for_time_1_s, (-1.0, 20.0)),
        (bed.flow_for_time_1_s, (192.0, 0.0)),
        (bed.places_used_share, (0.05, 0.0)),
        (bed.places_used_share, (0.05, -0.05)),
        (bed.places_used_share, (-0.05, 0.05)),
        (bed.places_used_share, (NAN, 0.05)),
        (bed.valley_turning_rad_s, (NAN, 0.06)),
        (bed.valley_turning_rad_s, (0.6, 0.0)),
        (bed.valley_climb_rad, (0.0, 0.127, 0.133)),
        (bed.valley_climb_rad, (0.06, 0.0, 0.133)),
        (bed.valley_climb_rad, (0.06, 0.127, 0.0)),
        (bed.valley_climb_rad, (0.06, 0.127, NAN)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
