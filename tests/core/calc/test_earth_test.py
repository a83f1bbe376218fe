"""Earth continuity: resistance by length and section, with room for joints."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import earth_test
from core.errors import RangeError

LENGTHS, AREAS = st.floats(0.0, 1e4), st.floats(1e-7, 1e-3)


@given(LENGTHS, AREAS)
def test_a_good_joint_passes_and_twice_the_length_doubles(length, area):
    bare = earth_test.expected_resistance_ohm(length, area)
    assert bare < earth_test.highest_resistance_ohm(length, area)
    assert earth_test.expected_resistance_ohm(2 * length, area) == pytest.approx(2 * bare)


def test_without_length_only_the_joints_are_left():
    assert earth_test.highest_resistance_ohm(0.0, 2.5e-6, 0.02) == pytest.approx(0.02)


@pytest.mark.parametrize(
    "call",
    [
        lambda: earth_test.expected_resistance_ohm(-1.0, 1e-6),
        lambda: earth_test.expected_resistance_ohm(1.0, 0.0),
        lambda: earth_test.highest_resistance_ohm(1.0, 1e-6, -0.1),
        lambda: earth_test.highest_resistance_ohm(float("inf"), 1e-6),
    ],
)
def test_nonsense_is_refused(call):
    with pytest.raises(RangeError):
        call()
