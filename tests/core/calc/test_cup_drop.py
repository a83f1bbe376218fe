"""Where a cup is and when it lets go: by hand, by counting, by free fall."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import cup_drop
from core.errors import RangeError

NAN, INF = math.nan, math.inf
SPEEDS = st.floats(0.01, 3.0)
PITCHES = st.floats(0.03, 0.5)


TEETH = st.integers(3, 60)
PULSES = st.integers(1, 10_000)


def test_pulses_by_hand():
    # a cup at every third link, 12 teeth: a quarter of a turn, 256 of 1024 pulses
    assert cup_drop.pulses_per_cup(1024, 3 * 0.0254, 12, 0.0254) == pytest.approx(256.0)
    # 12 links of 25.4 mm over 4096 edges: 0.074414 mm
    assert cup_drop.position_step_m(1024, 12, 0.0254) == pytest.approx(7.44141e-5, rel=1e-5)


@given(pulses=PULSES, teeth=TEETH, chain=st.floats(0.005, 0.1), links=st.integers(1, 10))
def test_worn_chain_keeps_its_pulses_for_each_cup(pulses, teeth, chain, links):
    new = cup_drop.pulses_per_cup(pulses, links * chain, teeth, chain)
    worn = cup_drop.pulses_per_cup(pulses, links * chain * 1.02, teeth, chain * 1.02)
    assert new == pytest.approx(pulses * links / teeth)
    assert worn == pytest.approx(new)


@given(pulses=PULSES, teeth=TEETH, chain=st.floats(0.005, 0.1), pitch=PITCHES)
def test_steps_of_all_edges_fill_a_cup_pitch(pulses, teeth, chain, pitch):
    step = cup_drop.position_step_m(pulses, teeth, chain)
    assert 4 * cup_drop.pulses_per_cup(pulses, pitch, teeth, chain) * step == pytest.approx(pitch)


def test_drift_of_the_count_by_hand():
    # 213.33 counted as 213: a third of a pulse in 213.33 of each 95.25 mm, 0.14883 mm a cup
    assert cup_drop.count_drift_m(640 / 3, 0.09525, 1) == pytest.approx(0.148828e-3, rel=1e-4)
    assert cup_drop.count_drift_m(640 / 3, 0.09525, 640) == pytest.approx(0.09525)
    assert cup_drop.count_drift_m(256.0, 0.09525, 10_000) == 0.0


@given(pulses=st.floats(1.0, 5000.0), pitch=PITCHES, count=st.integers(0, 1000))
def test_drift_against_counting_pulse_by_pulse(pulses, pitch, count):
    counted = round(pulses) * count
    assert cup_drop.count_drift_m(pulses, pitch, count) == pytest.approx(
        abs(counted - pulses * count) * pitch / pulses, abs=1e-9
    )


def test_lead_by_hand():
    # 0.4 m/s for 50 ms: 20 mm, a fifth of a pitch of 100 mm
    assert cup_drop.lead_m(0.4, 0.05) == pytest.approx(0.02)
    assert cup_drop.lead_cups(0.02, 0.1) == pytest.approx(0.2)
    assert cup_drop.lead_m(0.4, 0.0) == 0.0


def test_throw_by_hand():
    # 0.1 m take 0.14281 s; at 0.4 m/s 57.12 mm
    assert cup_drop.throw_m(0.4, 0.1) == pytest.approx(0.057123, abs=5e-6)
    assert cup_drop.throw_m(0.4, 0.0) == 0.0


@given(speed=SPEEDS, height=st.floats(0.001, 1.0))
def test_throw_is_level_flight_for_the_time_of_the_fall(speed, height):
    time_s = cup_drop.throw_m(speed, height) / speed
    assert 9.80665 * time_s**2 / 2 == pytest.approx(height)


def test_scatter_by_hand():
    assert cup_drop.timing_scatter_m(0.5, 0.004) == pytest.approx(0.002)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (cup_drop.pulses_per_cup, (0, 0.09, 12, 0.03)),
        (cup_drop.pulses_per_cup, (1024, 0.0, 12, 0.03)),
        (cup_drop.pulses_per_cup, (1024, 0.09, 2, 0.03)),
        (cup_drop.pulses_per_cup, (1024, 0.09, 12, 0.0)),
        (cup_drop.position_step_m, (1024.5, 12, 0.03)),
        (cup_drop.position_step_m, (1024, 12.5, 0.03)),
        (cup_drop.position_step_m, (1024, 12, NAN)),
        (cup_drop.count_drift_m, (0.4, 0.09, 1)),
        (cup_drop.count_drift_m, (INF, 0.09, 1)),
        (cup_drop.count_drift_m, (200.0, 0.0, 1)),
        (cup_drop.count_drift_m, (200.0, 0.09, -1)),
        (cup_drop.lead_m, (-0.1, 0.05)),
        (cup_drop.lead_m, (0.5, -0.05)),
        (cup_drop.lead_cups, (-0.1, 0.09)),
        (cup_drop.lead_cups, (0.1, 0.0)),
        (cup_drop.throw_m, (-0.5, 0.1)),
        (cup_drop.throw_m, (0.5, -0.1)),
        (cup_drop.timing_scatter_m, (-0.5, 0.001)),
        (cup_drop.timing_scatter_m, (0.5, NAN)),
    ],
)
def test_refuses(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
