"""How records declare their fields, and what a declaration takes and refuses."""

import dataclasses
import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import InputError
from core.model import RECORDS, RECORDS_BY_CLASS, FieldSpec, Line, Motor, RecordSpec
from core.model.fields import LONGEST_NOTE, LONGEST_TEXT
from core.units import KINDS

FIELDS = [
    pytest.param(spec, field, id=f"{spec.table}.{field.name}")
    for spec in RECORDS.values()
    for field in spec.fields
]
ALL = [field for spec in RECORDS.values() for field in spec.fields]
RECORD_SPECS = [pytest.param(spec, id=spec.table) for spec in RECORDS.values()]

TEXT = RECORDS["station"].field("name")
NOTE = RECORDS["station"].field("notes")
POWER = RECORDS["motor"].field("power_w")
FACTOR = RECORDS["motor"].field("power_factor")
POLES = RECORDS["motor"].field("poles")
KIND = RECORDS["station"].field("kind")
AREA = RECORDS["station"].field("area")
FLAG = RECORDS["station"].field("above_base")
DAY = RECORDS["instrument"].field("calibration_due")
TARGET = RECORDS["drive"].field("drive_type_id")
LOWEST = RECORDS["speed_reference"].field("low_v")


def test_every_kind_of_record_is_entered_once() -> None:
    assert len(RECORDS) == len(RECORDS_BY_CLASS) == 31
    assert all(RECORDS[spec.table] is spec for spec in RECORDS_BY_CLASS.values())
    assert RECORDS_BY_CLASS[Motor].table == "motor"


@pytest.mark.parametrize("spec", RECORD_SPECS)
def test_fields_stand_in_the_order_in_which_rows_are_read(spec: RecordSpec) -> None:
    names = [field.name for field in dataclasses.fields(spec.cls)]  # type: ignore[arg-type]
    told = [field.name for field in spec.fields] + [child.name for child in spec.children]
    assert names == ["id", *told]


@pytest.mark.parametrize("spec", RECORD_SPECS)
def test_record_is_frozen_and_made_of_its_defaults(spec: RecordSpec) -> None:
    made = spec.cls()
    assert made == spec.cls()
    for field in spec.fields:
        assert getattr(made, field.name) == field.default
        assert field.default is None or field.check(field.default) == field.default
    with pytest.raises(dataclasses.FrozenInstanceError):
        made.id = 5


@pytest.mark.parametrize("spec", RECORD_SPECS)
def test_labels_are_there_and_unique_within_a_record(spec: RecordSpec) -> None:
    labels = [field.label for field in spec.fields if field.sort != "typed"]
    assert all(label.strip() == label and label[0].isupper() for label in labels)
    assert len(set(labels)) == len(labels)
    assert spec.label


@pytest.mark.parametrize("spec", RECORD_SPECS)
def test_held_records_know_who_holds_them(spec: RecordSpec) -> None:
    for child in spec.children:
        assert RECORDS[child.table].parent == spec.table
    holders = [s for s in RECORDS.values() if spec.table in {c.table for c in s.children}]
    assert len(holders) == (0 if spec.table == "line" else 1)


@pytest.mark.parametrize(("spec", "field"), FIELDS)
def test_declaration_hangs_together(spec: RecordSpec, field: FieldSpec) -> None:
    assert spec.field(field.name) is field
    assert bool(field.kind) == (field.sort == "quantity")
    assert bool(field.choices) == (field.sort == "choice")
    assert bool(field.target) == (field.sort == "ref")
    assert field.default is None or field.sort != "choice" or field.default in field.choices
    if field.sort == "typed":
        assert spec.field(field.label).sort == "quantity"
    if field.sort == "ref":
        assert field.target in RECORDS
        assert field.name.endswith("_id")
    for other, allowed in field.only.items():
        record, _, name = other.rpartition(".")
        named = RECORDS[record or spec.table].field(name)
        assert allowed <= set(named.choices)


@pytest.mark.parametrize(
    "field", [entry for entry in ALL if entry.sort == "quantity"], ids=lambda field: field.name
)
def test_quantity_is_of_a_known_kind_and_named_with_its_unit(field: FieldSpec) -> None:
    suffixes = {"1_s": ("1_s", "hz")}  # one per second is a hertz
    suffix = KINDS[field.kind].si_suffix
    named = [field.name.endswith(f"_{end}") for end in suffixes.get(suffix, (suffix,))]
    assert suffix == "1" or any(named)


@pytest.mark.parametrize(
    "field", [entry for entry in ALL if entry.sort == "choice"], ids=lambda field: field.name
)
def test_words_of_a_choice_are_plain_and_shown_apart(field: FieldSpec) -> None:
    shown = list(field.choices.values())
    assert len(set(shown)) == len(shown)
    assert all(re.fullmatch(r"[A-Za-z0-9_ ]+", word) for word in field.choices)
    assert all(text.strip() for text in shown)


def test_unknown_field_is_a_fault_of_the_program() -> None:
    with pytest.raises(KeyError, match="motor has no field colour"):
        RECORDS["motor"].field("colour")


@pytest.mark.parametrize(
    ("field", "value", "stored"),
    [
        (TEXT, " Brush bed ", "Brush bed"),
        (TEXT, "two\nlines\tand a tab", "two lines and a tab"),
        (TEXT, None, ""),
        (TEXT, "½ Ω → Łódź", "½ Ω → Łódź"),
        (NOTE, "two\r\nlines\rthree\n", "two\nlines\nthree\n"),
        (TEXT, "x" * LONGEST_TEXT, "x" * LONGEST_TEXT),
        (POWER, 750, 750.0),
        (POWER, None, None),
        (FACTOR, 1.0, 1.0),
        (LOWEST, -10.0, -10.0),
        (POLES, 4.0, 4),
        (POLES, 4, 4),
        (KIND, "pump", "pump"),
        (AREA, None, None),
        (FLAG, 1, True),
        (FLAG, False, False),
        (DAY, "2026-11-25", "2026-11-25"),
        (DAY, None, None),
        (TARGET, 3, 3),
        (TARGET, None, None),
    ],
)
def test_value_is_given_back_as_it_is_stored(
    field: FieldSpec, value: object, stored: object
) -> None:
    found = field.check(value)
    assert found == stored
    assert type(found) is type(stored)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        (TEXT, 5),
        (TEXT, b"bytes"),
        (TEXT, "x" * (LONGEST_TEXT + 1)),
        (NOTE, "x" * (LONGEST_NOTE + 1)),
        (TEXT, "nul \x00"),
        (TEXT, "bell \x07"),
        (TEXT, "delete \x7f"),
        (TEXT, "control \x85"),
        (TEXT, "half a sign \ud83d"),
        (NOTE, "escape \x1b[0m"),
        (POWER, math.nan),
        (POWER, math.inf),
        (POWER, -math.inf),
        (POWER, 10**400),
        (POWER, True),
        (POWER, "750"),
        (POWER, 750j),
        (POWER, 0.0),
        (POWER, -1.0),
        (FACTOR, 82.0),
        (FACTOR, 1.0000001),
        (POLES, 4.5),
        (POLES, True),
        (POLES, 1),
        (POLES, 26),
        (POLES, math.nan),
        (RECORDS["reference_input"].field("resolution_bits"), 10**400),
        (RECORDS["drivetrain"].field("driver_teeth"), 10**30),
        (RECORDS["drivetrain"].field("driver_teeth"), 1e300),
        (KIND, "rocket"),
        (KIND, "Pump"),
        (KIND, ""),
        (KIND, None),
        (KIND, ["pump"]),
        (KIND, 1),
        (AREA, ""),
        (FLAG, None),
        (FLAG, "yes"),
        (FLAG, 2),
        (DAY, "25.11.2026"),
        (DAY, "2026-02-30"),
        (DAY, ""),
        (DAY, 20261125),
        (TARGET, 0),
        (TARGET, -1),
        (TARGET, True),
        (TARGET, "3"),
        (TARGET, 3.0),
    ],
)
def test_value_that_cannot_be_stored_is_refused_in_sentences(
    field: FieldSpec, value: object
) -> None:
    with pytest.raises(InputError) as refused:
        field.check(value)
    assert refused.value.what == f"{field.label} was not taken."
    assert refused.value.why.startswith("Found ")
    assert refused.value.why.endswith(".")
    assert refused.value.fix.endswith(".")


def test_refusal_names_the_words_offered() -> None:
    with pytest.raises(InputError, match=r"Choose one of: Dry, Damp, Washdown\."):
        AREA.check("wet")


def test_refusal_names_the_bound() -> None:
    with pytest.raises(InputError, match=r"more than 0\."):
        POWER.check(0.0)
    with pytest.raises(InputError, match=r"24 at the most\."):
        POLES.check(25)
    with pytest.raises(InputError, match=r"not less than 2\."):
        POLES.check(1)


@given(st.floats())
def test_number_is_kept_to_its_last_bit_or_refused(value: float) -> None:
    if 0.0 < value < math.inf:
        assert POWER.check(value) == value
    else:
        with pytest.raises(InputError):
            POWER.check(value)


@given(st.text(max_size=250))
def test_stored_text_is_stored_the_same_again(value: str) -> None:
    for field in (TEXT, NOTE):
        try:
            stored = field.check(value)
        except InputError:
            continue
        assert field.check(stored) == stored


def test_field_applies_beside_the_values_that_give_it_a_meaning() -> None:
    ohms = RECORDS["speed_reference"].field("pot_ohm")
    assert ohms.applies({"source": "potentiometer"})
    assert not ohms.applies({"source": "current"})
    assert not ohms.applies({"source": None})
    assert not ohms.applies({})
    assert TEXT.applies({})


def test_numbers_and_words_are_told_apart() -> None:
    assert POWER.is_number
    assert POLES.is_number
    assert not TEXT.is_number
    assert not DAY.is_number


def test_root_of_the_graph_is_the_line() -> None:
    assert RECORDS["line"].cls is Line
    assert RECORDS["line"].parent == ""
