"""Typed rows and how a value finds its row."""

import math

import pytest

from core.calc.lookups import Row, chosen, first_reaching, remembered, rows
from core.errors import RangeError
from core.tables import load_table

TABLE = (
    Row({"limit": 10.0, "factor": 1.0}, {}, "book one", "seen"),
    Row({"limit": 20.0, "factor": 0.8}, {}, "book one", "from memory"),
    Row({"factor": 0.5}, {}, "book two", "from memory"),
)


def test_numbers_words_and_empty_cells_are_told_apart():
    row = rows("nec_430_motor_currents")[0]
    assert row.numbers["v115"] == 4.4
    assert "v575" not in row.numbers
    assert "v575" not in row.words
    assert row.words["status"] == row.status == "seen"


def test_a_table_is_parsed_once():
    assert rows("nec_310_16") is rows("nec_310_16")


@pytest.mark.parametrize(
    ("value", "factor"), [(-5.0, 1.0), (10.0, 1.0), (10.001, 0.8), (20.0, 0.8), (1e6, 0.5)]
)
def test_first_row_that_reaches_a_value(value, factor):
    assert first_reaching(TABLE, "limit", value, "it").numbers["factor"] == factor


def test_a_limit_met_exactly_is_met_after_conversion_too():
    # 30 °C through kelvin is 30.000000000000057.
    assert first_reaching(TABLE, "limit", (10.0 + 273.15) - 273.15, "it") is TABLE[0]


@pytest.mark.parametrize("value", [20.1, math.nan, math.inf])
def test_a_value_beyond_the_last_row_is_refused(value):
    with pytest.raises(RangeError):
        first_reaching(TABLE[:2], "limit", value, "it", "A")


def test_refusal_names_value_and_end_of_the_table():
    with pytest.raises(RangeError, match=r"The load was not used\. It is 25 A; .* ends at 20 A\."):
        first_reaching(TABLE[:2], "limit", 25.0, "the load", "A")


def test_unknown_word_is_refused_with_the_known_ones():
    with pytest.raises(RangeError, match="one of breaker, fuse is needed"):
        chosen("relay", ("breaker", "fuse"), "the device")


def test_what_was_not_seen_is_named_once():
    assert remembered(TABLE[0]) == ()
    assert remembered(*TABLE, TABLE[1]) == (
        "book one: from memory, check before use.",
        "book two: from memory, check before use.",
    )


TABLES = (
    "iec_60228",
    "iec_60364_4_41",
    "iec_60364_5_52_current",
    "iec_60364_5_52_grouping",
    "iec_60364_5_52_temperature",
    "iec_60364_5_54",
    "iec_device_ratings",
    "nec_240_4_d",
    "nec_240_6",
    "nec_250_122",
    "nec_310_15_b_1",
    "nec_310_15_c_1",
    "nec_310_16",
    "nec_430_52",
    "nec_430_motor_currents",
    "nec_chapter_9_table_8",
    "nec_chapter_9_table_9",
)


@pytest.mark.parametrize("name", TABLES)
def test_each_row_says_where_it_comes_from(name):
    for row in load_table(name):
        assert row["status"] in {"seen", "from memory", "formula"}
        assert len(row["source"]) > 8
        assert None not in row.values()
        assert None not in row


@pytest.mark.parametrize(
    ("name", "count", "first", "last"),
    [
        ("nec_310_16", 19, ("14 AWG", 15.0), ("600 kcmil", 350.0)),
        ("nec_chapter_9_table_8", 19, ("14 AWG", 4110.0), ("600 kcmil", 600000.0)),
        ("nec_chapter_9_table_9", 19, ("14 AWG", 0.058), ("600 kcmil", 0.039)),
    ],
)
def test_conductor_tables_have_all_sizes_in_order(name, count, first, last):
    table = rows(name)
    assert len(table) == count
    for row, (size, number) in ((table[0], first), (table[-1], last)):
        assert row.words["size"] == size
        assert next(iter(row.numbers.values())) == number
    assert [row.words["size"] for row in table] == [row.words["size"] for row in rows("nec_310_16")]


RISING = [
    ("nec_310_16", ("c60_a", "c75_a", "c90_a")),
    ("nec_chapter_9_table_8", ("circular_mils",)),
    ("nec_310_15_b_1", ("ambient_max_c",)),
    ("nec_240_6", ("rating_a",)),
    ("nec_250_122", ("device_max_a",)),
    ("iec_60228", ("mm2",)),
    ("iec_60364_5_52_temperature", ("ambient_c",)),
]
FALLING = [
    ("nec_310_15_b_1", ("c60", "c75", "c90")),
    ("nec_310_15_c_1", ("factor",)),
    ("nec_chapter_9_table_8", ("solid", "stranded", "stranded_coated")),
    ("nec_chapter_9_table_9", ("r_pvc", "r_aluminium", "r_steel")),
    ("iec_60228", ("fixed", "fixed_coated", "flexible", "flexible_coated")),
    (
        "iec_60364_5_52_temperature",
        ("air_PVC", "air_XLPE", "ground_PVC", "ground_XLPE"),
    ),
]


def column_of(name, column):
    return [row.numbers[column] for row in rows(name) if column in row.numbers]


@pytest.mark.parametrize(("name", "column"), [(n, c) for n, cs in RISING for c in cs])
def test_columns_that_must_rise_do(name, column):
    values = column_of(name, column)
    assert values == sorted(set(values))


@pytest.mark.parametrize(("name", "column"), [(n, c) for n, cs in FALLING for c in cs])
def test_columns_that_must_fall_do(name, column):
    values = column_of(name, column)
    assert values == sorted(set(values), reverse=True)


@pytest.mark.parametrize("insulation", ["PVC", "XLPE"])
@pytest.mark.parametrize("method", ["A1", "A2", "B1", "B2", "C", "D1", "D2", "E"])
def test_iec_currents_rise_with_size_and_fall_with_a_third_loaded_conductor(insulation, method):
    two, three = (
        [
            row.numbers[method]
            for row in rows("iec_60364_5_52_current")
            if row.words["insulation"] == insulation and row.numbers["loaded"] == loaded
        ]
        for loaded in (2, 3)
    )
    assert len(two) == len(three) == 12
    assert two == sorted(set(two))
    assert three == sorted(set(three))
    assert all(few > many for few, many in zip(two, three, strict=True))


def test_motor_currents_fall_with_voltage_and_rise_with_power():
    for phases in (1, 3):
        table = [r for r in rows("nec_430_motor_currents") if r.numbers["phases"] == phases]
        for column in ("v115", "v200", "v208", "v230", "v460", "v575"):
            values = [row.numbers[column] for row in table if column in row.numbers]
            assert values == sorted(set(values))
        for row in table:
            currents = [v for name, v in row.numbers.items() if name.startswith("v")]
            assert currents == sorted(currents, reverse=True)


def test_every_earth_and_small_conductor_is_a_known_size():
    known = {row.words["size"] for row in rows("nec_310_16")}
    for name in ("nec_250_122", "nec_240_4_d"):
        assert {row.words["size"] for row in rows(name)} <= known
