"""From the text of a frozen record back to the line, whatever format it was frozen under.

The text itself is never rewritten: it is read, its plain data is brought step by step to the
present fields, and the line is built from that. So a record verifies for ever as it was frozen.
"""

import json
from collections.abc import Callable, Mapping
from typing import Any

from core.errors import LinebookError
from core.model import RECORDS, Line, RecordSpec
from core.records.canonical import KIND

OLDEST, PRESENT = 1, 5
_FRUIT = (
    "fruit",
    "fruit_mass_kg",
    "fruit_diameter_m",
    "fruit_bulk_kg_m3",
    "throughput",
    "bins_1_s",
    "bin_mass_kg",
    "mass_flow_kg_s",
    "fruit_1_s",
    "culled",
)


class RecordError(LinebookError):
    """A frozen record cannot be read."""


def line_of(text: str) -> Line:
    """The line that a frozen record holds.

    Parameters
    ----------
    text : str
        Content of the record, as it was frozen.

    Raises
    ------
    RecordError
        It is no record, is damaged, or was made by a newer program.
    """
    told = _read(text)
    number = told.get("format")
    if not isinstance(number, int) or number < OLDEST:
        raise RecordError("The record was not read.", f"It has no format: {number!r}.", "")
    if number > PRESENT:
        raise RecordError(
            "The record was not read.",
            f"A newer Linebook made it (format {number}; this program knows {PRESENT}).",
            "Open it with that program.",
        )
    line = told["line"]
    for step in range(number, PRESENT):
        if (upgrade := _UPGRADES.get(step)) is not None:
            upgrade(line)
    try:
        built = _build(RECORDS["line"], line)
    except (KeyError, TypeError, ValueError, AttributeError, LinebookError) as fault:
        raise RecordError("The record was not read.", f"It is damaged: {fault}.", "") from fault
    assert isinstance(built, Line)
    return built


def format_of(text: str) -> int:
    """The file format under which a record was frozen."""
    return int(_read(text).get("format", 0))


def _read(text: str) -> dict[str, Any]:
    try:
        told = json.loads(text)
    except ValueError as fault:
        raise RecordError("The record was not read.", f"It is no JSON: {fault}.", "") from fault
    if (
        not isinstance(told, dict)
        or told.get("kind") != KIND
        or not isinstance(told.get("line"), dict)
    ):
        raise RecordError("The record was not read.", "It is no record of a line.", "")
    return told


def _build(spec: RecordSpec, told: Mapping[str, Any]) -> Any:
    """A record from plain data; a field that is not there has its default, one too many is left."""
    values: dict[str, Any] = {"id": int(told.get("id", 0))}
    for field in spec.fields:
        if field.name in told:
            value = told[field.name]
            values[field.name] = value if value is None else _typed(field.check(value), field.sort)
    for child in spec.children:
        held = RECORDS[child.table]
        given = told.get(child.name, [] if child.many else {})
        if child.many:
            values[child.name] = tuple(_build(held, entry) for entry in given)
        else:
            values[child.name] = _build(held, given)
    return spec.cls(**values)


def _typed(value: Any, sort: str) -> Any:
    return float(value) if sort == "quantity" else value


def _from_2(line: dict[str, Any]) -> None:
    """Format 3 keeps fruit and throughput of the line as its first recipe."""
    fruit = {name: line.pop(name) for name in _FRUIT if name in line}
    if any(value not in (None, "") for value in fruit.values()):
        name = fruit.get("fruit") or "Recipe 1"
        line["recipes"] = [{"id": 1, "name": name, **fruit, "speeds": []}]


_UPGRADES: Mapping[int, Callable[[dict[str, Any]], None]] = {2: _from_2}
"""What each step to the next format changes in the plain data; most only add fields."""
