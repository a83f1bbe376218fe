"""Curves by points: ends, middle, inverse order and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import curves
from core.errors import RangeError

LINE = ((0.0, 1.0), (2.0, 3.0), (3.0, 0.0))


@pytest.mark.parametrize(("argument", "value"), [(0, 1), (1, 2), (2, 3), (2.5, 1.5), (3, 0)])
def test_value_on_and_between_points(argument, value):
    assert curves.at(LINE, argument) == pytest.approx(value)


@given(st.floats(0.0, 3.0))
def test_value_stays_between_its_neighbours(argument):
    assert 0.0 <= curves.at(LINE, argument) <= 3.0


@pytest.mark.parametrize("argument", [-0.1, 3.1, math.nan])
def test_nothing_is_extrapolated(argument):
    with pytest.raises(RangeError, match="place on the curve"):
        curves.at(LINE, argument)


@pytest.mark.parametrize(
    "points",
    [(), ((1.0, 1.0),), ((1.0, 1.0), (1.0, 2.0)), ((2.0, 1.0), (1.0, 2.0)), ((0.0, math.nan),) * 2],
)
def test_points_that_make_no_curve_are_refused(points):
    with pytest.raises(RangeError):
        curves.check_points(points, "the curve")


@pytest.mark.parametrize(
    ("table", "argument", "value", "count", "first", "last"),
    [
        ("voltage_unbalance_derating", "percent", "factor", 6, (0, 1.0), (5, 0.75)),
        ("drive_reference_losses", "motor_kw", "loss_w", 14, (0.12, 100), (11, 781)),
        ("typical_motor_currents", "kw", "ampere_at_400_v", 10, (0.37, 0.98), (7.5, 14.8)),
    ],
)
def test_tables_that_are_curves(table, argument, value, count, first, last):
    points = curves.table_points(table, argument, value)
    curves.check_points(points, "the table")
    assert (len(points), points[0], points[-1]) == (count, first, last)
