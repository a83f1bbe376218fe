"""Current and load: ends, inverse, whose value counts, and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import motor_current as current
from core.errors import RangeError

NAN = math.nan


def test_full_load_draws_rated_current():
    assert current.current_at_load_a(3.3, 0.79, 1.0) == pytest.approx(3.3)


def test_current_without_load_by_hand():
    # cos phi 0.6, so sin phi 0.8
    assert current.current_at_load_a(10.0, 0.6, 0.0) == pytest.approx(8.0)
    # half load: sqrt(0.3^2 + 0.8^2) = 0.8544
    assert current.current_at_load_a(10.0, 0.6, 0.5) == pytest.approx(8.544, abs=5e-4)


@given(st.floats(0.2, 50.0), st.floats(0.4, 1.0), st.floats(0.05, 2.9))
def test_load_inverts_current(rated, power_factor, load):
    drawn = current.current_at_load_a(rated, power_factor, load)
    assert current.load_from_current(rated, power_factor, drawn) == pytest.approx(load, rel=1e-6)


def test_current_below_that_of_no_load_is_no_load():
    assert current.load_from_current(10.0, 0.6, 5.0) == 0.0


def test_typical_current_between_ratings_by_hand():
    # 2.2 kW 4.8 A and 3 kW 6.3 A at 400 V: 2.6 kW halfway, 5.55 A; at 230 V times 400/230.
    assert current.typical_current_a(2600.0, 230.0) == pytest.approx(9.652, abs=1e-3)


def test_plate_wins_over_typical():
    assert current.rated_current_a(2.9, 1500.0, 400.0).basis == "stated"
    assert current.rated_current_a(None, 1500.0, 400.0).is_estimate


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (current.current_at_load_a, (0, 0.8, 1.0)),
        (current.current_at_load_a, (5, 80.0, 1.0)),
        (current.current_at_load_a, (5, 0.8, 100.0)),
        (current.current_at_load_a, (5, 0.8, NAN)),
        (current.load_from_current, (5, 0.8, -1)),
        (current.load_from_current, (5, 0.0, 5)),
        (current.load_from_current, (5, 0.8, 30)),
        (current.load_from_current, (NAN, 0.8, 5)),
        (current.typical_current_a, (0.75, 400)),  # kilowatts for watts
        (current.typical_current_a, (11e3, 400)),
        (current.typical_current_a, (750, 120)),
        (current.rated_current_a, (0.0, 750, 400)),
        (current.rated_current_a, (None, None, 400)),
        (current.rated_current_a, (None, 750, None)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
