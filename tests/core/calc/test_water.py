"""Flume and tank: by hand, inverses, a rising fruit stepped through, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import pump, water
from core.errors import RangeError

NAN = math.nan
SIZES = st.floats(0.1, 2.0)


def test_flume_by_hand():
    # 0.02 m³/s through 0.5 m by 0.2 m; √(9.80665 · 0.2) = 1.4005
    assert water.flume_velocity_m_s(0.02, 0.5, 0.2) == pytest.approx(0.2)
    assert water.froude(0.2, 0.2) == pytest.approx(0.2 / 1.4005, rel=1e-4)
    # 0.2 · 0.5 · 0.6 / 0.06² = 16.667
    assert water.fruit_carried_1_s(0.2, 0.5, 0.06, 0.6) == pytest.approx(16.667, abs=5e-4)


@given(st.floats(0.0, 0.5), SIZES, SIZES)
def test_flow_for_a_speed_gives_that_speed(speed, width, depth):
    flow = water.flow_for_velocity_m3_s(speed, width, depth)
    assert water.flume_velocity_m_s(flow, width, depth) == pytest.approx(speed)


@given(st.floats(0.0, 20.0), SIZES, st.floats(0.03, 0.1), st.floats(0.05, 1.0))
def test_speed_for_fruit_carries_that_fruit(flow, width, diameter, cover):
    speed = water.velocity_for_fruit_m_s(flow, width, diameter, cover)
    assert water.fruit_carried_1_s(speed, width, diameter, cover) == pytest.approx(flow)


@given(SIZES, SIZES, st.floats(1e-4, 0.02), st.floats(0.008, 0.03))
def test_water_runs_twice_as_fast_down_four_times_the_slope(width, depth, slope, roughness):
    slow = water.manning_velocity_m_s(width, depth, slope, roughness)
    assert water.manning_velocity_m_s(width, depth, 4 * slope, roughness) == pytest.approx(2 * slow)
    rough = water.manning_velocity_m_s(width, depth, slope, 2 * roughness)
    assert rough == pytest.approx(slow / 2)


def test_bins_by_hand():
    # 5.9 fruit/s of 109 g are 2315 kg/h; bins of 385.6 kg
    assert 3600 * water.bins_carried_1_s(5.9, 0.109, 385.6) == pytest.approx(6.004, abs=5e-4)


def test_narrow_flume_by_hand():
    # R = 0.5 · 0.25 / (0.5 + 0.5) = 0.125, to the 2/3: 0.25; · 0.02 / 0.01
    assert water.manning_velocity_m_s(0.5, 0.25, 0.0004, 0.01) == pytest.approx(0.5)


def test_very_wide_flume_has_its_depth_as_radius():
    # R to y: 0.2^(2/3) · 0.001^(1/2) / 0.01 = 0.341995 · 0.0316228 · 100 = 1.08149
    assert water.manning_velocity_m_s(1e6, 0.2, 0.001, 0.01) == pytest.approx(1.08149, rel=1e-4)


def test_hole_of_a_frictionless_jet_lets_it_through_at_the_speed_of_its_fall():
    # √(2 · 9.80665 · 1.25) = 4.95143 m/s through π · 0.01² m²
    flow = water.orifice_flow_m3_s(0.02, 1.25, 1.0)
    assert flow == pytest.approx(4.95143 * math.pi * 1e-4, rel=1e-5)
    assert water.orifice_flow_m3_s(0.02, 0.0) == 0.0


@pytest.mark.parametrize(("diameter", "density"), [(0.05, 770.0), (0.08, 830.0), (0.06, 950.0)])
def test_rising_fruit_stepped_through(diameter, density):
    """Newton's law with the water that a sphere drags along, in small steps to a steady speed."""
    volume, area = math.pi * diameter**3 / 6, math.pi * diameter**2 / 4
    moved = (density + 0.5 * 1000.0) * volume
    speed, step, travelled = 0.0, 1e-4, 0.0
    for _step in range(50_000):
        lift = (1000.0 - density) * volume * 9.80665
        drag = 0.5 * 1000.0 * water.RISE_DRAG * area * speed**2
        speed += step * (lift - drag) / moved
        travelled += step * speed if speed < 0.9 * water.rise_speed_m_s(diameter, density) else 0.0
    assert speed == pytest.approx(water.rise_speed_m_s(diameter, density), rel=1e-6)
    assert travelled < 4 * diameter


@given(st.floats(0.03, 0.1), st.floats(600.0, 990.0))
def test_larger_and_lighter_fruit_rises_faster(diameter, density):
    speed = water.rise_speed_m_s(diameter, density)
    assert water.rise_speed_m_s(4 * diameter, density) == pytest.approx(2 * speed)
    assert water.rise_speed_m_s(diameter, density - 10.0) > speed
    assert water.rise_speed_m_s(diameter, density, water_kg_m3=1020.0) > speed


@pytest.mark.parametrize("density", [1000.0, 1066.0])
def test_fruit_that_sinks_is_told(density):
    with pytest.raises(RangeError, match="salt"):
        water.rise_speed_m_s(0.06, density)


def test_fruit_surfaces_where_the_water_has_taken_it():
    # 0.6 m at 0.4 m/s: 1.5 s at 0.3 m/s
    assert water.surfacing_length_m(0.6, 0.3, 0.4) == pytest.approx(0.45)
    assert water.surfacing_length_m(0.0, 0.3, 0.4) == 0.0


def test_pump_is_reached_from_here():
    assert set(pump.__all__) <= set(water.__all__)
    assert all(getattr(water, name) is getattr(pump, name) for name in pump.__all__)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (water.flume_velocity_m_s, (-0.01, 0.5, 0.2)),
        (water.flume_velocity_m_s, (0.01, 0.0, 0.2)),
        (water.flume_velocity_m_s, (0.01, 0.5, 0.0)),
        (water.flow_for_velocity_m3_s, (-0.1, 0.5, 0.2)),
        (water.flow_for_velocity_m3_s, (NAN, 0.5, 0.2)),
        (water.froude, (-0.1, 0.2)),
        (water.froude, (0.1, 0.0)),
        (water.manning_velocity_m_s, (0.5, 0.2, 0.0, 0.012)),
        (water.manning_velocity_m_s, (0.5, 0.2, 0.001, 0.0)),
        (water.manning_velocity_m_s, (0.0, 0.2, 0.001, 0.012)),
        (water.manning_velocity_m_s, (0.5, NAN, 0.001, 0.012)),
        (water.orifice_flow_m3_s, (0.0, 1.0)),
        (water.orifice_flow_m3_s, (0.05, -1.0)),
        (water.orifice_flow_m3_s, (0.05, 1.0, 0.0)),
        (water.orifice_flow_m3_s, (0.05, 1.0, 62.0)),
        (water.fruit_carried_1_s, (-0.1, 0.5, 0.06, 0.6)),
        (water.fruit_carried_1_s, (0.1, 0.5, 0.6, 0.6)),
        (water.fruit_carried_1_s, (0.1, 0.5, 0.06, 60.0)),
        (water.fruit_carried_1_s, (0.1, 0.0, 0.06, 0.6)),
        (water.velocity_for_fruit_m_s, (-1.0, 0.5, 0.06, 0.6)),
        (water.velocity_for_fruit_m_s, (1.0, 0.5, 0.06, 0.0)),
        (water.velocity_for_fruit_m_s, (1.0, 0.5, 0.0, 0.6)),
        (water.velocity_for_fruit_m_s, (1.0, -0.5, 0.06, 0.6)),
        (water.bins_carried_1_s, (-1.0, 0.1, 360.0)),
        (water.bins_carried_1_s, (1.0, 0.0, 360.0)),
        (water.bins_carried_1_s, (1.0, 0.1, 0.0)),
        (water.rise_speed_m_s, (0.0, 750.0)),
        (water.rise_speed_m_s, (0.06, 0.0)),
        (water.rise_speed_m_s, (0.06, 750.0, 0.0)),
        (water.rise_speed_m_s, (0.06, 750.0, 0.85, 0.0)),
        (water.rise_speed_m_s, (0.06, NAN)),
        (water.surfacing_length_m, (-0.1, 0.3, 0.4)),
        (water.surfacing_length_m, (0.6, -0.3, 0.4)),
        (water.surfacing_length_m, (0.6, 0.3, 0.0)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
