"""Fields as text: what is shown is read back as the same value, in both unit systems."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app import field_text
from core.errors import InputError
from core.model import RECORDS, Line, Supply
from core.units import KINDS

SPECS = [
    pytest.param(table, spec, id=f"{table}.{spec.name}")
    for table, record in RECORDS.items()
    for spec in record.fields
]
SYSTEMS = st.sampled_from(["metric", "us"])
LINE = Line(unit_system="us", supplies=(Supply(id=3, name="Shed"), Supply(id=4, name="Office")))


def spec_of(table, name):
    return RECORDS[table].field(name)


@pytest.mark.parametrize(("table", "spec"), SPECS)
def test_the_default_of_every_field_is_read_back_from_its_text(table, spec):
    text = field_text.shown(spec, spec.default, LINE)
    if spec.unique:
        with pytest.raises(InputError):
            field_text.read(spec, text, LINE)
    elif spec.sort != "typed":
        assert field_text.read(spec, text, LINE) == spec.default


@pytest.mark.parametrize(("table", "spec"), [p for p in SPECS if p.values[1].choices])
def test_every_word_of_a_choice_is_read_back(table, spec):
    for stored, word in spec.choices.items():
        assert field_text.read(spec, word, LINE) == stored
        assert word in field_text.offered(spec, LINE)


@pytest.mark.parametrize("kind", KINDS)
@given(system=SYSTEMS, value=st.floats(0.1, 1e4))
def test_a_quantity_without_its_unit_is_read_back_to_its_shown_digits(kind, system, value):
    spec = dataclasses.replace(spec_of("motor", "power_w"), kind=kind, minimum=None, above=False)
    line = Line(unit_system=system)
    value = float(round(value) + 1) if KINDS[kind].whole else value
    text = field_text.shown(spec, value, line, full=False)
    again = field_text.read(spec, text, line)
    # A temperature is shown with four digits counted from 0 °C or 0 °F, not from absolute zero.
    assert again == pytest.approx(value, rel=1e-3, abs=0.1 if kind == "temperature" else None)
    assert field_text.shown(spec, again, line, full=False) == text


def test_a_small_share_keeps_its_unit_since_it_could_be_meant_in_two_ways():
    spec = spec_of("drivetrain", "gear_efficiency")
    assert field_text.shown(spec, 0.92, LINE, full=False) == "92"
    assert field_text.shown(spec, 0.005, LINE, full=False) == "0.5 %"


def test_a_gauge_stands_without_its_unit_in_a_us_line_and_with_it_in_a_metric_one():
    spec = spec_of("cable", "conductor_m2")
    area = field_text.read(spec, "1/0", LINE)
    assert field_text.shown(spec, area, LINE, full=False) == "1/0"
    assert field_text.shown(spec, area, Line(unit_system="metric"), full=False) == "1/0 AWG"


def test_a_typed_quantity_is_kept_as_typed_and_a_bare_one_with_the_unit_it_was_meant_in():
    spec = spec_of("motor", "power_w")
    assert field_text.values_for("motor", spec, "3/4 hp", LINE)["power_typed"] == "3/4 hp"
    assert field_text.values_for("motor", spec, "1 1/2", LINE)["power_typed"] == "1 1/2 hp"
    assert field_text.values_for("motor", spec, "", LINE) == {"power_w": None, "power_typed": ""}


def test_a_reference_goes_by_name():
    spec = spec_of("drive", "supply_id")
    assert field_text.offered(spec, LINE) == ("", "Shed", "Office")
    assert field_text.shown(spec, 4, LINE) == "Office"
    assert field_text.read(spec, "shed", LINE) == 3
    assert field_text.read(spec, "", LINE) is None
    with pytest.raises(InputError, match=r"'Barn'.*Shed, Office"):
        field_text.read(spec, "Barn", LINE)


@pytest.mark.parametrize(
    ("table", "name", "text"),
    [
        ("motor", "power_w", "5 kg"),
        ("motor", "power_w", "-1 hp"),
        ("motor", "poles", "4.5"),
        ("motor", "poles", "99"),
        ("motor", "efficiency", "120 %"),
        ("station", "kind", "Rocket"),
        ("station", "above_base", "perhaps"),
        ("instrument", "calibration_due", "soon"),
        ("motor", "serial", "x" * 500),
    ],
)
def test_what_is_no_value_of_the_field_is_refused(table, name, text):
    with pytest.raises(InputError):
        field_text.read(spec_of(table, name), text, LINE)


@pytest.mark.parametrize(
    ("table", "name", "over", "text", "either"),
    [
        ("drive_type", "discharge_wait_s", "5 min", "10", "10 min or 10 s"),
        ("drive_type", "discharge_wait_s", "5 min", " 5 ", "5 min or 5 s"),
        ("speed_reference", "pot_ohm", "10 kΩ", "4,7", "4,7 kΩ or 4,7 Ω"),
        ("speed_reference", "pot_ohm", "1 MΩ", "2", "2 MΩ or 2 Ω"),
    ],
)
def test_a_bare_number_over_a_larger_unit_is_refused_as_it_may_be_meant_in_it(
    table, name, over, text, either
):
    with pytest.raises(InputError) as refused:
        field_text.values_for(table, spec_of(table, name), text, LINE, over)
    assert refused.value.why == f"'{text.strip()}' can mean {either}."
    assert refused.value.fix == f"Type {either}."


@pytest.mark.parametrize(
    ("over", "text", "stored"),
    [
        ("5 min", "10 min", 600.0),
        ("5 min", "10 s", 10.0),
        ("5 min", "0", 0.0),
        ("5 min", "", None),
        ("90", "60", 60.0),
        ("", "300", 300.0),
    ],
)
def test_what_can_be_meant_in_one_way_is_taken(over, text, stored):
    spec = spec_of("drive_type", "discharge_wait_s")
    assert field_text.values_for("drive_type", spec, text, LINE, over) == {spec.name: stored}
