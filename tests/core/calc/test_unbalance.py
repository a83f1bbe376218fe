"""Unbalance: limits, independence of order, and refusals."""

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import unbalance as ub
from core.errors import RangeError

NAN = math.nan
VOLTS = st.floats(210.0, 250.0)


@given(VOLTS, VOLTS, VOLTS, st.floats(0.1, 10.0))
def test_order_and_scale_change_nothing(a, b, c, scale):
    first = ub.unbalance(a, b, c)
    assert ub.unbalance(c * scale, a * scale, b * scale) == pytest.approx(first, abs=1e-12)


def test_equal_values_have_none():
    assert ub.unbalance(230.0, 230.0, 230.0) == 0.0
    assert ub.negative_sequence(230.0, 230.0, 230.0) == pytest.approx(0.0, abs=1e-7)


def test_lost_phase():
    # 400, 0, 400: mean 266.67, largest deviation the mean itself.
    assert ub.unbalance(400.0, 0.0, 400.0) == pytest.approx(1.0)


@given(VOLTS, VOLTS, VOLTS)
def test_negative_sequence_by_phasors(a, b, c):
    # Independent: set up the triangle of line voltages and transform it with the operator a.
    cosine = (a * a + b * b - c * c) / (2 * a * b)
    second = -b * cmath.exp(-1j * math.acos(cosine))
    phasors = (a, second, -a - second)
    turn = cmath.exp(1j * math.tau / 3)
    one = abs(sum(v * turn**k for k, v in enumerate(phasors)))
    two = abs(sum(v * turn ** (2 * k) for k, v in enumerate(phasors)))
    expected = min(one, two) / max(one, two)
    assert ub.negative_sequence(a, b, c) == pytest.approx(expected, abs=1e-6)


def test_derating_falls_from_one_and_ends_at_five_percent():
    factors = [ub.derating(percent / 1000) for percent in range(51)]
    assert factors[0] == 1.0
    assert factors == sorted(factors, reverse=True)
    assert factors[-1] == pytest.approx(0.75)


@pytest.mark.parametrize("share", [-0.001, 0.0501, 2.0, NAN])
def test_no_derating_beyond_five_percent(share):
    with pytest.raises(RangeError, match="unbalance"):
        ub.derating(share)


@pytest.mark.parametrize("values", [(-1, 230, 230), (NAN, 230, 230), (0, 0, 0)])
def test_unbalance_refuses(values):
    with pytest.raises(RangeError):
        ub.unbalance(*values)


@pytest.mark.parametrize("values", [(0, 230, 230), (NAN, 230, 230), (100, 100, 230)])
def test_negative_sequence_refuses(values):
    with pytest.raises(RangeError):
        ub.negative_sequence(*values)
