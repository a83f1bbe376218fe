"""Reference chain in the drive: values by hand, both ways, and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import reference
from core.errors import RangeError

NAN = math.nan
SPANS = st.sampled_from(
    [(0.0, 10.0), (0.0, 5.0), (2.0, 10.0), (-10.0, 10.0), (0.004, 0.020), (0.0, 0.02)]
)
SCALES = st.sampled_from([(0.0, 60.0), (10.0, 60.0), (0.0, 50.0), (60.0, 5.0)])


@pytest.mark.parametrize(
    ("signal", "low", "high", "fraction"),
    [
        # (S - low) / (high - low) by hand
        (0.004, 0.004, 0.020, 0.0),
        (0.008, 0.004, 0.020, 0.25),
        (0.016, 0.004, 0.020, 0.75),
        (0.020, 0.004, 0.020, 1.0),
        (0.0, 0.004, 0.020, -0.25),
        (0.0036, 0.004, 0.020, -0.025),
        (0.0205, 0.004, 0.020, 1.03125),
        (2.5, 0.0, 10.0, 0.25),
        (2.0, 2.0, 10.0, 0.0),
        (0.0, -10.0, 10.0, 0.5),
    ],
)
def test_span_fraction_by_hand(signal, low, high, fraction):
    assert reference.span_fraction(signal, low, high) == pytest.approx(fraction, abs=1e-12)


@given(fraction=st.floats(0.0, 1.0), span=SPANS)
def test_span_fraction_inverts_signal(fraction, span):
    signal = reference.signal_at_span(fraction, *span)
    assert reference.span_fraction(signal, *span) == pytest.approx(fraction, abs=1e-12)


@pytest.mark.parametrize(
    ("value", "low", "high"),
    [(NAN, 0, 10), (math.inf, 0, 10), (5, NAN, 10), (5, 0, math.inf), (5, 10, 0), (5, 5, 5)],
)
@pytest.mark.parametrize("function", [reference.span_fraction, reference.input_ratio])
def test_span_refuses(function, value, low, high):
    with pytest.raises(RangeError):
        function(value, low, high)


@pytest.mark.parametrize(
    ("fraction", "low", "high"), [(25, 0, 10), (-0.1, 0, 10), (NAN, 0, 10), (0.5, 10, 0)]
)
def test_signal_at_span_refuses(fraction, low, high):
    with pytest.raises(RangeError):
        reference.signal_at_span(fraction, low, high)


@pytest.mark.parametrize(
    ("signal", "low", "high", "ratio"),
    [
        (0.0, 0.004, 0.020, 0.0),  # broken wire
        (0.022, 0.004, 0.020, 1.0),
        (0.004, 0.0, 0.020, 0.2),  # 4-20 mA source on a 0-20 mA input creeps
        (5.0, 0.0, 10.0, 0.5),  # a 5 V source tops out at half of a 10 V input
        (-3.0, 0.0, 10.0, 0.0),
    ],
)
def test_input_holds_at_the_ends_of_its_own_span(signal, low, high, ratio):
    assert reference.input_ratio(signal, low, high) == pytest.approx(ratio)


@given(ratio=st.floats(0.0, 1.0), scale=SCALES)
def test_ratio_inverts_frequency(ratio, scale):
    frequency = reference.frequency_at_ratio_hz(ratio, *scale)
    assert reference.ratio_for_frequency(frequency, *scale) == pytest.approx(ratio, abs=1e-12)


@given(ratio=st.floats(0.0, 1.0), span=SPANS, scale=SCALES)
def test_signal_inverts_frequency(ratio, span, scale):
    signal = reference.signal_at_span(ratio, *span)
    frequency = reference.frequency_for_signal_hz(signal, *span, *scale)
    back = reference.signal_for_frequency(frequency, *span, *scale)
    assert back == pytest.approx(signal, abs=1e-9)


def test_reversed_reference_by_hand():
    # 60 Hz at 0 V, 10 Hz at 10 V: 4 V is 60 - 0.4 * 50 = 40 Hz
    assert reference.frequency_for_signal_hz(4.0, 0.0, 10.0, 60.0, 10.0) == pytest.approx(40.0)
    assert reference.signal_for_frequency(40.0, 0.0, 10.0, 60.0, 10.0) == pytest.approx(4.0)


@pytest.mark.parametrize(
    ("hz", "low", "high"),
    [
        (61, 10, 60),
        (9, 10, 60),
        (NAN, 10, 60),
        (30, 30, 30),
        (30, NAN, 60),
        (30, 0, NAN),
        (30, -5, 60),
    ],
)
def test_frequency_outside_the_reference_is_refused(hz, low, high):
    with pytest.raises(RangeError):
        reference.ratio_for_frequency(hz, low, high)
    with pytest.raises(RangeError):
        reference.signal_for_frequency(hz, 0.0, 10.0, low, high)


@pytest.mark.parametrize(
    ("ratio", "low", "high"), [(64, 10, 60), (NAN, 10, 60), (0.5, -1, 60), (0.5, 0, 2000)]
)
def test_frequency_at_ratio_refuses(ratio, low, high):
    with pytest.raises(RangeError):
        reference.frequency_at_ratio_hz(ratio, low, high)


@pytest.mark.parametrize(("hz", "limited"), [(10, 15), (15, 15), (30, 30), (50, 50), (54.8, 50)])
def test_limits_hold(hz, limited):
    assert reference.limited_frequency_hz(hz, 15.0, 50.0) == limited


@pytest.mark.parametrize(
    ("hz", "low", "high"), [(30, 50, 15), (NAN, 15, 50), (30, NAN, 50), (30, 15, NAN), (-1, 0, 50)]
)
def test_limits_refuse(hz, low, high):
    with pytest.raises(RangeError):
        reference.limited_frequency_hz(hz, low, high)
