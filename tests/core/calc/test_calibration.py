"""Calibration of a reference: zero, span, linearity, hysteresis, and what to set."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc.calibration import (
    Reading,
    calibrate,
    corrected_ends_hz,
    other_end_hz,
    signal_at_ends,
)
from core.errors import RangeError

PLACES = (0.0, 0.25, 0.5, 0.75, 1.0)
HERTZ = st.floats(-20.0, 20.0)


def straight(zero, span, both=False):
    up = [Reading(place, zero + span * place) for place in PLACES]
    down = [Reading(r.share, r.frequency_hz, False) for r in reversed(up)] if both else []
    return [*up, *down]


@given(HERTZ, st.floats(10.0, 100.0))
def test_a_straight_reference_has_errors_of_zero_and_span_only(zero, span):
    found = calibrate(straight(zero, span, both=True), 0.0, 60.0)
    assert found.zero_error_hz == pytest.approx(zero, abs=1e-9)
    assert found.span_error_hz == pytest.approx(span - 60.0, abs=1e-9)
    for value in (found.linearity_best_hz, found.linearity_terminal_hz, found.hysteresis_hz):
        assert value == pytest.approx(0.0, abs=1e-9)


@given(HERTZ, st.floats(10.0, 100.0), st.floats(0.0, 10.0), st.floats(30.0, 120.0))
def test_corrected_ends_mend_zero_and_span(zero, span, bottom, width):
    found = calibrate(straight(zero, span), bottom, bottom + width)
    ends = corrected_ends_hz(found, bottom, bottom + width)
    for place, wanted in ((0.0, bottom), (1.0, bottom + width)):
        share = (zero + span * place - bottom) / width
        assert ends[0] + (ends[1] - ends[0]) * share == pytest.approx(wanted, abs=1e-6)


def test_hysteresis_is_the_largest_gap_between_both_ways():
    down = [Reading(place, 60 * place + 0.4 * place, False) for place in PLACES]
    found = calibrate([*straight(0.0, 60.0), *down], 0.0, 60.0)
    assert found.hysteresis_hz == pytest.approx(0.4)
    assert (found.worst_share, found.worst_hz) == (1.0, pytest.approx(0.4))


def test_a_bow_is_seen_from_both_lines():
    # A bow of 1 Hz in the middle: from the line through the ends 1 Hz, from the best line less.
    bow = [Reading(place, 60 * place + 4.0 * place * (1 - place)) for place in PLACES]
    found = calibrate(bow, 0.0, 60.0)
    assert found.linearity_terminal_hz == pytest.approx(1.0)
    assert found.linearity_best_hz < 0.7


def test_one_way_only_has_no_hysteresis():
    assert calibrate(straight(0.0, 60.0), 0.0, 60.0).hysteresis_hz == 0.0


def test_one_place_is_not_enough():
    with pytest.raises(RangeError, match="two places"):
        calibrate([Reading(0.5, 30.0), Reading(0.5, 30.1, False)], 0.0, 60.0)


def test_a_reading_that_is_no_number_is_refused():
    with pytest.raises(RangeError):
        calibrate([Reading(0.0, float("nan")), Reading(1.0, 60.0)], 0.0, 60.0)


def test_a_frequency_that_never_changes_is_not_mended_by_a_setting():
    found = calibrate(straight(12.0, 0.0), 0.0, 60.0)
    with pytest.raises(RangeError, match="does not change"):
        corrected_ends_hz(found, 0.0, 60.0)


# --- settings that are not what is wanted ---------------------------------------------------


def test_the_signal_at_the_ends_follows_from_the_settings_then():
    # Set 10 to 50 Hz, read 12 to 47 Hz: (12 - 10) / 40 = 0.05, (47 - 10) / 40 = 0.925.
    found = calibrate(straight(12.0, 35.0), 10.0, 50.0)
    assert signal_at_ends(found, 10.0, 50.0) == pytest.approx((0.05, 0.925))


@given(HERTZ, st.floats(10.0, 100.0), HERTZ, st.floats(30.0, 120.0), st.floats(40.0, 90.0))
def test_corrected_ends_mend_what_was_read_with_other_settings(zero, span, low, width, wanted):
    found = calibrate(straight(zero, span), 0.0, wanted)
    ends = corrected_ends_hz(found, 0.0, wanted, low, low + width)
    for place, want in ((0.0, 0.0), (1.0, wanted)):
        share = (zero + span * place - low) / width
        assert ends[0] + (ends[1] - ends[0]) * share == pytest.approx(want, abs=1e-6)


@given(HERTZ, st.floats(0.05, 1.0), st.floats(30.0, 120.0))
def test_the_other_end_alone_brings_its_place_right(kept, share, wanted):
    end = other_end_hz(kept, share, wanted)
    assert kept + share * (end - kept) == pytest.approx(wanted)


def test_an_end_that_no_setting_reaches_is_refused():
    with pytest.raises(RangeError, match="other end"):
        other_end_hz(0.0, 0.0, 60.0)


def test_ends_set_alike_are_refused():
    with pytest.raises(RangeError, match="does not change"):
        signal_at_ends(calibrate(straight(0.0, 60.0), 0.0, 60.0), 30.0, 30.0)
