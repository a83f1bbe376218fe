"""Sheets and columns are all that the records declare, each once."""

import pytest

from core.exchange.layout import APART, SHEETS, heading_unit, plain_heading, sheet_titled
from core.model import RECORDS

# The row of a station also holds these, and no other sheet does.
ONLY_BESIDE_A_STATION = {"drive", "speed_reference", "controls", "drivetrain", "process"}


def test_every_record_has_its_sheet_or_stands_beside_its_station():
    of_their_own = {sheet.table for sheet in SHEETS}
    beside = {part for sheet in SHEETS for part in sheet.parts}
    assert of_their_own | beside == set(RECORDS) - APART
    assert {"photo"} == APART
    assert beside - of_their_own == ONLY_BESIDE_A_STATION


def test_every_declared_field_is_a_column_but_for_those_made_from_another():
    columns = {(c.table, c.field.name) for sheet in SHEETS for c in sheet.columns}
    declared = {(t, f.name) for t, spec in RECORDS.items() if t not in APART for f in spec.fields}
    assert declared - columns == {
        ("motor", "power_typed"),
        ("drive_type", "rated_power_typed"),
        ("setting", "value"),
    }


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.title)
def test_headings_of_a_sheet_can_be_told_apart(sheet):
    assert len(sheet.by_heading) == len(sheet.columns)


def test_heading_carries_the_unit_of_the_line():
    stations = sheet_titled("stations")
    assert stations is not None
    power = stations.by_heading["motor: rated power"]
    assert power.heading("metric") == "Motor: Rated power [kW]"
    assert power.heading("us") == "Motor: Rated power [hp]"


@pytest.mark.parametrize(
    ("text", "plain", "unit"),
    [
        ("Motor: Rated power [kW]", "motor: rated power", "kW"),
        ("  MOTOR :rated   power ", "motor: rated power", ""),
        ("Speed (Bd)", "speed (bd)", ""),
    ],
)
def test_heading_is_compared_without_unit_case_and_spaces(text, plain, unit):
    assert plain_heading(text) == plain
    assert heading_unit(text) == unit
