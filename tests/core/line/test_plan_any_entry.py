"""Whatever the fields accept: planning a line, judging it and telling it never ends in an error."""

import dataclasses
import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from core.line import compute_line
from core.line.findings import find
from core.line.plan_listing import plan_as_data, plan_as_text
from core.line.travel import travel_advice
from core.model import RECORDS, Line
from tests.core.line import builders
from tests.core.line.findings.sound import check_words
from tests.core.line.findings.test_any_entry import accepted
from tests.core.line.fruit import whole

PARTS = {"process": "process", "drivetrain": "drivetrain", "speed_reference": "reference"}
LISTS = {"recipe": "recipes", "pair": "pairs", "flow": "flows"}


@st.composite
def entries(draw: st.DrawFn, table: str) -> dict[str, Any]:
    """Some fields of a record with values that they accept."""
    sorts = ("quantity", "whole", "choice", "flag")
    fields = {f.name: accepted(f) for f in RECORDS[table].fields if f.sort in sorts}
    fields = {name: values for name, values in fields.items() if values}
    names = draw(st.lists(st.sampled_from(sorted(fields)), min_size=1, max_size=4, unique=True))
    return {name: draw(st.sampled_from(fields[name])) for name in names}


@st.composite
def edits(draw: st.DrawFn) -> tuple[str, int, dict[str, Any]]:
    """A table, a place in its list, and the entries that are changed there."""
    table = draw(st.sampled_from(["station", "motor", "settings", *PARTS, *LISTS]))
    place = draw(st.integers(0, 10))
    if table != "settings":
        return table, place, draw(entries(table))
    hertz = st.sampled_from([0, 1, 20, 50, 60, 120, 1000])
    codes = ("hz_max", "hz_min", "ref_low", "ref_high")
    return table, place, draw(st.fixed_dictionaries(dict.fromkeys(codes, hertz)))


def edited(held: Line, table: str, place: int, values: dict[str, Any]) -> Line:
    name = LISTS.get(table, "stations")
    records = list(getattr(held, name))
    place %= len(records)
    records[place] = _changed(records[place], table, values)
    return dataclasses.replace(held, **{name: tuple(records)})


def _changed(record: Any, table: str, values: dict[str, Any]) -> Any:
    if table in PARTS:
        part = dataclasses.replace(getattr(record, PARTS[table]), **values)
        return dataclasses.replace(record, **{PARTS[table]: part})
    if table == "settings":
        shown = builders.settings(**values)
        return dataclasses.replace(record, drive=dataclasses.replace(record.drive, settings=shown))
    if table == "motor":
        motors = tuple(dataclasses.replace(motor, **values) for motor in record.motors)
        return dataclasses.replace(record, motors=motors)
    return dataclasses.replace(record, **values)


@settings(max_examples=200, deadline=None)
@given(st.lists(edits(), min_size=1, max_size=3))
def test_no_entry_that_a_field_takes_ends_in_an_error(changes):
    line = whole()
    for change in changes:
        line = edited(line, *change)
    results = compute_line(line)
    for entry in find(results).found:
        check_words(entry)
    assert plan_as_text(results)
    json.dumps(plan_as_data(results), allow_nan=False)
    for advice in travel_advice(results):
        assert advice.step_hz >= 0.0
