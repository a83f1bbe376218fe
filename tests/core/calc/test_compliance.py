"""Compliance: agreement with what the signals themselves say, inverses, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import compliance, potentiometer, signals
from core.errors import RangeError

NAN = math.nan


@given(st.floats(12.0, 30.0), st.floats(0.0, 11.0))
def test_margin_is_nothing_at_the_highest_resistance(supply, transmitter):
    highest = signals.loop_resistance_max_ohm(supply, transmitter)
    assert compliance.loop_margin_v(supply, transmitter, highest) == pytest.approx(0.0, abs=1e-9)
    top = compliance.loop_current_top_a(supply, transmitter, highest)
    assert top == pytest.approx(signals.LOOP_CURRENT_MAX_A)


def test_too_much_in_the_loop_by_hand():
    # 24 V, transmitter 12 V, 700 ohm: 12 - 700 * 0.0205 = -2.35 V; it ends at 12/700 = 17.14 mA
    assert compliance.loop_margin_v(24.0, 12.0, 700.0) == pytest.approx(-2.35)
    assert compliance.loop_current_top_a(24.0, 12.0, 700.0) == pytest.approx(0.017143, abs=1e-6)


def test_transmitter_that_never_wakes():
    assert compliance.loop_current_top_a(10.0, 12.0, 250.0) == 0.0


def test_loop_adds_up():
    assert compliance.loop_resistance_ohm((250.0,)) == 250.0
    assert compliance.loop_resistance_ohm((250.0, 100.0), 12.5) == 362.5


@given(st.floats(5.0, 24.0), st.floats(2e-3, 0.05), st.floats(20e3, 1e6))
def test_smallest_pot_takes_exactly_what_the_supply_gives(supply, current, load):
    lowest = compliance.pot_ohm_min(supply, current, load)
    drawn = potentiometer.supply_current_a(1.0, supply, lowest, load)
    assert drawn == pytest.approx(current)


@given(st.floats(1e3, 1e6), st.floats(1e-3, 0.29))
def test_largest_pot_bends_exactly_as_much_as_allowed(load, fall):
    highest = compliance.pot_ohm_max(load, fall)
    assert potentiometer.worst_bend(highest, load).fall == pytest.approx(fall, rel=1e-6)


def test_small_bends_go_with_the_resistance():
    # fall 4/27 of Rp/RL (published for light loads): 0.1 % allows 27/4 thousandths of the load
    assert compliance.pot_ohm_max(100e3, 0.001) == pytest.approx(675.0, rel=0.01)


def test_dissipation_is_voltage_times_current():
    current = potentiometer.end_to_end_current_a(10.0, 2.2e3)
    assert compliance.pot_dissipation_w(10.0, 2.2e3) == pytest.approx(10.0 * current)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (compliance.loop_resistance_ohm, ((),)),
        (compliance.loop_resistance_ohm, ((0.0,),)),
        (compliance.loop_resistance_ohm, ((250.0,), -1)),
        (compliance.loop_margin_v, (0, 12, 250)),
        (compliance.loop_margin_v, (24, -1, 250)),
        (compliance.loop_margin_v, (24, 12, NAN)),
        (compliance.loop_margin_v, (24, 12, 250, 20.5)),  # milliamperes for amperes
        (compliance.loop_current_top_a, (24, 12, 0)),
        (compliance.loop_current_top_a, (NAN, 12, 250)),
        (compliance.pot_ohm_min, (10, 0)),
        (compliance.pot_ohm_min, (10, 0.01, 1000)),  # the input takes it all
        (compliance.pot_ohm_min, (NAN, 0.01)),
        (compliance.pot_ohm_max, (0, 0.01)),
        (compliance.pot_ohm_max, (100e3, 1.0)),  # percent for a share
        (compliance.pot_ohm_max, (100e3, NAN)),
        (compliance.pot_dissipation_w, (10, 0)),
        (compliance.pot_dissipation_w, (NAN, 1e3)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
