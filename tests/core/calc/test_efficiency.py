"""Efficiency classes: order, gaps, midpoints, whose value counts, and refusals."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.calc import efficiency as eff
from core.errors import RangeError
from core.tables import load_table

NAN = math.nan
HP_W = 745.69987
POLES = st.sampled_from([2, 4, 6, 8])


@given(st.one_of(st.floats(120.0, 550.0), st.floats(750.0, 200e3)), POLES)
def test_a_higher_class_wastes_less(power, poles):
    classes = [eff.iec_efficiency(power, f"IE{number}", poles) for number in (2, 3, 4)]
    assert classes == sorted(classes)
    assert 0.0 < classes[0] < classes[-1] < 1.0


@pytest.mark.parametrize("power", [120.0, 550.0, 750.0, 200e3])
def test_ends_of_the_ranges_belong_to_them(power):
    assert eff.iec_efficiency(power, "IE3", 4) > 0.5


@pytest.mark.parametrize("power", [119.0, 551.0, 600.0, 749.0, 201e3, 0.0, -1.0, NAN, 0.75])
def test_powers_without_a_limit_are_refused(power):
    with pytest.raises(RangeError):
        eff.iec_efficiency(power, "IE3", 4)


@pytest.mark.parametrize(
    ("ie_class", "poles"), [("IE5", 4), ("ie3", 4), ("IE3", 3), ("IE3", 10), ("IE1", 10)]
)
def test_unknown_classes_and_poles_are_refused(ie_class, poles):
    with pytest.raises(RangeError):
        eff.iec_efficiency(1500.0, ie_class, poles)


def test_first_class_is_never_interpolated():
    assert eff.iec_efficiency(1500.0, "IE1", 4) == 0.772
    with pytest.raises(RangeError, match="standard powers"):
        eff.iec_efficiency(1600.0, "IE1", 4)


@pytest.mark.parametrize(
    ("power_hp", "percent"),
    # Ratings 2 and 3 hp: midpoint 2.5. Premium 4-pole enclosed: 86.5 below, 89.5 from there.
    [(2.0, 86.5), (2.49, 86.5), (2.5, 89.5), (3.0, 89.5)],
)
def test_midpoint_takes_the_higher_rating(power_hp, percent):
    assert eff.nema_efficiency(power_hp * HP_W, "premium", 4) == pytest.approx(percent / 100)


@pytest.mark.parametrize(
    ("kilowatts", "percent"),
    # Plates in kW: 0.75 is 1.0058 hp and 7.5 is 10.058 hp, the same motors.
    [(0.75, 85.5), (7.5, 91.7)],
)
def test_metric_plates_fit_the_ends(kilowatts, percent):
    assert eff.nema_efficiency(kilowatts * 1e3, "premium", 4) == pytest.approx(percent / 100)


@pytest.mark.parametrize(
    ("power", "motor_class", "poles", "enclosed"),
    [
        (0.9 * HP_W, "premium", 4, True),
        (15 * HP_W, "premium", 4, True),
        (HP_W, "premium", 8, True),
        (HP_W, "best", 4, True),
        (0.75 * HP_W, "energy_efficient", 2, False),
        (HP_W, "energy_efficient", 2, False),  # the table is empty there
        (NAN, "premium", 4, True),
        (0.0, "premium", 4, True),
    ],
)
def test_nema_refusals(power, motor_class, poles, enclosed):
    with pytest.raises(RangeError):
        eff.nema_efficiency(power, motor_class, poles, enclosed=enclosed)


@pytest.mark.parametrize(
    ("power", "winding", "poles"),
    [(0.2 * HP_W, "polyphase", 4), (HP_W, "shaded", 4), (2 * HP_W, "polyphase", 6)],
)
def test_small_motor_refusals(power, winding, poles):
    with pytest.raises(RangeError):
        eff.small_motor_efficiency(power, winding, poles)


def test_plate_wins():
    assert eff.motor_efficiency(750.0, 4, "iec", 0.9).basis == "stated"
    assert eff.motor_efficiency(1.0, 3, "none", 0.9).value == 0.9


@pytest.mark.parametrize(
    ("power", "standard", "percent"),
    [
        (750.0, "iec", 79.6),
        (600.0, "iec", 77.1),  # in the gap: the limit of 0.55 kW
        (HP_W, "nema", 82.5),
        (0.75 * HP_W, "nema", 81.1),
    ],
)
def test_estimates_are_marked_and_cautious(power, standard, percent):
    guess = eff.motor_efficiency(power, 4, standard)
    assert guess.is_estimate
    assert guess.value == pytest.approx(percent / 100, abs=5e-4)


@pytest.mark.parametrize(
    ("power", "standard", "plate"),
    [
        (750, "iec", 82.5),
        (750, "iec", 0.0),
        (NAN, "iec", None),
        (750, "jis", None),
        (60, "iec", None),
    ],
)
def test_motor_efficiency_refuses(power, standard, plate):
    with pytest.raises(RangeError):
        eff.motor_efficiency(power, 4, standard, plate)


@pytest.mark.parametrize(
    ("table", "count"),
    [
        ("ie_coefficients", 24),
        ("ie1_efficiency", 60),
        ("nema_efficiency", 83),
        ("small_motor_efficiency", 42),
    ],
)
def test_tables_are_whole_and_named(table, count):
    rows = load_table(table)
    assert len(rows) == count
    assert all(row["source"] and row["status"] for row in rows)


@pytest.mark.parametrize("table", ["nema_efficiency", "small_motor_efficiency"])
def test_ratings_rise_within_each_column(table):
    keys = [
        name for name in load_table(table)[0] if name not in ("hp", "percent", "source", "status")
    ]
    columns = {}
    for row in load_table(table):
        columns.setdefault(tuple(row[key] for key in keys), []).append(float(row["hp"]))
    assert all(low < high for column in columns.values() for low, high in pairwise(column))
