"""Settling and falling at a transfer: by hand and by the laws of rolling and falling."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import transfer
from core.errors import RangeError

NAN, INF = math.nan, math.inf


SPEEDS = st.floats(0.01, 3.0)


def test_settled_share_at_its_ends():
    assert transfer.settled_share(0.0) == pytest.approx(2 / 7)
    # Gripped at its sides fruit cannot roll about the cross axis.
    assert transfer.settled_share(math.pi / 2) == pytest.approx(1.0)


@given(flat=st.floats(0.0, 1.5), more=st.floats(0.01, 0.07))
def test_steeper_v_takes_more_along_at_once(flat, more):
    assert transfer.settled_share(flat + more) > transfer.settled_share(flat)


def test_settling_time_by_hand():
    # 0.25 / (0.05 · 9.80665) = 0.5099 s
    assert transfer.settling_time_s(0.25, 0.05) == pytest.approx(0.5099, abs=5e-5)
    assert transfer.settling_time_s(-0.25, 0.05) == pytest.approx(0.5099, abs=5e-5)
    assert transfer.settling_time_s(0.0, 0.05) == 0.0


def test_settling_length_by_hand():
    # from rest to 0.35 m/s: 0.1 m/s after sliding, mean 0.225 m/s, 0.35 / (0.1·g) = 0.35690 s
    assert transfer.settling_length_m(0.0, 0.35, 0.1) == pytest.approx(0.080303, abs=5e-6)
    assert transfer.settling_length_m(0.3, 0.3, 0.1) == 0.0


@given(before=SPEEDS, after=SPEEDS, resistance=st.floats(0.01, 1.0))
def test_settling_length_lies_between_both_speeds(before, after, resistance):
    length = transfer.settling_length_m(before, after, resistance)
    time_s = transfer.settling_time_s(after - before, resistance)
    low, high = sorted((before, after))
    assert low * time_s <= length * (1 + 1e-12)
    assert length <= high * time_s * (1 + 1e-12)


def test_fall_by_hand():
    # 0.1 m: root of 1.96133 = 1.40047 m/s; 0.15 kg: 0.1471 J
    assert transfer.impact_speed_m_s(0.1) == pytest.approx(1.40047, abs=5e-6)
    assert transfer.impact_energy_j(0.15, 0.1) == pytest.approx(0.1471, abs=5e-5)
    assert transfer.impact_speed_m_s(0.0) == 0.0
    assert transfer.impact_energy_j(0.15, 0.0) == 0.0


@given(mass=st.floats(0.01, 3.0), height=st.floats(0.0, 2.0))
def test_energy_of_a_fall_is_that_of_its_speed(mass, height):
    speed = transfer.impact_speed_m_s(height)
    assert transfer.impact_energy_j(mass, height) == pytest.approx(mass * speed**2 / 2)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (transfer.settled_share, (-0.1,)),
        (transfer.settled_share, (45.0,)),
        (transfer.settling_time_s, (NAN, 0.05)),
        (transfer.settling_time_s, (0.2, 0.0)),
        (transfer.settling_time_s, (0.2, 5.0)),
        (transfer.settling_length_m, (-0.1, 0.3, 0.05)),
        (transfer.settling_length_m, (0.2, -0.3, 0.05)),
        (transfer.settling_length_m, (0.2, 0.3, 0.0)),
        (transfer.impact_speed_m_s, (-0.1,)),
        (transfer.impact_speed_m_s, (NAN,)),
        (transfer.impact_energy_j, (0.0, 0.1)),
        (transfer.impact_energy_j, (0.15, -0.1)),
    ],
)
def test_refuses(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
