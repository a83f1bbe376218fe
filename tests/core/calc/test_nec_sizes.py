"""Trade sizes: by area, by name, by circular mils with the rounding rule."""

import math

import pytest

from core.calc import nec_sizes
from core.errors import RangeError
from core.units import gauge_area


def test_the_ladder_has_nineteen_rising_sizes():
    areas = [size.area_m2 for size in nec_sizes.SIZES]
    assert len(areas) == 19
    assert areas == sorted(areas)
    assert (nec_sizes.SIZES[0].name, nec_sizes.SIZES[-1].name) == ("14 AWG", "600 kcmil")


@pytest.mark.parametrize("size", nec_sizes.SIZES, ids=lambda size: size.name)
def test_area_and_circular_mils_agree_but_for_rounding(size):
    # One circular mil is pi/4 of a square mil, 506.7 µm².
    assert size.circular_mils * 506.707e-12 == pytest.approx(size.area_m2, rel=1e-3)


@pytest.mark.parametrize("size", nec_sizes.SIZES, ids=lambda size: size.name)
def test_area_and_name_lead_back_to_the_size(size):
    assert nec_sizes.size_of_area(size.area_m2) is size
    assert nec_sizes.size_named(size.name) is size


@pytest.mark.parametrize(
    ("mm2", "name"),
    # Rounded areas as trade tables print them.
    [(2.08, "14 AWG"), (3.31, "12 AWG"), (5.26, "10 AWG"), (107.2, "4/0 AWG"), (127, "250 kcmil")],
)
def test_rounded_area_is_the_size_that_is_meant(mm2, name):
    assert nec_sizes.size_of_area(mm2 * 1e-6).name == name


@pytest.mark.parametrize("mm2", [1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 500.0])
def test_metric_sizes_are_refused_with_a_gauge_to_enter(mm2):
    with pytest.raises(RangeError, match=r"no size of the NEC tables .* Enter a size such as"):
        nec_sizes.size_of_area(mm2 * 1e-6)


@pytest.mark.parametrize("area_m2", [0.0, -1e-6, math.nan, math.inf])
def test_impossible_area_is_refused(area_m2):
    with pytest.raises(RangeError):
        nec_sizes.size_of_area(area_m2)


def test_unknown_name_is_refused():
    with pytest.raises(RangeError, match="'13 AWG' is no size"):
        nec_sizes.size_named("13 AWG")


@pytest.mark.parametrize(
    ("circular_mils", "name"),
    [
        (1.0, "14 AWG"),
        (16510.0, "8 AWG"),
        (16511.4, "8 AWG"),  # 0.008 % short: rounding of the table
        (16526.0, "8 AWG"),  # 0.097 % short
        (16527.0, "6 AWG"),  # 0.103 % short
        (600_000.0, "600 kcmil"),
    ],
)
def test_rounding_rule_takes_a_size_up_to_a_thousandth_short(circular_mils, name):
    assert nec_sizes.size_with_circular_mils(circular_mils).name == name


@pytest.mark.parametrize("circular_mils", [0.0, 601_000.0, math.nan])
def test_circular_mils_beyond_the_tables_are_refused(circular_mils):
    with pytest.raises(RangeError):
        nec_sizes.size_with_circular_mils(circular_mils)


def test_area_is_the_one_the_unit_room_writes():
    assert nec_sizes.size_named("3/0 AWG").area_m2 == gauge_area(-2)
