"""Neutral currents: what cancels, what adds, sums on lines, balance, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import neutral
from core.errors import RangeError

LEG = {1: 10.0, 3: 8.0, 5: 5.0, 9: 2.0}
SPECTRA = st.dictionaries(st.sampled_from(range(1, 20, 2)), st.floats(0.0, 50.0), max_size=6)


def test_one_loaded_line_comes_back_through_the_neutral():
    for service in ("three_wire", "wye"):
        assert neutral.neutral_current_a((LEG,), service) == pytest.approx(neutral.rms_a(LEG))


@given(SPECTRA)
def test_equal_legs_of_a_three_wire_service_cancel_every_odd_harmonic(leg):
    assert neutral.neutral_current_a((leg, leg), "three_wire") == pytest.approx(0.0, abs=1e-9)


@given(SPECTRA)
def test_balanced_wye_keeps_three_times_the_triplens_only(leg):
    triplens = [3 * current for order, current in leg.items() if order % 3 == 0]
    found = neutral.neutral_current_a((leg, leg, leg), "wye")
    assert found == pytest.approx(math.hypot(*triplens), abs=1e-9)


@given(SPECTRA)
def test_neutral_of_a_balanced_wye_stays_below_three_times_the_line(leg):
    assert neutral.neutral_current_a((leg,) * 3, "wye") <= 3 * neutral.rms_a(leg) + 1e-9


def test_two_legs_of_a_wye_exceed_a_line_where_thirds_are_strong():
    assert neutral.neutral_current_a((LEG, LEG), "wye") > neutral.rms_a(LEG)


def test_each_harmonic_is_told():
    legs = ({1: 10.0, 3: 8.0}, {1: 6.0, 3: 5.0, 5: 1.0})
    found = neutral.neutral_spectrum_a(legs, "three_wire")
    assert found == pytest.approx({1: 4.0, 3: 3.0, 5: 1.0})


def test_no_load_gives_no_neutral():
    assert neutral.neutral_current_a((), "wye") == 0.0
    assert neutral.neutral_current_a(({}, {}), "three_wire") == 0.0


@pytest.mark.parametrize(
    ("legs", "service"),
    [
        ((LEG, LEG, LEG), "three_wire"),
        ((LEG,) * 4, "wye"),
        ((LEG,), "delta"),
        (({0: 1.0},), "wye"),
        (({101: 1.0},), "wye"),
        (({2.5: 1.0},), "wye"),
        (({1: -1.0},), "wye"),
        (({1: math.nan},), "wye"),
    ],
)
def test_impossible_legs_are_refused(legs, service):
    with pytest.raises(RangeError):
        neutral.neutral_current_a(legs, service)


def test_each_load_counts_on_every_line_it_hangs_on():
    loads = (("L1 N", 7.0), ("L2 N", 5.0), ("L1 L2", 10.0), ("L3 L1", 2.0), ("L1 L2 L3", 1.0))
    assert neutral.line_currents_a(loads) == {"L1": 20.0, "L2": 16.0, "L3": 3.0}


@pytest.mark.parametrize("load", [("N", 1.0), ("L1", 1.0), ("L4 N", 1.0), ("L1 N", -1.0)])
def test_impossible_load_is_refused(load):
    with pytest.raises(RangeError):
        neutral.line_currents_a((load,))


def test_largest_deviation_counts_not_the_spread():
    # Mean 20; deviations 6, 1, 5: 0.30
    found = neutral.leg_balance((26.0, 19.0, 15.0))
    assert (found.mean_a, found.heaviest) == (20.0, 0)
    assert found.imbalance == pytest.approx(0.30)


def test_all_on_one_leg_of_two_is_wholly_out_of_balance():
    assert neutral.leg_balance((0.0, 30.0)).imbalance == 1.0
    assert neutral.leg_balance((0.0, 0.0)).imbalance == 0.0


@pytest.mark.parametrize("currents", [(), (1.0,), (1.0,) * 4, (1.0, -1.0), (1.0, math.nan)])
def test_impossible_lines_are_refused(currents):
    with pytest.raises(RangeError):
        neutral.leg_balance(currents)
