"""Signals on the wire: values by hand, both ways, and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import signals
from core.errors import RangeError

NAN = math.nan
SPANS = st.sampled_from([(0.0, 5.0), (0.0, 3.3), (0.0, 10.0), (-10.0, 10.0)])


def test_two_bits_make_three_steps():
    # 0, 2, 4, 6 V
    assert signals.dac_step(2, 0.0, 6.0) == pytest.approx(2.0)
    assert [signals.dac_voltage_v(count, 2, 0.0, 6.0) for count in range(4)] == pytest.approx(
        [0, 2, 4, 6]
    )


@given(data=st.data(), bits=st.integers(1, 24), span=SPANS)
def test_count_inverts_voltage(data, bits, span):
    count = data.draw(st.integers(0, 2**bits - 1))
    assert signals.dac_count(signals.dac_voltage_v(count, bits, *span), bits, *span) == count


@given(share=st.floats(0.0, 1.0), bits=st.integers(1, 16), span=SPANS)
def test_count_is_off_by_half_a_step_at_most(share, bits, span):
    wanted = span[0] + share * (span[1] - span[0])
    given_v = signals.dac_voltage_v(signals.dac_count(wanted, bits, *span), bits, *span)
    assert abs(given_v - wanted) <= signals.dac_step(bits, *span) * (0.5 + 1e-9)


def test_ends_of_a_wide_converter_stay_in_its_counts():
    assert signals.dac_count(-1e-9, 32, 0.0, 10.0) == 0
    assert signals.dac_count(10.0 + 1e-9, 32, 0.0, 10.0) == 2**32 - 1


@pytest.mark.parametrize(
    ("volts", "bits", "low", "high"),
    [
        (5.1, 8, 0, 5),
        (-0.1, 8, 0, 5),
        (NAN, 8, 0, 5),
        (2, 0, 0, 5),
        (2, 33, 0, 5),
        (2, 7.5, 0, 5),
        (2, 8, 5, 0),
    ],
)
def test_count_refuses(volts, bits, low, high):
    with pytest.raises(RangeError):
        signals.dac_count(volts, bits, low, high)


@pytest.mark.parametrize(("count", "bits"), [(256, 8), (-1, 8), (1.5, 8), (NAN, 8), (1, 0)])
def test_voltage_refuses(count, bits):
    with pytest.raises(RangeError):
        signals.dac_voltage_v(count, bits, 0.0, 5.0)


@pytest.mark.parametrize(("bits", "low", "high"), [(0, 0, 5), (NAN, 0, 5), (8, 5, 5), (8, NAN, 5)])
def test_step_refuses(bits, low, high):
    with pytest.raises(RangeError):
        signals.dac_step(bits, low, high)


def test_equal_resistances_halve():
    assert signals.divided_voltage_v(10.0, 20e3, 20e3) == pytest.approx(5.0)


def test_ideal_source_and_ideal_input_lose_nothing():
    assert signals.divided_voltage_v(7.68, 0.0, 20e3) == 7.68
    assert signals.divided_voltage_v(7.68, 1e3, math.inf) == 7.68


@given(volts=st.floats(-12.0, 12.0), source=st.floats(0.0, 1e5), load=st.floats(100.0, 1e7))
def test_source_voltage_inverts_divider(volts, source, load):
    arrived = signals.divided_voltage_v(volts, source, load)
    assert signals.source_voltage_v(arrived, source, load) == pytest.approx(volts, abs=1e-12)


@pytest.mark.parametrize(
    ("volts", "source", "load"),
    [(NAN, 0, 1e4), (5, -1, 1e4), (5, NAN, 1e4), (5, math.inf, 1e4), (5, 100, 0), (5, 100, NAN)],
)
@pytest.mark.parametrize("function", [signals.divided_voltage_v, signals.source_voltage_v])
def test_divider_refuses(function, volts, source, load):
    with pytest.raises(RangeError):
        function(volts, source, load)


def test_transmitter_that_takes_all_leaves_nothing():
    assert signals.loop_resistance_max_ohm(12.0, 12.0) == 0.0


@pytest.mark.parametrize(
    ("supply", "need", "current"),
    [
        (24, 25, 0.0205),
        (24, -1, 0.0205),
        (0, 0, 0.0205),
        (24, 12, 20.5),  # milliamperes for amperes
        (24, 12, 0),
        (NAN, 12, 0.02),
        (24, NAN, 0.02),
        (24, 12, NAN),
    ],
)
def test_loop_refuses(supply, need, current):
    with pytest.raises(RangeError):
        signals.loop_resistance_max_ohm(supply, need, current)


def test_resolution_by_hand():
    # 8 bits: 51 Hz over 255 steps
    assert signals.resolution_hz(8, 0.0, 51.0) == pytest.approx(0.2)
    assert signals.resolution_hz(8, 51.0, 0.0) == pytest.approx(0.2)


@pytest.mark.parametrize(
    ("bits", "low", "high"), [(0, 0, 60), (8, NAN, 60), (8, 0, NAN), (NAN, 0, 60)]
)
def test_resolution_refuses(bits, low, high):
    with pytest.raises(RangeError):
        signals.resolution_hz(bits, low, high)
