"""Equipment grounding conductors: by the device, by growth, never above the lines."""

import math

import pytest

from core.calc.nec_earthing import earth_conductor
from core.errors import RangeError
from core.units import gauge_area


def test_each_step_is_kept():
    # 60 A: 10 AWG, 10 380; lines 8 to 6 AWG: 26 240 / 16 510 = 1.589; 16 497: 8 AWG
    found = earth_conductor(60.0, gauge_area(6), gauge_area(8))
    assert found.by_device.name == "10 AWG"
    assert found.enlargement == pytest.approx(1.5893, abs=1e-4)
    assert found.needed_circular_mils == pytest.approx(16497, abs=1)
    assert found.size.name == "8 AWG"
    assert not found.held_to_circuit
    assert found.remarks == ()


def test_lines_that_only_suffice_leave_the_table():
    found = earth_conductor(100.0, gauge_area(3), gauge_area(3))
    assert (found.enlargement, found.size.name) == (1.0, "8 AWG")


def test_never_larger_than_the_lines():
    # A motor's branch of 14 AWG behind 40 A: the table says 10 AWG, 250.122(A) stops at 14
    found = earth_conductor(40.0, gauge_area(14), gauge_area(14))
    assert found.by_device.name == "10 AWG"
    assert found.size.name == "14 AWG"
    assert found.held_to_circuit


def test_device_between_two_rows_takes_the_larger():
    assert earth_conductor(25.0, gauge_area(8), gauge_area(8)).size.name == "10 AWG"


def test_lines_that_do_not_suffice_are_refused():
    with pytest.raises(RangeError, match="The lines are 10 AWG; 8 AWG is needed"):
        earth_conductor(40.0, gauge_area(10), gauge_area(8))


@pytest.mark.parametrize("device_a", [0.0, -1.0, 1201.0, math.nan])
def test_impossible_device_is_refused(device_a):
    with pytest.raises(RangeError):
        earth_conductor(device_a, gauge_area(8), gauge_area(8))
