"""Spans: what is planned stays inside, limits hold, resolution follows the width, refusals."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.calc import reference, signals, span
from core.errors import RangeError

NAN = math.nan
PLANNED = st.lists(st.floats(20.0, 60.0), min_size=1, max_size=6)


@given(PLANNED, st.floats(0.02, 0.5), st.sampled_from([0.1, 0.5, 1.0, 5.0]))
def test_planned_frequencies_and_their_margin_lie_inside(planned, margin, step):
    bottom, top = span.suggest_span(planned, 5.0, 120.0, margin, step)
    assert bottom <= max(5.0, min(planned) * (1 - margin)) + 1e-6
    assert top >= min(120.0, max(planned) * (1 + margin)) - 1e-6
    assert bottom >= 5.0
    assert top <= 120.0
    # Rounding goes outward by less than one step.
    assert bottom > min(planned) * (1 - margin) - step - 1e-6
    assert top < max(planned) * (1 + margin) + step + 1e-6


@given(PLANNED)
def test_limits_of_the_station_stop_the_margin(planned):
    assume(max(planned) - min(planned) > 0.1)
    found = span.suggest_span(planned, min(planned), max(planned))
    assert found == (min(planned), max(planned))


def test_by_hand():
    # 0.85 · 34 = 28.9 -> 28; 1.15 · 40 = 46.0 -> 46
    assert span.suggest_span((40.0, 34.0), 20.0, 60.0) == (28.0, 46.0)
    # 0.9 · 30 = 27 and 1.1 · 50 = 55 are steps of 1 Hz themselves, whatever the rounding
    assert span.suggest_span((30.0, 50.0), 10.0, 70.0, 0.1) == (27.0, 55.0)
    # 28.9 -> 25, 46.0 -> 50 in steps of 5 Hz
    assert span.suggest_span((34.0, 40.0), 20.0, 60.0, 0.15, 5.0) == (25.0, 50.0)


def test_one_planned_frequency_still_gets_travel():
    assert span.suggest_span((40.0,), 0.0, 100.0) == (34.0, 46.0)


def test_minimum_and_limit_are_taken_as_they_are():
    assert span.suggest_span((22.0, 58.0), 20.5, 60.3) == (20.5, 60.3)


@given(st.floats(0.0, 100.0), st.floats(0.0, 100.0), st.integers(1, 16))
def test_resolution_of_a_converter_is_one_over_its_steps(bottom, top, bits):
    found = span.resolution_hz(bottom, top, 1 / (2**bits - 1))
    assert found == pytest.approx(signals.resolution_hz(bits, bottom, top))


@given(PLANNED, st.floats(0.001, 0.1))
def test_narrower_span_is_finer_by_the_ratio_of_widths(planned, share):
    bottom, top = span.suggest_span(planned, 10.0, 90.0)
    before = span.travel(planned, 0.0, 100.0, share)
    after = span.travel(planned, bottom, top, share)
    finer = before.resolution_hz / after.resolution_hz
    assert finer == pytest.approx(100.0 / (top - bottom))
    assert after.used == pytest.approx(before.used * finer, abs=1e-9)
    assert 0.0 <= after.lowest <= after.highest <= 1.0


@given(PLANNED)
def test_travel_gives_the_frequencies_back(planned):
    found = span.travel(planned, 10.0, 90.0, 0.01)
    assert reference.frequency_at_ratio_hz(found.lowest, 10.0, 90.0) == pytest.approx(min(planned))
    assert reference.frequency_at_ratio_hz(found.highest, 10.0, 90.0) == pytest.approx(max(planned))


def test_reversed_reference_is_used_from_its_other_end():
    found = span.travel((30.0, 45.0), 60.0, 0.0, 0.01)
    assert (found.lowest, found.highest) == (pytest.approx(0.25), pytest.approx(0.5))
    assert found.resolution_hz == pytest.approx(0.6)


@pytest.mark.parametrize(
    ("function", "arguments", "told"),
    [
        (span.resolution_hz, (-1.0, 60.0, 0.01), "bottom of the travel"),
        (span.resolution_hz, (0.0, 6000.0, 0.01), "top of the travel"),
        (span.resolution_hz, (0.0, 60.0, 0.0), "least change"),
        (span.resolution_hz, (0.0, 60.0, 5.0), "least change"),
        (span.resolution_hz, (0.0, NAN, 0.01), "no number"),
        (span.suggest_span, ((), 20.0, 60.0), "No frequency is planned"),
        (span.suggest_span, ((30.0, NAN), 20.0, 60.0), "no number"),
        (span.suggest_span, ((30.0,), 60.0, 60.0), "not below the limit"),
        (span.suggest_span, ((30.0,), -1.0, 60.0), "minimum frequency"),
        (span.suggest_span, ((30.0,), 20.0, NAN), "highest frequency"),
        (span.suggest_span, ((18.0, 30.0), 20.0, 60.0), "must not run below 20 Hz"),
        (span.suggest_span, ((30.0, 62.0), 20.0, 60.0), "more than 60 Hz is not allowed"),
        (span.suggest_span, ((30.0,), 20.0, 60.0, 15.0), "margin"),
        (span.suggest_span, ((30.0,), 20.0, 60.0, 0.15, 0.0), "step of the ends"),
        (span.suggest_span, ((30.0,), 20.0, 60.0, 0.0), "Both ends come to 30 Hz"),
        (span.travel, ((), 0.0, 60.0, 0.01), "No frequency is planned"),
        (span.travel, ((30.0, 70.0), 0.0, 60.0, 0.01), "reference spans 0 to 60 Hz"),
        (span.travel, ((30.0,), 60.0, 60.0, 0.01), "both ends"),
        (span.travel, ((30.0,), 0.0, 60.0, 2.0), "least change"),
    ],
)
def test_nonsense_is_refused(function, arguments, told):
    with pytest.raises(RangeError, match=told):
        function(*arguments)
