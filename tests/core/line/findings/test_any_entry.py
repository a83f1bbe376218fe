"""Whatever the fields accept: computing a line and judging it never ends in an error."""

import dataclasses
from typing import Any

from hypothesis import given
from hypothesis import settings as effort
from hypothesis import strategies as st

from core.errors import LinebookError
from core.line import compute_line
from core.line.findings import find
from core.model import RECORDS
from core.model.fields import FieldSpec
from tests.core.line.findings import sound

NUMBERS = (None, 1e-9, 1e-3, 0.02, 0.5, 1.0, 3.0, 24.0, 120.0, 690.0, 1e4, 1e9, 0.0, -5.0)
NUMBER_CODES = ("hz_max", "hz_min", "low", "high", "volts", "hertz", "limit", "up", "down")
TABLES = ("motor", "speed_reference", "drivetrain", "controls", "drive", "drive_type", "supply")
TABLES += ("enclosure", "power_in")


def accepted(field: FieldSpec) -> list[Any]:
    """What a field takes, of far too small, fitting and far too large."""
    given = (None, *field.choices) if field.sort == "choice" else NUMBERS
    found = []
    for value in given:
        try:
            found.append(field.check(value))
        except LinebookError:
            continue
    return found


@st.composite
def spoiled(draw: st.DrawFn) -> Any:
    """The sound line with entries of one record and settings of the keypad changed."""
    table = draw(st.sampled_from(TABLES))
    spec = RECORDS["cable" if table == "power_in" else table]
    fields = {f.name: accepted(f) for f in spec.fields if f.sort in ("quantity", "whole", "choice")}
    names = draw(st.lists(st.sampled_from(sorted(fields)), min_size=1, max_size=4, unique=True))
    values = {name: draw(st.sampled_from(fields[name])) for name in names if fields[name]}
    hertz = st.sampled_from([0, 1, 50, 120, 1000, 100000])
    shown = draw(st.dictionaries(st.sampled_from(NUMBER_CODES), hertz, max_size=3))
    rules = draw(st.sampled_from(["nec", "iec"]))
    held = sound.keyed(**shown)
    if table == "drive_type":
        return sound.line(held, kind=values, wiring_rules=rules)
    if table == "supply":
        return sound.line(held, supply=values, wiring_rules=rules)
    if table == "enclosure":
        panel = dataclasses.replace(sound.ENCLOSURE, **values)
        return sound.line(held, enclosures=(panel,), wiring_rules=rules)
    part = {"speed_reference": "reference"}.get(table, table)
    return sound.line(sound.change(held, **{part: values}), wiring_rules=rules)


@effort(max_examples=150, deadline=None)
@given(spoiled())
def test_no_entry_that_a_field_takes_ends_in_an_error(line):
    for entry in find(compute_line(line)).found:
        sound.check_words(entry)
