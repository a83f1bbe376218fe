"""The guards: what passes, what is refused, and in which words."""

import math

import pytest

from core.calc import checks
from core.errors import LinebookError, RangeError

NAN = math.nan


@pytest.mark.parametrize(
    ("guard", "arguments"),
    [
        (checks.finite, (0.0, "it")),
        (checks.finite, (-1e300, "it")),
        (checks.positive, (1e-300, "it")),
        (checks.not_negative, (0.0, "it")),
        (checks.in_range, (1.0, 1.0, 2.0, "it")),
        (checks.in_range, (2.0, 1.0, 2.0, "it")),
        (checks.ratio, (0.0, "it")),
        (checks.ratio, (1.0, "it")),
        (checks.span, (-10.0, 10.0)),
        (checks.whole, (24, 2, 24, "it")),
    ],
)
def test_limits_themselves_pass(guard, arguments):
    assert guard(*arguments) is None


@pytest.mark.parametrize(
    ("guard", "arguments"),
    [
        (checks.finite, (NAN, "it")),
        (checks.finite, (math.inf, "it")),
        (checks.positive, (NAN, "it")),
        (checks.positive, (0.0, "it")),
        (checks.positive, (math.inf, "it")),
        (checks.not_negative, (NAN, "it")),
        (checks.not_negative, (-1e-9, "it")),
        (checks.not_negative, (math.inf, "it")),
        (checks.in_range, (NAN, 1.0, 2.0, "it")),
        (checks.in_range, (0.999, 1.0, 2.0, "it")),
        (checks.in_range, (2.001, 1.0, 2.0, "it")),
        (checks.ratio, (NAN, "it")),
        (checks.ratio, (-0.1, "it")),
        (checks.ratio, (90.4, "it")),
        (checks.span, (NAN, 1.0)),
        (checks.span, (0.0, math.inf)),
        (checks.span, (1.0, 1.0)),
        (checks.span, (2.0, 1.0)),
        (checks.whole, (NAN, 2, 24, "it")),
        (checks.whole, (4.5, 2, 24, "it")),
        (checks.whole, (1, 2, 24, "it")),
        (checks.whole, (math.inf, 2, 24, "it")),
    ],
)
def test_beyond_the_limits_is_refused(guard, arguments):
    with pytest.raises(RangeError):
        guard(*arguments)


def test_endless_lets_infinity_pass_but_not_nan():
    assert checks.positive(math.inf, "the load", endless=True) is None
    with pytest.raises(RangeError):
        checks.positive(NAN, "the load", endless=True)


def test_zero_ratio_can_be_refused():
    with pytest.raises(RangeError, match="above 0"):
        checks.ratio(0.0, "the efficiency", zero=False)


def test_refusal_names_quantity_value_and_need():
    with pytest.raises(LinebookError) as caught:
        checks.in_range(450.0, 0.0, 400.0, "the frequency", "Hz")
    assert caught.value.what == "The frequency was not used."
    assert caught.value.why == "It is 450 Hz; 0 Hz to 400 Hz is needed."
    assert caught.value.fix


def test_rotation_is_told_in_turns_per_minute():
    # One turn per second is 2 pi rad/s, or 60 r/min.
    with pytest.raises(RangeError, match=r"It is -60 r/min"):
        checks.positive(-2 * math.pi, "the speed", "rad/s")


def test_nan_is_told_in_words():
    with pytest.raises(RangeError, match="It is no number"):
        checks.finite(NAN, "the signal", "V")
