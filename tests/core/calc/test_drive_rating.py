"""Drive ratings: derating limits, whose value counts, fits on both sides of each edge, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import drive_rating as rating
from core.calc.sourced import Sourced
from core.errors import RangeError
from core.model.choices import INPUT_PHASES

NAN = math.nan


@pytest.mark.parametrize(
    ("altitude", "factor"),
    # 1 % for each 100 m above 1000 m, by hand
    [(-100, 1.0), (0, 1.0), (1000, 1.0), (1500, 0.95), (4000, 0.70)],
)
def test_altitude(altitude, factor):
    assert rating.altitude_derating(altitude).value == pytest.approx(factor)


@pytest.mark.parametrize(
    ("ambient", "factor"),
    # 2 % for each kelvin above the rated 40 °C, by hand
    [(20, 1.0), (40, 1.0), (45, 0.9), (50, 0.8)],
)
def test_ambient(ambient, factor):
    result = rating.ambient_derating(ambient + 273.15, 313.15)
    assert result.value == pytest.approx(factor)


def test_rules_of_thumb_are_marked_and_the_maker_wins():
    assert rating.altitude_derating(2000.0).is_estimate
    assert "rule of thumb" in rating.altitude_derating(2000.0).reason
    assert not rating.altitude_derating(500.0).is_estimate
    assert rating.altitude_derating(2000.0, 0.94).value == 0.94
    assert rating.ambient_derating(333.15, 313.15, 0.6).basis == "stated"
    assert rating.feed_derating("3", 1, 0.65).value == 0.65


def test_only_the_maker_speaks_far_above_the_rated_ambient():
    with pytest.raises(RangeError, match="rated ambient"):
        rating.ambient_derating(325.0, 313.15)


@pytest.mark.parametrize(
    ("phases", "supply", "factor"),
    [
        ("1", 1, 1.0),
        ("1", 3, 1.0),
        ("3", 3, 1.0),
        ("1_or_3", 1, 1.0),
        ("1_or_3", 3, 1.0),
        ("3", 1, 0.5),
    ],
)
def test_feed(phases, supply, factor):
    assert rating.feed_derating(phases, supply).value == factor
    assert phases in INPUT_PHASES


@given(st.floats(1.0, 50.0), st.lists(st.floats(0.1, 1.0), max_size=4))
def test_available_current_is_never_more_than_rated(rated, factors):
    deratings = tuple(Sourced(factor, "stated", "") for factor in factors)
    available = rating.available_current_a(rated, deratings)
    assert available.value == pytest.approx(rated * math.prod(factors))
    assert available.value <= rated
    assert available.basis == "stated"


def test_one_rule_of_thumb_makes_the_current_an_estimate():
    factors = (rating.altitude_derating(500.0), rating.feed_derating("3", 1))
    result = rating.available_current_a(10.0, factors)
    assert (result.value, result.basis) == (5.0, "estimate")


@pytest.mark.parametrize(
    ("supply", "fits", "needed"),
    [(199, False, 200), (200, True, 200), (240, True, 240), (241, False, 240)],
)
def test_input_voltage(supply, fits, needed):
    result = rating.input_voltage_fit(supply, 200.0, 240.0)
    assert (result.fits, result.needed) == (fits, needed)


def test_output_voltage_is_bound_by_supply_and_by_the_drive():
    assert rating.output_voltage_v(208.0, 230.0) == 208.0
    assert rating.output_voltage_v(240.0, 230.0) == 230.0
    assert rating.output_voltage_v(120.0) == 120.0
    assert rating.output_voltage_v(120.0, doubles=True) == 240.0


@pytest.mark.parametrize(
    ("output", "motor", "fits"),
    [
        (207, 230, True),  # 90 %
        (206, 230, False),
        (253, 230, True),  # 110 %
        (254, 230, False),
        (230, 400, False),  # star where delta is needed
        (400, 230, False),  # the way to 87 Hz, which must be meant
        (120, 230, False),  # a 120 V class that does not double
    ],
)
def test_output_voltage_fit(output, motor, fits):
    assert rating.output_voltage_fit(output, motor).fits is fits


def test_currents_of_several_motors_add():
    assert rating.current_fit((1.5, 2.5), 4.0).fits
    result = rating.current_fit((1.5, 2.6), 4.0)
    assert not result.fits
    assert result.needed == pytest.approx(4.1)
    assert "together" in result.reason


def test_overload_torque_by_hand():
    # cos phi 0.8: sqrt(1.5^2 - 0.36) / 0.8 = sqrt(1.89) / 0.8 = 1.7185
    share = rating.overload_torque_share(5.0, 1.5, 5.0, 0.8)
    assert share == pytest.approx(1.7185, abs=1e-4)


def test_overload_torque_ends():
    assert rating.overload_torque_share(5.0, 1.0, 5.0, 0.8) == pytest.approx(1.0)
    assert rating.overload_torque_share(0.5, 1.5, 5.0, 0.8) == 0.0  # not even magnetised
    held = rating.overload_torque_share(500.0, 1.5, 5.0, 0.8)
    assert 2.5 < held <= 3.0


@given(st.floats(0.3, 1.0), st.floats(1.0, 5.0))
def test_more_overload_never_means_less_torque(power_factor, overload):
    less = rating.overload_torque_share(5.0, 1.0, 5.0, power_factor)
    assert rating.overload_torque_share(5.0, overload, 5.0, power_factor) >= less - 1e-12


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (rating.altitude_derating, (5000,)),
        (rating.altitude_derating, (NAN,)),
        (rating.altitude_derating, (2000, 94.0)),  # percent
        (rating.altitude_derating, (2000, 0.0)),
        (rating.ambient_derating, (0.0, 313.15)),
        (rating.ambient_derating, (NAN, 313.15)),
        (rating.ambient_derating, (318.15, NAN)),
        (rating.feed_derating, ("2", 1)),
        (rating.feed_derating, ("3", 2)),
        (rating.available_current_a, (0.0, ())),
        (rating.available_current_a, (5.0, (Sourced(1.2, "stated", ""),))),
        (rating.input_voltage_fit, (230, 240, 200)),
        (rating.input_voltage_fit, (NAN, 200, 240)),
        (rating.output_voltage_v, (0,)),
        (rating.output_voltage_v, (230, 0.0)),
        (rating.output_voltage_fit, (0, 230)),
        (rating.output_voltage_fit, (230, NAN)),
        (rating.current_fit, ((), 5.0)),
        (rating.current_fit, ((0.0,), 5.0)),
        (rating.current_fit, ((2.0,), NAN)),
        (rating.overload_torque_share, (5, 150.0, 5, 0.8)),  # percent
        (rating.overload_torque_share, (0, 1.5, 5, 0.8)),
        (rating.overload_torque_share, (5, 1.5, 5, NAN)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
