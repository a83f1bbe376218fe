"""Values with their basis: the stated one wins, a sum is as weak as its weakest part."""

import math

import pytest

from core.calc.sourced import Fit, Sourced, stated_or, total
from core.errors import RangeError

GUESS = Sourced(0.8, "estimate", "a guess")


def test_stated_value_wins():
    assert stated_or(0.9, "the factor", GUESS) == Sourced(0.9, "stated", "as entered")
    assert stated_or(None, "the factor", GUESS) is GUESS


@pytest.mark.parametrize("stated", [0.0, -1.0, math.nan, math.inf])
def test_impossible_stated_value_is_refused_not_replaced(stated):
    with pytest.raises(RangeError):
        stated_or(stated, "the factor", GUESS)


def test_sum_tells_how_many_are_estimated():
    table = Sourced(2.0, "published", "a table")
    assert total((table, Sourced(1.0, "stated", ""))).basis == "published"
    result = total((table, GUESS, Sourced(1.0, "stated", "")))
    assert result.value == pytest.approx(3.8)
    assert result.is_estimate
    assert result.reason == "sum of 3, 1 of them estimated"


def test_sum_of_nothing_is_a_known_zero():
    assert total(()) == Sourced(0, "stated", "sum of 0")


@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf])
def test_sum_refuses(value):
    with pytest.raises(RangeError):
        total((Sourced(value, "stated", ""),))
    with pytest.raises(RangeError, match="basis"):
        total((Sourced(1.0, "hearsay", ""),))


def test_share_of_nothing_is_endless():
    assert Fit(False, 1.0, 0.0, "").share == math.inf
    assert Fit(True, 1.0, 4.0, "").share == 0.25
