"""Affinity laws and power of a pump: by hand, identities, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import pump
from core.errors import RangeError

NAN = math.nan


def test_half_speed_by_hand():
    assert pump.pump_flow_m3_s(0.02, 75.0, 150.0) == pytest.approx(0.01)
    assert pump.pump_head_m(4.0, 75.0, 150.0) == pytest.approx(1.0)
    assert pump.pump_power_w(800.0, 75.0, 150.0) == pytest.approx(100.0)


@given(st.floats(0.001, 0.1), st.floats(0.5, 20.0), st.floats(10.0, 300.0), st.floats(50.0, 200.0))
def test_power_in_the_water_follows_flow_and_head(flow, head, speed, rated):
    before = pump.hydraulic_power_w(flow, head)
    after = pump.hydraulic_power_w(
        pump.pump_flow_m3_s(flow, speed, rated), pump.pump_head_m(head, speed, rated)
    )
    assert after == pytest.approx(pump.pump_power_w(before, speed, rated))


@given(st.floats(0.0, 0.1), st.floats(0.001, 0.1), st.floats(50.0, 200.0))
def test_speed_for_a_flow_gives_that_flow(flow, rated_flow, rated):
    speed = pump.speed_for_flow_rad_s(flow, rated_flow, rated)
    assert pump.pump_flow_m3_s(rated_flow, speed, rated) == pytest.approx(flow)


def test_lifting_a_cubic_metre_a_metre_in_a_second():
    assert pump.hydraulic_power_w(1.0, 1.0) == pytest.approx(9806.65)
    assert pump.shaft_power_w(9806.65, 1.0) == 9806.65
    assert pump.shaft_power_w(300.0, 0.6) == pytest.approx(500.0)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (pump.pump_flow_m3_s, (-0.01, 100.0, 150.0)),
        (pump.pump_flow_m3_s, (0.01, -100.0, 150.0)),
        (pump.pump_flow_m3_s, (0.01, 100.0, 0.0)),
        (pump.pump_head_m, (NAN, 100.0, 150.0)),
        (pump.pump_power_w, (-1.0, 100.0, 150.0)),
        (pump.pump_power_w, (1.0, NAN, 150.0)),
        (pump.speed_for_flow_rad_s, (-0.01, 0.02, 150.0)),
        (pump.speed_for_flow_rad_s, (0.01, 0.0, 150.0)),
        (pump.speed_for_flow_rad_s, (0.01, 0.02, 0.0)),
        (pump.hydraulic_power_w, (-0.01, 3.0)),
        (pump.hydraulic_power_w, (0.01, -3.0)),
        (pump.hydraulic_power_w, (0.01, 3.0, 0.0)),
        (pump.shaft_power_w, (-1.0, 0.6)),
        (pump.shaft_power_w, (1.0, 0.0)),
        (pump.shaft_power_w, (1.0, 60.0)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
