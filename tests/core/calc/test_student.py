"""Student's distribution: against scipy's, its limits, its inverse, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from core.calc import student
from core.errors import RangeError

NAN = math.nan


@pytest.mark.parametrize("dof", [1, 2, 3, 4, 5, 8, 15, 16, 50, 101, 1000])
@pytest.mark.parametrize("factor", [0.0, 0.5, 1.0, 2.0, 3.0, 6.0])
def test_probability_agrees_with_scipy(factor, dof):
    expected = 1.0 - 2.0 * stats.t.sf(factor, dof)
    assert student.central_probability(factor, dof) == pytest.approx(expected, abs=1e-12)


@given(st.floats(0.01, 0.999), st.integers(1, 300))
def test_factor_inverts_probability(probability, dof):
    factor = student.coverage_factor(probability, dof)
    assert student.central_probability(factor, dof) == pytest.approx(probability, abs=1e-9)


def test_fractions_of_degrees_are_cut_off():
    assert student.coverage_factor(0.95, 9.99) == student.coverage_factor(0.95, 9)


def test_many_degrees_come_to_the_normal_distribution():
    normal = student.coverage_factor(0.95)
    assert student.coverage_factor(0.95, 10_000) == pytest.approx(normal, rel=2e-4)
    assert student.coverage_factor(0.95, 1e9) == normal


def test_no_probability_needs_no_width():
    assert student.coverage_factor(0.0) == 0.0
    assert student.coverage_factor(0.0, 5) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (student.central_probability, (-1.0, 5)),
        (student.central_probability, (NAN, 5)),
        (student.central_probability, (1.0, 0.9)),
        (student.central_probability, (1.0, NAN)),
        (student.coverage_factor, (95.0,)),  # percent for a share
        (student.coverage_factor, (1.0,)),
        (student.coverage_factor, (NAN,)),
        (student.coverage_factor, (0.95, 0)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
