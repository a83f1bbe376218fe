"""Leakage and RCDs: both sides of each limit, every type against every feed, refusals."""

import math

import pytest

from core.calc import leakage
from core.errors import RangeError
from core.model.choices import RCD_TYPES

NAN = math.nan


@pytest.mark.parametrize(
    ("currents", "fits"),
    # 30 % of 30 mA is 9 mA
    [((0.003, 0.003, 0.003), True), ((0.003, 0.003, 0.0031), False), ((), True)],
)
def test_standing_leakage(currents, fits):
    result = leakage.leakage_fit(currents, 0.030)
    assert result.fits is fits
    assert result.available == pytest.approx(0.009)


@pytest.mark.parametrize(
    ("feed", "fitting"),
    [("line_neutral", {"f", "b"}), ("line_line", {"b"}), ("three_phase", {"b"})],
)
def test_types_that_fit(feed, fitting):
    types = set(RCD_TYPES) - {"none"}
    assert {kind for kind in types if leakage.rcd_type_fit(kind, feed).fits} == fitting


def test_types_are_those_of_the_line_file():
    assert set(leakage.RCD_ORDER) == set(RCD_TYPES)


def test_without_an_rcd_none_is_blinded():
    assert leakage.rcd_type_fit("none", "three_phase").fits
    assert leakage.rcd_type_fit("none", "three_phase", ("none",)).fits


@pytest.mark.parametrize("own", ["b", "none"])
def test_an_rcd_upstream_is_blinded_too(own):
    result = leakage.rcd_type_fit(own, "three_phase", ("b", "a"))
    assert not result.fits
    assert "before it" in result.reason


def test_own_fault_is_told_first():
    assert leakage.rcd_type_fit("a", "line_line", ("a",)).reason.startswith("the RCD may")


@pytest.mark.parametrize(
    ("milliamperes", "level"), [(0, 0), (3.5, 0), (3.6, 1), (10, 1), (10.1, 2), (300, 2)]
)
def test_earth_demand(milliamperes, level):
    demand = leakage.earth_demand(milliamperes / 1e3)
    assert demand.level == level
    assert demand.words
    assert demand.source


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (leakage.leakage_fit, ((-0.001,), 0.03)),
        (leakage.leakage_fit, ((NAN,), 0.03)),
        (leakage.leakage_fit, ((0.001,), 0.0)),
        (leakage.leakage_fit, ((0.001,), 300)),  # milliamperes for amperes
        (leakage.rcd_type_fit, ("b+", "three_phase")),
        (leakage.rcd_type_fit, ("b", "two_phase")),
        (leakage.rcd_type_fit, ("b", "three_phase", ("s",))),
        (leakage.earth_demand, (3.5,)),  # milliamperes for amperes
        (leakage.earth_demand, (-0.001,)),
        (leakage.earth_demand, (NAN,)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
