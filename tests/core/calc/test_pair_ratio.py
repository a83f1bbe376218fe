"""Ratio and differential of two stations: identities, correlation, a Monte Carlo, refusals."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import pair_ratio as pr
from core.calc.pair_ratio import Part
from core.errors import RangeError

NAN = math.nan
DRAWS = 200_000
SPEED = st.floats(0.02, 3.0)
SHARE = st.floats(0.0, 0.1)
TIE = st.floats(-1.0, 1.0)
NAMES = ("knob", "slip", "diameter", "wear")


@st.composite
def budgets(draw):
    """Two budgets with parts of the same names and the same ties."""
    ties = [draw(TIE) for _name in NAMES]
    return tuple(
        tuple(Part(name, draw(SHARE), tie) for name, tie in zip(NAMES, ties, strict=True))
        for _side in range(2)
    )


def whole(parts):
    return math.sqrt(sum(part.relative_u**2 for part in parts))


@given(SPEED, SPEED)
def test_ratio_turned_round_is_its_inverse(first, second):
    assert pr.ratio(first, second) * pr.ratio(second, first) == pytest.approx(1.0)


@given(SPEED, SPEED)
def test_differential_and_ratio_tell_the_same(first, second):
    d = pr.differential_share(first, second)
    assert pr.differential_share(second, first) == -d
    assert pr.ratio(first, second) == pytest.approx((1 + d / 2) / (1 - d / 2))


@given(budgets())
def test_neither_side_is_special(both):
    first, second = both
    assert pr.ratio_relative_u(first, second) == pytest.approx(pr.ratio_relative_u(second, first))


@given(SPEED, SPEED, budgets())
def test_differential_is_as_unsure_from_either_side(first, second, both):
    there = pr.differential_u(first, second, *both)
    assert there == pytest.approx(pr.differential_u(second, first, *reversed(both)))


@given(budgets())
def test_ratio_lies_between_cancelling_and_adding(both):
    found = pr.ratio_relative_u(*both)
    pairs = list(zip(*both, strict=True))
    least = math.sqrt(sum((a.relative_u - b.relative_u) ** 2 for a, b in pairs))
    most = math.sqrt(sum((a.relative_u + b.relative_u) ** 2 for a, b in pairs))
    assert least - 1e-12 <= found <= most + 1e-12


@given(SPEED, SPEED, st.lists(SHARE, min_size=1, max_size=4))
def test_what_is_shared_whole_cancels(first, second, shares):
    parts = [Part(str(place), u, True) for place, u in enumerate(shares)]
    assert pr.ratio_relative_u(parts, parts) == 0.0
    assert pr.differential_u(first, second, parts, parts) == 0.0
    assert {share for _name, share in pr.contributions(parts, parts)} == {0.0}


@given(st.floats(0.001, 0.1))
def test_opposite_errors_add(u):
    parts = (Part("load", u, -1.0),)
    assert pr.ratio_relative_u(parts, parts) == pytest.approx(2 * u)


def test_part_without_a_partner_counts_whole():
    knob, own = Part("knob", 0.03, True), Part("bus step", 0.04, True)
    assert pr.ratio_relative_u((knob,), (own,)) == pytest.approx(0.05)
    assert pr.ratio_relative_u((knob,), ()) == pytest.approx(0.03)


def test_no_parts_leave_nothing_unsure():
    assert pr.ratio_relative_u((), ()) == 0.0
    assert pr.contributions((), ()) == ()


@given(budgets())
def test_independent_parts_add_as_squares(both):
    first, second = (tuple(Part(part.name, part.relative_u) for part in side) for side in both)
    found = pr.ratio_relative_u(first, second)
    assert found == pytest.approx(math.hypot(whole(first), whole(second)))


@given(SPEED, SPEED, budgets())
def test_differential_is_at_most_as_unsure_as_the_ratio(first, second, both):
    d = pr.differential_share(first, second)
    found = pr.differential_u(first, second, *both)
    expected = (1 - d**2 / 4) * pr.ratio_relative_u(*both)
    assert found == pytest.approx(expected, rel=1e-9, abs=1e-12)


@given(budgets())
def test_contributions_are_sorted_and_make_one(both):
    found = pr.contributions(*both)
    shares = [share for _name, share in found]
    assert shares == sorted(shares, reverse=True)
    assert {name for name, _share in found} == set(NAMES)
    if pr.ratio_relative_u(*both) > 1e-9:
        assert sum(shares) == pytest.approx(1.0)


def test_contribution_of_a_tied_part_is_what_is_left_of_it():
    # Knob 0.03 and 0.03 with 0.5: 0.0009; slip 0.01 either side: 0.0002
    first = (Part("slip", 0.01), Part("knob", 0.03, 0.5))
    found = pr.contributions(first, first)
    assert [name for name, _share in found] == ["knob", "slip"]
    assert [share for _name, share in found] == pytest.approx([9 / 11, 2 / 11])


@pytest.mark.parametrize("tie", [0.0, 0.7, 1.0, -0.5])
@pytest.mark.parametrize(("first", "second"), [(0.416, 0.384), (0.22, 0.34375)])
def test_against_drawn_speeds(first, second, tie):
    """Knob (tied), slip and diameter drawn 200 000 times, and the two speeds of them."""
    shares = ((0.012, 0.006, 0.004), (0.010, 0.008, 0.003))
    parts = [
        tuple(Part(name, u, r) for name, u, r in zip(NAMES, side, (tie, 0.0, 0.0), strict=False))
        for side in shares
    ]
    random = np.random.default_rng(7)
    knobs = random.multivariate_normal((0, 0), ((1, tie), (tie, 1)), DRAWS, method="svd").T
    others = random.normal(size=(2, 2, DRAWS))
    v = [
        speed * (1 + u[0] * knobs[side] + u[1] * others[side, 0] + u[2] * others[side, 1])
        for side, (speed, u) in enumerate(zip((first, second), shares, strict=True))
    ]
    ratios, differentials = v[0] / v[1], 2 * (v[0] - v[1]) / (v[0] + v[1])
    relative, u = pr.ratio_relative_u(*parts), pr.differential_u(first, second, *parts)
    assert relative == pytest.approx(np.std(ratios) / np.mean(ratios), rel=0.01)
    assert u == pytest.approx(np.std(differentials), rel=0.01)
    d = pr.differential_share(first, second)
    outside = np.mean(np.abs(differentials - d) > 0.02)
    assert pr.chance_outside(d, u, d - 0.02, d + 0.02) == pytest.approx(outside, abs=0.005)
    turned = np.mean(differentials * d <= 0.0)
    assert pr.chance_sign_changes(d, u) == pytest.approx(turned, abs=0.003)


@given(st.floats(-0.5, 0.5), st.floats(1e-4, 0.2))
def test_sign_is_as_likely_lost_either_way(d, u):
    found = pr.chance_sign_changes(d, u)
    assert 0.0 <= found <= 0.5
    assert pr.chance_sign_changes(-d, u) == found


@given(st.floats(0.01, 0.2), st.floats(0.001, 0.1), st.floats(1.01, 3.0))
def test_wider_uncertainty_is_worse_and_wider_band_better(band, u, times):
    now = pr.chance_outside(0.08, u, 0.08 - band, 0.08 + band)
    assert pr.chance_outside(0.08, times * u, 0.08 - band, 0.08 + band) >= now - 1e-12
    assert pr.chance_outside(0.08, u, 0.08 - times * band, 0.08 + times * band) <= now + 1e-12


@pytest.mark.parametrize(
    ("d", "outside", "turned"), [(0.08, 0.0, 0.0), (-0.08, 1.0, 0.0), (0.0, 1.0, 1.0)]
)
def test_without_uncertainty_it_is_known(d, outside, turned):
    assert pr.chance_outside(d, 0.0, 0.06, 0.10) == outside
    assert pr.chance_sign_changes(d, 0.0) == turned


def test_equal_speeds_have_even_chances():
    assert pr.chance_sign_changes(0.0, 0.01) == pytest.approx(0.5)


KNOB = (Part("knob", 0.01),)


@pytest.mark.parametrize(
    ("function", "arguments", "told"),
    [
        (pr.ratio, (0.0, 0.4), "first station"),
        (pr.ratio, (0.4, 0.0), "second station"),
        (pr.ratio, (0.4, NAN), "no number"),
        (pr.differential_share, (-0.4, 0.4), "speed of the first"),
        (pr.differential_u, (0.4, -0.4, KNOB, KNOB), "second station"),
        (pr.ratio_relative_u, ((Part("knob", -0.01),), KNOB), "uncertainty by knob"),
        (pr.ratio_relative_u, ((Part("knob", NAN),), KNOB), "no number"),
        (pr.ratio_relative_u, ((Part("knob", 0.01, 1.5),), KNOB), "correlation of knob"),
        (pr.ratio_relative_u, (KNOB * 2, KNOB), "two parts with the name knob"),
        (pr.ratio_relative_u, ((Part("knob", 0.01, True),), KNOB), "correlation 1, the other 0"),
        (pr.contributions, (KNOB, (Part("knob", 0.01, 0.5),)), "give both sides the same"),
        (pr.chance_outside, (8.0, 0.01, 0.06, 0.1), "differential"),
        (pr.chance_outside, (0.08, -0.01, 0.06, 0.1), "standard uncertainty"),
        (pr.chance_outside, (0.08, 0.01, 0.1, 0.06), "empty"),
        (pr.chance_sign_changes, (NAN, 0.01), "no number"),
        (pr.chance_sign_changes, (0.08, -0.01), "standard uncertainty"),
        (pr.chance_sign_changes, (0.08, NAN), "no number"),
    ],
)
def test_nonsense_is_refused(function, arguments, told):
    with pytest.raises(RangeError, match=told):
        function(*arguments)
