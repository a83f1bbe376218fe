"""Throughput: values by hand, inverses, conservation and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import throughput
from core.errors import RangeError

NAN, INF = math.nan, math.inf
RATES = st.floats(0.0, 100.0)
MASSES = st.floats(0.01, 3.0)
BIN_MASSES = st.floats(50.0, 1000.0)


def test_mass_flow_by_hand():
    # 6 bins of 320 kg an hour: 1920 kg/h = 0.53333 kg/s
    assert throughput.mass_flow_kg_s(6 / 3600, 320.0) == pytest.approx(0.533333, rel=1e-5)


def test_fruit_rate_by_hand():
    # 1920 kg/h of 0.2 kg: 9600 fruit/h = 2.6667 fruit/s
    assert throughput.fruit_rate_1_s(1920 / 3600, 0.2) == pytest.approx(2.66667, rel=1e-5)


def test_mass_rate_by_hand():
    # 4.5 fruit/s of 0.12 kg = 0.54 kg/s
    assert throughput.mass_rate_kg_s(4.5, 0.12) == pytest.approx(0.54)


def test_culls_by_hand():
    # 6 % of 4.5 fruit/s go: 4.23 stay
    assert throughput.after_culls_1_s(4.5, 0.06) == pytest.approx(4.23)
    assert throughput.before_culls_1_s(4.23, 0.06) == pytest.approx(4.5)


def test_bins_rate_by_hand():
    # 2.5 fruit/s of 0.2 kg are 1800 kg/h, 4.5 bins of 400 kg
    assert 3600 * throughput.bins_rate_1_s(2.5, 0.2, 400.0) == pytest.approx(4.5)


def test_no_bins_no_fruit():
    assert throughput.mass_flow_kg_s(0.0, 400.0) == 0.0
    assert throughput.fruit_rate_1_s(0.0, 0.1) == 0.0
    assert throughput.bins_rate_1_s(0.0, 0.1, 400.0) == 0.0


def test_all_or_none_culled():
    assert throughput.after_culls_1_s(5.0, 1.0) == 0.0
    assert throughput.after_culls_1_s(5.0, 0.0) == 5.0
    assert throughput.before_culls_1_s(5.0, 0.0) == 5.0


@given(bins=st.floats(0.0, 0.1), bin_mass=BIN_MASSES, mass=MASSES)
def test_bins_come_back(bins, bin_mass, mass):
    fruit = throughput.fruit_rate_1_s(throughput.mass_flow_kg_s(bins, bin_mass), mass)
    assert throughput.bins_rate_1_s(fruit, mass, bin_mass) == pytest.approx(bins)


@given(flow=RATES, mass=MASSES)
def test_fruit_and_mass_invert_each_other(flow, mass):
    back = throughput.fruit_rate_1_s(throughput.mass_rate_kg_s(flow, mass), mass)
    assert back == pytest.approx(flow)


@given(flow=RATES, share=st.floats(0.0, 0.99))
def test_culls_and_the_rest_are_all_the_fruit(flow, share):
    left = throughput.after_culls_1_s(flow, share)
    gone = throughput.after_culls_1_s(flow, 1.0 - share)
    assert left + gone == pytest.approx(flow)
    assert throughput.before_culls_1_s(left, share) == pytest.approx(flow)


@given(flow=RATES, first=st.floats(0.0, 1.0), second=st.floats(0.0, 1.0))
def test_order_of_two_culls_does_not_matter(flow, first, second):
    one = throughput.after_culls_1_s(throughput.after_culls_1_s(flow, first), second)
    other = throughput.after_culls_1_s(throughput.after_culls_1_s(flow, second), first)
    assert one == pytest.approx(other)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (throughput.mass_flow_kg_s, (-1.0, 400.0)),
        (throughput.mass_flow_kg_s, (INF, 400.0)),
        (throughput.mass_flow_kg_s, (0.002, 0.0)),
        (throughput.mass_flow_kg_s, (0.002, NAN)),
        (throughput.fruit_rate_1_s, (-0.5, 0.1)),
        (throughput.fruit_rate_1_s, (0.5, 0.0)),
        (throughput.fruit_rate_1_s, (NAN, 0.1)),
        (throughput.mass_rate_kg_s, (-1.0, 0.1)),
        (throughput.mass_rate_kg_s, (1.0, -0.1)),
        (throughput.bins_rate_1_s, (-1.0, 0.1, 400.0)),
        (throughput.bins_rate_1_s, (1.0, 0.0, 400.0)),
        (throughput.bins_rate_1_s, (1.0, 0.1, 0.0)),
        (throughput.after_culls_1_s, (-1.0, 0.1)),
        (throughput.after_culls_1_s, (1.0, -0.1)),
        (throughput.after_culls_1_s, (1.0, NAN)),
        (throughput.before_culls_1_s, (-1.0, 0.1)),
        (throughput.before_culls_1_s, (1.0, 1.0)),
        (throughput.before_culls_1_s, (1.0, 1.1)),
    ],
)
def test_refuses(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)


def test_percent_for_a_share_of_culls_is_told():
    with pytest.raises(RangeError, match=r"share of culls.*30.*share of 1"):
        throughput.after_culls_1_s(10.0, 30.0)
