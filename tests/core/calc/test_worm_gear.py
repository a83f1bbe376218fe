"""Worm gears: limits, the balance on an inclined plane, locking, refusals."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.calc import worm_gear as worm
from core.errors import RangeError

LEADS = st.floats(0.02, 0.9)
FRICTION = st.floats(0.0, 0.15)


@given(LEADS)
def test_without_friction_nothing_is_lost(lead):
    assert worm.worm_efficiency(lead, 0.0) == pytest.approx(1.0)
    assert worm.worm_back_efficiency(lead, 0.0) == pytest.approx(1.0)


@given(LEADS, FRICTION)
def test_square_thread_is_an_inclined_plane(lead, friction):
    # Pressure angle 0: tan λ / tan(λ + ρ), and tan(λ - ρ) / tan λ driven back; tan ρ = μ
    rub = math.atan(friction)
    assert worm.worm_efficiency(lead, friction, 0.0) == pytest.approx(
        math.tan(lead) / math.tan(lead + rub)
    )
    assert worm.worm_back_efficiency(lead, friction, 0.0) == pytest.approx(
        max(0.0, math.tan(lead - rub) / math.tan(lead)), abs=1e-12
    )


@given(LEADS, st.floats(0.005, 0.15))
def test_locks_below_its_lead_angle_and_only_there(lead, friction):
    locking = worm.worm_locking_lead_rad(friction)
    assume(abs(lead - locking) > 1e-6)
    assert (worm.worm_back_efficiency(lead, friction) == 0.0) == (lead < locking)


def test_locking_worm_has_about_half_or_less():
    for friction in (0.03, 0.05, 0.08):
        assert worm.worm_efficiency(worm.worm_locking_lead_rad(friction), friction) < 0.501


def test_too_steep_for_its_friction():
    with pytest.raises(RangeError, match="would not turn"):
        worm.worm_efficiency(math.radians(85.0), 0.15)


@pytest.mark.parametrize("function", [worm.worm_efficiency, worm.worm_back_efficiency])
@pytest.mark.parametrize(
    "arguments", [(0.0, 0.05), (1.6, 0.05), (0.1, -0.05), (0.1, 0.05, 1.6), (math.nan, 0.05)]
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)


@pytest.mark.parametrize("arguments", [(-0.05,), (math.nan,), (0.05, 1.6), (0.05, -0.1)])
def test_locking_refusals(arguments):
    with pytest.raises(RangeError):
        worm.worm_locking_lead_rad(*arguments)
