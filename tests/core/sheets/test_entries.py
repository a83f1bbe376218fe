from dataclasses import replace

import pytest

from core.model import RECORDS, SpeedReference
from core.sheets.document import Cell
from core.sheets.entries import Entries, number_of
from tests.core.sheets import lines


@pytest.fixture(name="entries")
def _entries():
    return Entries.of(lines.line())


def test_a_quantity_stands_in_the_unit_of_the_line(entries):
    assert entries.quantity(750.0, "power") == Cell("0.75", 0.75, "kW")
    us = Entries.of(replace(lines.line(), unit_system="us"))
    # 1 ft = 0.3048 m exactly (NIST SP 811, B.8)
    assert us.quantity(30.48, "length") == Cell("100", 100.0, "ft")


def test_a_gauge_is_a_name_and_no_number(entries):
    # 4/0 AWG: 0.46 in diameter (ASTM B258), 107.2 mm²
    cell = entries.quantity(107.2193e-6, "conductor")
    assert (cell.text, cell.number, cell.unit) == ("4/0", None, "AWG")


def test_nothing_entered_is_said(entries):
    for sort in ("quantity", "text", "choice"):
        spec = next(spec for spec in RECORDS["motor"].fields if spec.sort == sort)
        assert entries.field(spec, None).text == "not entered"


def test_every_kind_of_field_has_a_writer(entries):
    values = {"drive_type_id": 1, "terminated_at_controller": True, "calibration_due": "2026-11-25"}
    shown = {
        name: entries.field(spec, values[name]).text
        for record in RECORDS.values()
        for spec in record.fields
        if (name := spec.name) in values
    }
    assert shown == {
        "drive_type_id": "230 V 0.75 kW",
        "terminated_at_controller": "Yes",
        "calibration_due": "2026-11-25",
    }


def test_power_is_shown_as_typed_too(entries):
    rows = entries.rows(entries.line.stations[0].motors[0], keep=("power_w",))
    assert [row.remark for row in rows] == ["typed as 3/4 hp"]


def test_typed_text_that_is_what_is_shown_is_not_said_twice(entries):
    motor = replace(entries.line.stations[0].motors[0], power_w=750.0, power_typed="0.75 kW")
    assert entries.rows(motor, keep=("power_w",))[0].remark == ""


def test_fields_without_a_meaning_are_left_out(entries):
    labels = [row.label for row in entries.rows(SpeedReference(source="keypad"))]
    assert "Potentiometer" not in labels
    assert "Frequency as set now" in labels


@pytest.mark.parametrize(
    ("shown", "number"),
    [("60.0", 60.0), ("-5", -5.0), ("0", 0.0), ("1/2", None), ("", None), ("3 s", None)],
)
def test_only_a_plain_number_is_a_number(shown, number):
    assert number_of(shown) == number
