"""Smear of an image: by hand and by its limits."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import blur
from core.errors import RangeError

NAN, INF = math.nan, math.inf
CARRIERS = st.floats(0.05, 2.0)
SPINS = st.floats(-2.0, 2.0)


def test_blur_by_hand():
    # 0.5 m/s and 0.3 m/s for 1 ms: 0.8 mm where they add up, 0.2 mm where not
    assert blur.blur_m(0.5, 0.3, 1e-3) == pytest.approx(0.8e-3)
    assert blur.blur_m(0.5, -0.3, 1e-3) == pytest.approx(0.2e-3)
    assert blur.blur_most_m(0.5, -0.3, 1e-3) == pytest.approx(0.8e-3)


@given(transport=SPINS, turning=SPINS, exposure=st.floats(0.0, 0.1))
def test_blur_is_never_more_than_the_most(transport, turning, exposure):
    most = blur.blur_most_m(transport, turning, exposure)
    assert blur.blur_m(transport, turning, exposure) <= most
    assert most == pytest.approx(
        max(blur.blur_m(transport, sign * turning, exposure) for sign in (1, -1))
    )


@given(transport=CARRIERS, turning=SPINS, allowed=st.floats(0.0, 0.01))
def test_exposure_keeps_the_blur(transport, turning, allowed):
    exposure = blur.exposure_for_blur_s(transport, turning, allowed)
    assert blur.blur_most_m(transport, turning, exposure) == pytest.approx(allowed)


def test_nothing_blurs_that_does_not_move():
    with pytest.raises(RangeError, match="Nothing moves"):
        blur.exposure_for_blur_s(0.0, 0.0, 1e-3)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (blur.blur_m, (NAN, 0.3, 1e-3)),
        (blur.blur_m, (0.5, INF, 1e-3)),
        (blur.blur_m, (0.5, 0.3, -1e-3)),
        (blur.blur_most_m, (0.5, NAN, 1e-3)),
        (blur.exposure_for_blur_s, (0.5, 0.3, -1e-3)),
        (blur.exposure_for_blur_s, (NAN, 0.3, 1e-3)),
    ],
)
def test_refuses(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
