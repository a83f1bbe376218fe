"""Budgets: limits, identities, correlation, a Monte Carlo beside the formula, refusals."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import potentiometer
from core.calc import uncertainty as unc
from core.calc.uncertainty import Contribution
from core.errors import RangeError

NAN = math.nan
SMALL = st.floats(1e-3, 10.0)


def pair(first, second, r):
    rows = (Contribution("first", first), Contribution("second", second))
    return unc.combine(rows, ((1.0, r), (r, 1.0)))


@pytest.mark.parametrize(
    ("function", "sample"),
    [
        (unc.standard_from_limits, lambda random, n: random.uniform(-1, 1, n)),
        (unc.standard_from_triangle, lambda random, n: random.triangular(-1, 0, 1, n)),
    ],
)
def test_spread_of_drawn_values(function, sample):
    drawn = sample(np.random.default_rng(1), 400_000)
    assert function(1.0) == pytest.approx(np.std(drawn), rel=5e-3)


def test_expanded_and_standard_invert_each_other():
    rows = (Contribution("certificate", unc.standard_from_expanded(0.3, 1.96)),)
    assert unc.expanded_uncertainty(unc.combine(rows)) == pytest.approx(0.3, rel=1e-4)


def test_spread_of_the_mean_by_hand():
    # 2, 4, 6, 8: mean 5, squares 9+1+1+9 = 20, 20/(4*3) = 1.6667, root 1.29099
    row = unc.spread_of_readings((2.0, 4.0, 6.0, 8.0))
    assert row.standard == pytest.approx(1.29099, abs=1e-5)
    assert row.dof == 3


def test_equal_readings_have_no_spread():
    assert unc.spread_of_readings((50.0, 50.0)).standard == 0.0


@given(st.floats(-100.0, 100.0), st.floats(-5.0, 5.0), st.floats(0.01, 1.0))
def test_sensitivity_of_a_straight_line_is_its_slope(value, slope, standard):
    found = unc.sensitivity(lambda x: slope * x + 7.0, value, standard)
    assert found == pytest.approx(slope, abs=1e-9)


def test_sensitivity_of_a_curve_is_near_its_derivative():
    assert unc.sensitivity(math.exp, 1.0, 0.0) == pytest.approx(math.e, rel=1e-6)
    # Over the width of u: e * sinh(u) / u
    assert unc.sensitivity(math.exp, 1.0, 0.5) == pytest.approx(math.e * math.sinh(0.5) / 0.5)


@given(SMALL, SMALL)
def test_combination_between_cancelling_and_adding(first, second):
    assert pair(first, second, 1.0).standard == pytest.approx(first + second)
    assert pair(first, second, -1.0).standard == pytest.approx(abs(first - second), abs=1e-6)
    assert pair(first, second, 0.0).standard == pytest.approx(math.hypot(first, second))


def test_shared_reference_cancels_in_a_ratio():
    # Ratio of two speeds near 1: sensitivities +1 and -1, one and the same error of the reference
    rows = (Contribution("faster", 0.02, 1.0), Contribution("slower", 0.02, -1.0))
    shared = unc.combine(rows, ((1.0, 1.0), (1.0, 1.0)))
    assert shared.standard == pytest.approx(0.0, abs=1e-9)
    assert unc.combine(rows).standard == pytest.approx(0.02 * math.sqrt(2))


@given(st.lists(SMALL, min_size=1, max_size=6))
def test_shares_of_uncorrelated_rows_make_one(standards):
    budget = unc.combine(tuple(Contribution(str(i), u) for i, u in enumerate(standards)))
    assert sum(budget.shares) == pytest.approx(1.0)
    assert budget.standard >= max(standards) * (1 - 1e-12)


def test_rows_without_uncertainty_share_nothing():
    budget = unc.combine((Contribution("exact", 0.0),))
    assert (budget.standard, budget.shares, budget.dof) == (0.0, (0.0,), math.inf)


def test_correlation_of_none_is_no_correlation():
    rows = (Contribution("first", 3.0, dof=5), Contribution("second", 4.0, dof=9))
    plain, matrix = unc.combine(rows), unc.combine(rows, ((1.0, 0.0), (0.0, 1.0)))
    assert matrix == plain


@given(SMALL, SMALL, st.integers(1, 40), st.integers(1, 40))
def test_effective_degrees_lie_between_the_fewest_and_the_sum(first, second, few, many):
    rows = (Contribution("a", first, dof=few), Contribution("b", second, dof=many))
    dof = unc.combine(rows).dof
    assert min(few, many) * (1 - 1e-9) <= dof <= (few + many) * (1 + 1e-9)


def test_correlated_readings_leave_no_degrees_of_freedom():
    rows = (Contribution("a", 1.0, dof=4), Contribution("b", 1.0))
    budget = unc.combine(rows, ((1.0, 0.5), (0.5, 1.0)))
    assert math.isnan(budget.dof)
    with pytest.raises(RangeError, match="few readings"):
        unc.expanded_uncertainty(budget)


def test_loaded_potentiometer_against_monte_carlo():
    """Wiper voltage from pot, input and supply, each rectangular, drawn 200 000 times."""
    nominal = {"supply_v": 10.0, "pot_ohm": 10e3, "load_ohm": 100e3}
    half = {"supply_v": 0.3, "pot_ohm": 2e3, "load_ohm": 5e3}

    def model(name):
        return lambda value: potentiometer.output_v(0.6, **{**nominal, name: value})

    rows = tuple(
        Contribution(
            name,
            u := unc.standard_from_limits(half[name]),
            unc.sensitivity(model(name), nominal[name], u),
        )
        for name in nominal
    )
    random = np.random.default_rng(2)
    supply, pot, load = (
        random.uniform(nominal[name] - half[name], nominal[name] + half[name], 200_000)
        for name in nominal
    )
    # Kirchhoff, written out apart from the program
    drawn = supply * 0.6 / (1.0 + 0.6 * 0.4 * pot / load)
    assert unc.combine(rows).standard == pytest.approx(np.std(drawn), rel=0.01)


def test_correlated_ratio_against_monte_carlo():
    """Ratio of two speeds on one reference: correlation 0.8 between both."""
    random = np.random.default_rng(3)
    covariance = [[0.01**2, 0.8 * 0.01 * 0.02], [0.8 * 0.01 * 0.02, 0.02**2]]
    fast, slow = random.multivariate_normal([1.1, 1.0], covariance, 400_000).T
    rows = (Contribution("fast", 0.01, 1.0), Contribution("slow", 0.02, -1.1))
    budget = unc.combine(rows, ((1.0, 0.8), (0.8, 1.0)))
    ratio = fast / slow
    assert budget.standard == pytest.approx(np.std(ratio), rel=0.02)
    vanishes = unc.probability_outside(1.1, budget.standard, 1.08, math.inf)
    assert vanishes == pytest.approx(np.mean(ratio < 1.08), abs=0.01)


def test_probability_at_the_ends():
    assert unc.probability_outside(5.0, 1.0, 5.0, math.inf) == pytest.approx(0.5)
    assert unc.probability_outside(5.0, 1.0, -math.inf, math.inf) == 0.0
    assert unc.probability_outside(5.0, 0.0, 5.0, 6.0) == 0.0
    assert unc.probability_outside(5.0, 0.0, 5.1, 6.0) == 1.0
    assert unc.probability_outside(500.0, 1.0, 4.0, 6.0) == pytest.approx(1.0)


@given(st.floats(-3.0, 3.0), st.floats(0.1, 2.0))
def test_inside_and_both_outsides_make_one(value, standard):
    below = unc.probability_outside(value, standard, -1.0, math.inf)
    above = unc.probability_outside(value, standard, -math.inf, 1.0)
    assert unc.probability_outside(value, standard, -1.0, 1.0) == pytest.approx(below + above)


@pytest.mark.parametrize(
    "matrix",
    [
        ((1.0,),),
        ((1.0, 0.5), (0.5,)),
        ((1.0, 0.5), (0.4, 1.0)),
        ((1.0, 1.5), (1.5, 1.0)),
        ((0.9, 0.5), (0.5, 1.0)),
        ((1.0, NAN), (NAN, 1.0)),
    ],
)
def test_no_correlation_matrix(matrix):
    with pytest.raises(RangeError, match="correlation"):
        unc.combine((Contribution("a", 1.0), Contribution("b", 1.0)), matrix)


def test_ties_that_contradict_each_other():
    # First and second move together, second and third too, but first and third against each other.
    rows = tuple(Contribution(name, 1.0) for name in "abc")
    with pytest.raises(RangeError, match="No set"):
        unc.combine(rows, ((1, 0.9, -0.9), (0.9, 1, 0.9), (-0.9, 0.9, 1)))
    with pytest.raises(RangeError, match="No set"):
        unc.combine(rows, ((1, 1, 0), (1, 1, 0.5), (0, 0.5, 1)))
    assert unc.combine(rows, ((1, 1, 0.5), (1, 1, 0.5), (0.5, 0.5, 1))).standard > 0.0


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (unc.standard_from_limits, (-1,)),
        (unc.standard_from_limits, (NAN,)),
        (unc.standard_from_triangle, (-1,)),
        (unc.standard_from_expanded, (1.0, 0.5)),
        (unc.standard_from_expanded, (NAN, 2.0)),
        (unc.spread_of_readings, ((50.0,),)),
        (unc.spread_of_readings, ((50.0, NAN),)),
        (unc.sensitivity, (math.exp, NAN, 0.1)),
        (unc.sensitivity, (math.exp, 1.0, -0.1)),
        (unc.sensitivity, (lambda x: NAN, 1.0, 0.1)),
        (unc.combine, ((),)),
        (unc.combine, ((Contribution("a", -1.0),),)),
        (unc.combine, ((Contribution("a", 1.0, NAN),),)),
        (unc.combine, ((Contribution("a", 1.0, 1.0, 0.5),),)),
        (unc.combine, ((Contribution("a", 1.0, 1.0, NAN),),)),
        (unc.effective_dof, ((Contribution("a", 1.0),), -1.0)),
        (unc.expanded_uncertainty, (unc.combine((Contribution("a", 1.0),)), 95.0)),
        (unc.probability_outside, (NAN, 1.0, 0.0, 1.0)),
        (unc.probability_outside, (0.5, -1.0, 0.0, 1.0)),
        (unc.probability_outside, (0.5, 1.0, 1.0, 0.0)),
        (unc.probability_outside, (0.5, 1.0, NAN, 1.0)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
