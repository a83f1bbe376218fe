"""Motors away from their rated point: limits, identities and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import motor_limits as limits
from core.errors import RangeError

NAN = math.nan
HERTZ = st.floats(1.0, 200.0)
BASE = st.sampled_from([50.0, 60.0, 86.96])


def test_base_is_rated_at_equal_voltages():
    assert limits.base_frequency_hz(230.0, 230.0, 60.0) == 60.0


@given(HERTZ, st.sampled_from([208.0, 230.0, 400.0]), st.sampled_from([200.0, 230.0, 460.0]))
def test_voltage_line_bends_exactly_at_base(hertz, output, rated):
    base = limits.base_frequency_hz(output, rated, 60.0)
    voltage = limits.motor_voltage_v(hertz, output, rated, 60.0)
    assert voltage == pytest.approx(output * min(1.0, hertz / base))


def test_no_voltage_at_standstill():
    assert limits.motor_voltage_v(0.0, 230.0, 230.0, 60.0) == 0.0


@given(HERTZ, BASE)
def test_weak_flux_agrees_with_the_torque_shares(hertz, base):
    # On the V/f line the flux is what weakens the motor: torque with it, breakdown with its square.
    voltage = limits.motor_voltage_v(hertz, 400.0, 400.0, base)
    motor = limits.on_other_supply(voltage, hertz, 400.0, base)
    assert motor.torque == pytest.approx(limits.torque_share(hertz, base))
    assert motor.breakdown_torque == pytest.approx(limits.breakdown_torque_share(hertz, base))
    assert not motor.saturates


@given(st.floats(50.0, 200.0))
def test_power_is_constant_above_base(hertz):
    assert limits.on_other_supply(400.0, hertz, 400.0, 50.0).power == pytest.approx(1.0)


def test_rated_point_changes_nothing():
    motor = limits.on_other_supply(400.0, 50.0, 400.0, 50.0)
    assert motor == limits.OtherSupply(1.0, 1.0, 1.0, 1.0, 1.0)


def test_sixty_hertz_motor_at_fifty_by_hand():
    # 460 V 60 Hz motor on 380 V 50 Hz: (380/50)/(460/60) = 0.99130; torque so, speed 5/6.
    motor = limits.on_other_supply(380.0, 50.0, 460.0, 60.0)
    assert motor.flux == pytest.approx(0.99130, abs=1e-5)
    assert motor.power == pytest.approx(0.99130 * 5 / 6, abs=1e-5)
    assert not motor.saturates


def test_too_much_flux_gives_no_torque_beyond_rated_but_saturates():
    motor = limits.on_other_supply(460.0, 50.0, 460.0, 60.0)
    assert motor.flux == pytest.approx(1.2)
    assert motor.torque == 1.0
    assert motor.saturates
    assert not limits.on_other_supply(440.0, 50.0, 400.0, 50.0).saturates  # 110 % is allowed


def test_load_kinds():
    assert limits.load_torque_share(0.0, 60.0, 0.8, "quadratic") == 0.0
    assert limits.load_torque_share(0.0, 60.0, 0.8, "constant_torque") == 0.8
    assert limits.load_torque_share(60.0, 60.0, 0.8, "quadratic") == 0.8
    assert limits.load_torque_share(75.0, 60.0, 0.8, "quadratic") == pytest.approx(1.25)


def test_kinds_are_those_of_the_line_file():
    from core.model.choices import LOAD_KINDS

    assert set(limits.LOAD_POWERS) == set(LOAD_KINDS)


@given(st.floats(0.1, 1.0), st.floats(1.6, 4.0), BASE)
def test_highest_frequency_leaves_torque_and_reserve(load, breakdown, base):
    highest = limits.frequency_max_for_load_hz(base, load, breakdown)
    by_current = limits.torque_margin(limits.torque_share(highest, base), load)
    by_breakdown = limits.torque_margin(
        breakdown * limits.breakdown_torque_share(highest, base), 1.3 * load
    )
    assert highest >= base * (1 - 1e-12)
    assert min(by_current, by_breakdown) == pytest.approx(0.0, abs=1e-9)


def test_full_load_ends_at_base():
    assert limits.frequency_max_for_load_hz(50.0, 1.0) == 50.0


def test_margin_signs():
    assert limits.torque_margin(0.5, 1.0) == -0.5
    assert limits.torque_margin(1.0, 1.0) == 0.0


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (limits.base_frequency_hz, (0, 230, 60)),
        (limits.base_frequency_hz, (400, NAN, 60)),
        (limits.base_frequency_hz, (400, 230, -60)),
        (limits.base_frequency_hz, (6000, 230, 60)),  # beyond 1000 Hz
        (limits.motor_voltage_v, (-1, 230, 230, 60)),
        (limits.motor_voltage_v, (30, NAN, 230, 60)),
        (limits.flux_share, (230, 0, 230, 60)),
        (limits.flux_share, (230, 1001, 230, 60)),
        (limits.flux_share, (-1, 50, 230, 60)),
        (limits.on_other_supply, (0, 50, 230, 60)),
        (limits.torque_share, (NAN, 60)),
        (limits.torque_share, (50, 0)),
        (limits.breakdown_torque_share, (-1, 60)),
        (limits.load_torque_share, (30, 60, 80.0, "quadratic")),  # percent for a share
        (limits.load_torque_share, (30, 60, 0.8, "cubic")),
        (limits.load_torque_share, (30, 0, 0.8, "quadratic")),
        (limits.torque_margin, (1.0, 0.0)),
        (limits.torque_margin, (NAN, 1.0)),
        (limits.frequency_max_for_load_hz, (60, 1.1)),
        (limits.frequency_max_for_load_hz, (60, 0.8, 1.5)),
        (limits.frequency_max_for_load_hz, (60, 0.8, 2.5, 0.9)),
        (limits.frequency_max_for_load_hz, (60, 0.01, 4.0)),  # 1051 Hz by breakdown
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
