"""Limits of handling: every row whole and readable, fruit and surfaces told apart, what is left."""

import math

import pytest

from core.calc import handling
from core.calc.handling import Limit
from core.errors import RangeError
from core.model.choices import DROP_SURFACES, STATION_KINDS
from core.tables import load_table
from core.units import KINDS

ROWS = load_table("handling_limits")
RPM = math.pi / 30


def limit(bearing, low=None, high=None):
    return Limit("drop", "size", bearing, low, high, (), "", "", "", "a source", "seen")


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['quantity']} {row['words'][:40]}")
def test_row_is_whole(row):
    assert set(row["kinds"].split()) <= {*STATION_KINDS, "any"}
    assert row["bearing"] in handling.BEARINGS
    assert row["low"] or row["high"]
    assert not row["low"] or not row["high"] or float(row["low"]) <= float(row["high"])
    assert row["shown_as"] in {*KINDS, ""}
    assert row["surface"] in {*DROP_SURFACES, "cleated belt", ""}
    assert bool(row["surface"]) <= (row["quantity"] == "drop")
    assert len(row["words"]) > 10
    assert len(row["source"]) > 8
    assert row["status"] in {"seen", "from memory", "common practice"}
    # Only what somebody published may say more than that it is usual.
    assert row["status"] == "seen" or row["bearing"] == "usual"
    if row["bearing"] == "harm":
        assert row["low"]
        assert not row["high"]


def test_every_row_is_reached_by_some_kind():
    reached = {found for kind in STATION_KINDS for found in handling.limits_for(kind)}
    assert len(reached) == len(ROWS) == 31


def test_published_speed_of_wax_brushes():
    found = handling.limits_for("brush_bed", "brush_speed", "lemon")
    assert [(one.bearing, one.status) for one in found] == [
        ("within", "seen"),
        ("usual", "from memory"),
    ]
    assert found[0].high == pytest.approx(100 * RPM)
    assert found[0].low is None
    assert found[0].holds(102.2 * RPM) is False
    assert found[0].holds(100 * RPM) is True


def test_kind_without_any_of_its_own_has_the_drops_only():
    assert {one.quantity for one in handling.limits_for("take_away")} == {"drop"}


def test_units_come_out_in_si():
    by_name = {one.quantity: one for one in handling.limits_for("fan")}
    assert by_name["air_temperature"].low == pytest.approx(313.15)
    water = {one.quantity: one for one in handling.limits_for("pump")}
    assert water["free_chlorine"].high == pytest.approx(0.15)
    assert water["turnover_time"].high == pytest.approx(360.0)
    assert water["immersion_depth"].high == pytest.approx(0.3048)
    elevator = handling.limits_for("elevator", "surface_speed")[0]
    assert (elevator.low, elevator.high) == (pytest.approx(0.05), pytest.approx(1 / 6))
    cups = handling.limits_for("cup_conveyor", "filled_share")[0]
    assert (cups.low, cups.high) == (pytest.approx(0.7), pytest.approx(0.85))


@pytest.mark.parametrize(
    ("kind", "quantity", "printed"),
    [
        ("pump", "free_chlorine", "100 to 150 mg/L"),
        ("pump", "ph", "6.5 to 7.5"),
        ("pump", "immersion_time", "at most 120 s"),
        ("pump", "water_over_pulp", "at least 5.6 K"),
        ("roller_conveyor", "turns_in_view", "at least 2"),
    ],
)
def test_printed_as_the_source_has_it(kind, quantity, printed):
    assert handling.limits_for(kind, quantity)[0].printed == printed


def test_printed_harm_and_single_values():
    spray = handling.limits_for("brush_bed", "spray_pressure")
    assert [one.printed for one in spray] == ["from 560 kPa on", "420 kPa"]


@pytest.mark.parametrize(
    ("bearing", "low", "high", "value", "holds"),
    [
        ("within", 1.0, 2.0, 1.0, True),
        ("within", 1.0, 2.0, 2.0, True),
        ("within", 1.0, 2.0, 0.999, False),
        ("within", None, 2.0, -5.0, True),
        ("within", 1.0, None, 5.0, True),
        ("within", None, 2.0, 2.1, False),
        ("usual", 1.0, 2.0, 2.1, False),
        ("worked", 1.0, 2.0, 1.5, True),
        ("worked", 1.0, 2.0, 2.1, None),
        ("harm", 1.0, None, 1.0, False),
        ("harm", 1.0, None, 7.0, False),
        ("harm", 1.0, None, 0.999, None),
    ],
)
def test_a_limit_claims_no_more_than_its_source(bearing, low, high, value, holds):
    assert limit(bearing, low, high).holds(value) is holds


def test_limit_met_after_a_round_trip_through_units_is_met():
    assert limit("within", None, 0.1 + 0.2).holds((0.1 + 0.2) / 0.0254 * 0.0254) is True
    assert limit("harm", 0.31, None).holds(310 * 1e-3) is False
    assert limit("within", None, 1e-3).holds(1.00001e-3) is False


@pytest.mark.parametrize(
    ("fruit", "quantity", "speaks"),
    [
        ("Mandarins", "citrus", True),
        ("navel oranges, large", "orange citrus", True),
        ("grapefruit", "orange", False),
        ("Peaches", "peach", True),
        ("cherries", "cherry", True),
        ("Tomatoes", "tomato", True),
        ("Pineapples", "apple", False),
        ("citrus", "citrus", True),
        ("", "lemon", False),
        ("naranjas", "citrus", False),
        ("anything", "", True),
    ],
)
def test_a_source_speaks_of_its_own_fruit(fruit, quantity, speaks):
    named = Limit("drop", "size", "usual", None, 1.0, tuple(quantity.split()), "", "", "", "", "")
    assert named.speaks_of(fruit) is speaks


def test_drops_go_by_surface_and_fruit():
    assert [one.printed for one in handling.drop_limits("padded", "apples")] == ["at most 150 mm"]
    assert [one.printed for one in handling.drop_limits("hard", "peach")] == [
        "from 310 mm on",
        "at most 50 mm",
    ]
    assert [one.printed for one in handling.drop_limits("water", "mandarins")] == ["at most 300 mm"]
    assert handling.drop_limits("water", "peach") == ()
    # Harm on the flat is harm on a bar; what holds on padding says nothing of either.
    assert handling.drop_limits("bar", "peach") == handling.drop_limits("hard", "peach")
    assert not any(one.surface == "cleated belt" for one in handling.drop_limits("belt"))


def test_limits_left_by_a_value():
    drops = handling.drop_limits("hard", "peaches")
    assert handling.left(drops, 0.04) == ()
    assert [one.bearing for one in handling.left(drops, 0.1)] == ["usual"]
    assert [one.bearing for one in handling.left(drops, 0.31)] == ["harm", "usual"]
    assert handling.left((), 1.0) == ()


def test_several_quantities_at_once_are_refused():
    with pytest.raises(RangeError, match="brush_diameter, brush_speed"):
        handling.left(handling.limits_for("brush_bed"), 1.0)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (handling.limits_for, ("brushes",)),
        (handling.limits_for, ("any",)),
        (handling.drop_limits, ("steel",)),
        (handling.drop_limits, ("cleated belt",)),
        (handling.left, ((), math.nan)),
        (limit("within", 1.0, 2.0).holds, (math.nan,)),
    ],
)
def test_refusals(function, arguments):
    with pytest.raises(RangeError):
        function(*arguments)
