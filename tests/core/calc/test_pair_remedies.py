"""What would hold a pair: each remedy beside drawn values of the wiring it stands for."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import pair_ratio as pr
from core.calc import pair_remedies as rem
from core.calc.pair_ratio import Part
from core.calc.speed_parts import half_width_to_u, speed_part
from core.errors import RangeError

DRAWS = 200_000
FIRST_HZ, SECOND_HZ = 41.6, 38.4
BAND = (0.06, 0.10)
KNOB_SHARE = 0.01  # standard uncertainty of a knob, as a share of its travel
SLIP = Part("slip", 0.003)


def knob(frequency_hz, width_hz=60.0):
    return speed_part(KNOB_SHARE * width_hz, frequency_hz, "knob")


def judged(first, second):
    return rem.improvement(FIRST_HZ / 100, SECOND_HZ / 100, first, second, *BAND)


NOW = ((knob(FIRST_HZ), SLIP), (knob(SECOND_HZ), SLIP))


def drawn(first_hz, second_hz):
    """Spread and chances of a differential of drawn frequencies, each slip drawn on top."""
    random = np.random.default_rng(3)
    first = first_hz * (1 + SLIP.relative_u * random.normal(size=DRAWS))
    second = second_hz * (1 + SLIP.relative_u * random.normal(size=DRAWS))
    d = 2 * (first - second) / (first + second)
    outside = np.mean((d < BAND[0]) | (d > BAND[1]))
    return np.std(d), outside, np.mean(d <= 0.0)


def agrees(found, spread, outside, turned):
    assert found.u == pytest.approx(spread, rel=0.01)
    assert found.chance_outside == pytest.approx(outside, abs=0.005)
    assert found.chance_sign_changes == pytest.approx(turned, abs=0.003)


def knobs(count, seed=5):
    return KNOB_SHARE * np.random.default_rng(seed).normal(size=(count, DRAWS))


def test_two_knobs_as_they_are():
    one, other = knobs(2)
    found = judged(*NOW)
    agrees(found, *drawn(FIRST_HZ + 60 * one, SECOND_HZ + 60 * other))
    assert found.chance_outside > 0.2


def test_one_signal_with_the_ratio_in_the_drives():
    (one,) = knobs(1)
    # Tops of 60 Hz and of 60 · 38.4 / 41.6: both follow one knob in proportion
    first_hz = FIRST_HZ + 60.0 * one
    found = judged(*rem.one_signal(*NOW, ["knob"]))
    agrees(found, *drawn(first_hz, first_hz * SECOND_HZ / FIRST_HZ))
    assert found.chance_outside < 1e-4


def test_one_signal_on_two_equal_ranges_cancels_only_in_part():
    """Without a ratio in the drives hertz, not shares, are in common."""
    (one,) = knobs(1)
    tied = [(Part("knob", side[0].relative_u, True), SLIP) for side in NOW]
    found = judged(*tied)
    agrees(found, *drawn(FIRST_HZ + 60 * one, SECOND_HZ + 60 * one))
    assert judged(*rem.one_signal(*NOW, ["knob"])).u < found.u < judged(*NOW).u


def test_one_signal_keeps_what_each_drive_adds():
    first = (Part("knob", 0.02), Part("input", 0.004))
    second = (Part("input", 0.003), Part("knob", 0.05), Part("wire", 0.01))
    ours, theirs = rem.one_signal(first, second, ["knob", "wire"])
    assert ours == (Part("knob", 0.02, 1.0), Part("input", 0.004))
    assert theirs == (Part("knob", 0.02, 1.0), Part("input", 0.003))
    assert pr.ratio_relative_u(ours, theirs) == pytest.approx(0.005)


def test_narrowed_span():
    one, other = knobs(2)
    then = [rem.narrowed_span(side, ["knob"], (0.0, 60.0), (32.0, 47.0)) for side in NOW]
    found = judged(*then)
    agrees(found, *drawn(FIRST_HZ + 15 * one, SECOND_HZ + 15 * other))
    assert judged(*NOW).chance_outside > found.chance_outside


def test_narrowed_span_is_the_budget_of_that_span():
    then = rem.narrowed_span(NOW[0], ["knob"], (0.0, 60.0), (50.0, 30.0))
    assert then[0].relative_u == pytest.approx(knob(FIRST_HZ, 20.0).relative_u)
    assert then[1] == SLIP


def test_stepped_reference():
    random = np.random.default_rng(11)
    one, other = random.uniform(-0.25, 0.25, (2, DRAWS))
    then = [
        rem.stepped_reference(side, ["knob"], 0.5, hz)
        for side, hz in zip(NOW, (FIRST_HZ, SECOND_HZ), strict=True)
    ]
    agrees(judged(*then), *drawn(FIRST_HZ + one, SECOND_HZ + other))


def test_stepped_reference_takes_the_place_of_the_signal():
    step, *rest = rem.stepped_reference(NOW[0], ["knob", "wire"], 0.1, FIRST_HZ, 1.6)
    assert step.name == "step"
    assert step.relative_u == pytest.approx(half_width_to_u(0.05) / 40.0)
    assert rest == [SLIP]


def test_remedies_may_follow_each_other():
    narrow = [rem.narrowed_span(side, ["knob"], (0.0, 60.0), (30.0, 45.0)) for side in NOW]
    both = rem.one_signal(*narrow, ["knob"])
    assert judged(*both).u == pytest.approx(judged((SLIP,), (SLIP,)).u)


@given(st.floats(1.0, 59.0), st.floats(1.0, 59.0))
def test_span_there_and_back(bottom_hz, width_hz):
    then = (bottom_hz, bottom_hz + width_hz)
    narrow = rem.narrowed_span(NOW[0], ["knob"], (0.0, 60.0), then)
    back = rem.narrowed_span(narrow, ["knob"], then, (0.0, 60.0))
    assert back[0].relative_u == pytest.approx(NOW[0][0].relative_u)


@given(st.floats(0.0, 0.1), st.floats(0.0, 0.1))
def test_no_remedy_makes_it_worse(first_u, second_u):
    now = ((Part("knob", first_u), SLIP), (Part("knob", second_u), SLIP))
    narrow = [rem.narrowed_span(side, ["knob"], (0.0, 60.0), (20.0, 50.0)) for side in now]
    for then in (rem.one_signal(*now, ["knob"]), narrow):
        assert judged(*then).u <= judged(*now).u + 1e-12


@pytest.mark.parametrize(
    ("function", "arguments", "told"),
    [
        (rem.one_signal, (*NOW, ["pot"]), "Nothing in the budget comes by pot"),
        (rem.one_signal, ((SLIP,), NOW[1], ["knob"]), "by knob"),
        (rem.one_signal, (*NOW, []), "what was named"),
        (rem.narrowed_span, (NOW[0], ["pot"], (0.0, 60.0), (30.0, 45.0)), "by pot"),
        (rem.narrowed_span, (NOW[0], ["knob"], (60.0, 60.0), (30.0, 45.0)), "width of the span"),
        (rem.narrowed_span, (NOW[0], ["knob"], (0.0, 60.0), (45.0, 45.0)), "width of the span"),
        (rem.narrowed_span, (NOW[0], ["knob"], (-10.0, 60.0), (30.0, 45.0)), "end of the span"),
        (rem.narrowed_span, (NOW[0], ["knob"], (0.0, math.nan), (30.0, 45.0)), "no number"),
        (rem.stepped_reference, (NOW[0], ["pot"], 0.1, 40.0), "by pot"),
        (rem.stepped_reference, (NOW[0], ["knob"], 0.0, 40.0), "step of the frequency"),
        (rem.stepped_reference, (NOW[0], ["knob"], 0.1, 1.0, 2.0), "stands"),
        (rem.improvement, (0.0, 0.4, *NOW, *BAND), "first station"),
        (rem.improvement, (0.4, 0.4, *NOW, 0.1, 0.06), "empty"),
    ],
)
def test_nonsense_is_refused(function, arguments, told):
    with pytest.raises(RangeError, match=told):
        function(*arguments)
