"""Pump against system: points by hand, the crossing by search, inverse, limits, refusals."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.calc import pump, pump_curve
from core.calc.pump_curve import PumpCurve, SystemCurve
from core.errors import RangeError

NAN = math.nan
CURVES = st.builds(
    PumpCurve, st.floats(2.0, 20.0), st.floats(-100.0, 100.0), st.floats(-2e4, -500.0)
)
SYSTEMS = st.builds(SystemCurve, st.floats(0.0, 10.0), st.floats(0.0, 2e4))


def test_crossing_by_hand():
    # 6 - 5000 Q² = 1 + 7500 Q²: Q² = 5 / 12500
    point = pump_curve.operating_point(
        PumpCurve(6.0, 0.0, -5000.0), SystemCurve(1.0, 7500.0), 150.0, 150.0
    )
    assert (point.flow_m3_s, point.head_m) == (pytest.approx(0.02), pytest.approx(4.0))


def test_parabola_through_three_points():
    # 6 + 50 Q - 10000 Q²
    points = ((0.01, 5.5), (0.02, 3.0), (0.024, 1.44))
    curve = pump_curve.pump_curve(points)
    assert curve.shutoff_m == pytest.approx(6.0)
    assert curve.linear_s_m2 == pytest.approx(50.0)
    assert curve.square_s2_m5 == pytest.approx(-10000.0)
    assert [curve.head_m(flow) for flow, _head in points] == pytest.approx([5.5, 3.0, 1.44])


def test_two_points_need_not_hold_the_shut_off_head():
    curve = pump_curve.pump_curve(((0.01, 5.5), (0.02, 4.0)))
    assert (curve.shutoff_m, curve.linear_s_m2) == (pytest.approx(6.0), 0.0)
    assert curve.square_s2_m5 == pytest.approx(-5000.0)


def test_system_through_its_point():
    system = pump_curve.system_curve(1.0, 0.02, 4.0)
    assert system.friction_s2_m5 == pytest.approx(7500.0)
    assert system.head_m(0.02) == pytest.approx(4.0)
    assert pump_curve.system_curve(4.0, 0.02, 4.0).friction_s2_m5 == 0.0


@given(CURVES, SYSTEMS, st.floats(0.1, 1.5))
def test_crossing_lies_on_both_curves(curve, system, share):
    assume(share**2 * curve.shutoff_m > system.static_m + 1e-6)
    point = pump_curve.operating_point(curve, system, 150.0 * share, 150.0)
    assert point.flow_m3_s > 0.0
    assert curve.head_m(point.flow_m3_s, share) == pytest.approx(point.head_m, abs=1e-6)


@given(CURVES, SYSTEMS, st.floats(0.1, 1.5))
def test_speed_comes_back_from_the_flow(curve, system, share):
    assume(share**2 * curve.shutoff_m > system.static_m + 1e-3)
    point = pump_curve.operating_point(curve, system, 150.0 * share, 150.0)
    # A humped curve reaches a small flow at two speeds: the inverse gives the higher one.
    assume(2 * share * curve.shutoff_m + curve.linear_s_m2 * point.flow_m3_s > 1e-3)
    speed = pump_curve.speed_for_point_rad_s(curve, system, point.flow_m3_s, 150.0)
    assert speed == pytest.approx(150.0 * share, rel=1e-6)


@given(CURVES, st.floats(0.0, 2e4), st.floats(0.1, 1.5))
def test_without_lift_the_affinity_laws_hold(curve, friction, share):
    system = SystemCurve(0.0, friction)
    full = pump_curve.operating_point(curve, system, 150.0, 150.0)
    slow = pump_curve.operating_point(curve, system, 150.0 * share, 150.0)
    flow = pump.pump_flow_m3_s(full.flow_m3_s, 150.0 * share, 150.0)
    assert slow.flow_m3_s == pytest.approx(flow)
    assert slow.head_m == pytest.approx(pump.pump_head_m(full.head_m, share, 1.0))


@given(st.floats(0.5, 5.0), st.floats(0.0, 2e4), st.floats(0.5, 0.99))
def test_with_lift_flow_falls_faster_than_speed(static, friction, share):
    curve, system = PumpCurve(6.0, 0.0, -5000.0), SystemCurve(static, friction)
    full = pump_curve.operating_point(curve, system, 150.0, 150.0).flow_m3_s
    slow = pump_curve.operating_point(curve, system, 150.0 * share, 150.0).flow_m3_s
    assert slow < share * full


def test_below_the_speed_that_lifts_nothing_flows():
    curve, system = PumpCurve(6.0, 0.0, -5000.0), SystemCurve(1.5, 7500.0)
    lifting = pump_curve.speed_to_lift_rad_s(curve, 1.5, 150.0)
    assert lifting == pytest.approx(75.0)
    point = pump_curve.operating_point(curve, system, 0.99 * lifting, 150.0)
    assert point.flow_m3_s == 0.0
    assert point.head_m == pytest.approx(1.5 * 0.99**2)
    assert pump_curve.operating_point(curve, system, 1.01 * lifting, 150.0).flow_m3_s > 0.0
    assert pump_curve.speed_for_point_rad_s(curve, system, 0.0, 150.0) == pytest.approx(lifting)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (pump_curve.pump_curve, (((0.0, 6.0),),)),
        (pump_curve.pump_curve, (((0.0, 6.0), (0.01, 5.0), (0.02, 4.0), (0.03, 2.0)),)),
        (pump_curve.pump_curve, (((0.02, 4.0), (0.0, 6.0)),)),
        (pump_curve.pump_curve, (((0.0, 4.0), (0.02, 6.0)),)),
        (pump_curve.pump_curve, (((0.0, 6.0), (0.01, 5.0), (0.02, 4.0)),)),
        (pump_curve.pump_curve, (((0.0, 6.0), (-0.02, 4.0)),)),
        (pump_curve.pump_curve, (((0.0, 6.0), (0.02, NAN)),)),
        (pump_curve.system_curve, (-1.0, 0.02, 4.0)),
        (pump_curve.system_curve, (1.0, 0.0, 4.0)),
        (pump_curve.system_curve, (5.0, 0.02, 4.0)),
        (pump_curve.system_curve, (1.0, 0.02, NAN)),
        (
            pump_curve.operating_point,
            (PumpCurve(6.0, 0.0, -5000.0), SystemCurve(1.0, 7500.0), -1.0, 150.0),
        ),
        (
            pump_curve.operating_point,
            (PumpCurve(6.0, 0.0, -5000.0), SystemCurve(1.0, 7500.0), 150.0, 0.0),
        ),
        (
            pump_curve.speed_for_point_rad_s,
            (PumpCurve(6.0, 0.0, -5000.0), SystemCurve(1.0, 7500.0), -0.01, 150.0),
        ),
        (
            pump_curve.speed_for_point_rad_s,
            (PumpCurve(6.0, 0.0, -5000.0), SystemCurve(1.0, 7500.0), 0.01, 0.0),
        ),
        (pump_curve.speed_to_lift_rad_s, (PumpCurve(6.0, 0.0, -5000.0), -1.0, 150.0)),
        (pump_curve.speed_to_lift_rad_s, (PumpCurve(6.0, 0.0, -5000.0), 1.0, NAN)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
