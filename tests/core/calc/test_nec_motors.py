"""Motor and drive currents by the NEC: rows, columns, sums, refusals."""

import math

import pytest

from core.calc import nec_motors
from core.errors import RangeError

HP_W = 745.69987


@pytest.mark.parametrize(
    ("kilowatts", "horsepower"),
    # Pairs of the trade; 3 kW and 4 kW stand between two rows and take the larger.
    [
        (0.37, 0.5),
        (0.55, 0.75),
        (0.75, 1),
        (1.1, 1.5),
        (1.5, 2),
        (2.2, 3),
        (3, 5),
        (4, 7.5),
        (5.5, 7.5),
        (7.5, 10),
    ],
)
def test_metric_power_takes_its_row_or_the_next(kilowatts, horsepower):
    found = nec_motors.motor_table_current(kilowatts * 1e3, 230.0, 3)
    assert found.horsepower == horsepower


@pytest.mark.parametrize(
    ("volts", "column"),
    [(110, 115), (120, 115), (200, 200), (208, 208), (220, 230), (240, 230), (480, 460)],
)
def test_system_voltage_takes_its_column(volts, column):
    assert nec_motors.motor_table_current(HP_W, volts, 3).system_v == column


@pytest.mark.parametrize("volts", [100.0, 201.0, 380.0, 400.0, 415.0])
def test_voltage_without_column_is_sent_to_the_nameplate(volts):
    with pytest.raises(RangeError, match="current on the motor's nameplate"):
        nec_motors.motor_table_current(HP_W, volts, 3)


def test_three_horsepower_has_no_current_at_115_v():
    with pytest.raises(RangeError, match="ends at 2 hp"):
        nec_motors.motor_table_current(3 * HP_W, 115.0, 3)


@pytest.mark.parametrize(("phases", "volts"), [(2, 230.0), (1, 460.0)])
def test_phases_without_table_are_refused(phases, volts):
    with pytest.raises(RangeError, match="no column"):
        nec_motors.motor_table_current(HP_W, volts, phases)


def test_table_current_names_its_table():
    assert "430.250" in nec_motors.motor_table_current(HP_W, 230.0, 3).table
    assert "430.248" in nec_motors.motor_table_current(HP_W, 230.0, 1).table


def test_feeder_of_one_drive_is_the_drive_alone():
    alone = nec_motors.feeder_current((36.0,), 0.0, 0.0)
    assert alone.total_a == nec_motors.drive_supply_current_a(36.0) == 45.0
    assert alone.rest_a == 0.0


def test_feeder_takes_the_quarter_of_the_largest_only():
    # 1.25 * 12 + (9 + 6.5) + 1.25 * 4 + 3
    found = nec_motors.feeder_current((9.0, 12.0, 6.5), 4.0, 3.0)
    assert (found.largest_a, found.rest_a, found.other_a) == (15.0, 15.5, 8.0)
    assert found.total_a == 38.5


@pytest.mark.parametrize(
    ("currents", "continuous", "other"),
    [((), 0.0, 0.0), ((0.0,), 0.0, 0.0), ((5.0, math.nan), 0.0, 0.0), ((5.0,), -1.0, 0.0)],
)
def test_impossible_feeder_is_refused(currents, continuous, other):
    with pytest.raises(RangeError):
        nec_motors.feeder_current(currents, continuous, other)


@pytest.mark.parametrize(
    "function", [nec_motors.drive_supply_current_a, nec_motors.drive_output_current_a]
)
@pytest.mark.parametrize("current_a", [0.0, -1.0, math.nan])
def test_drive_without_current_is_refused(function, current_a):
    with pytest.raises(RangeError):
        function(current_a)


def test_overload_rule_turns_at_its_two_limits():
    assert nec_motors.overload_limit_a(10.0, 1.149, 40.1) == pytest.approx(11.5)
    assert nec_motors.overload_limit_a(10.0, 1.15, 40.1) == 12.5
    assert nec_motors.overload_limit_a(10.0, 1.0, 40.0) == 12.5
    with pytest.raises(RangeError):
        nec_motors.overload_limit_a(10.0, 115.0, None)
