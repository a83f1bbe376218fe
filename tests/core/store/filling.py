"""Rows in every table, with a value other than the default in every column."""

import hashlib
from typing import Any

from core.model import RECORDS, FieldSpec, RecordSpec
from core.store import LineFile, Step

Values = dict[str, Any]
Filled = dict[str, dict[str, Values]]
"""For each table and id, what was written there: the parent's id, the place and the fields."""

_EACH = (1, 2)


def fill(book: LineFile) -> Filled:
    """Put two records of every kind, made from their declarations, into an empty file.

    What comes back is what was asked for, not what the file gives.
    """
    filled: Filled = {table: {} for table in RECORDS}
    line = RECORDS["line"]
    with book.step("Fill the line") as step:
        _set(step, filled, line, book.line.id, _values(line, 1, filled))
        for child in line.children:
            for number in _EACH:
                spec = RECORDS[child.table]
                _add(step, filled, spec, None, number)
    with book.step("Fill what the records hold") as step:
        for child in line.children:
            for number, entry in enumerate(getattr(book.line, child.name), start=1):
                _fill_held(step, filled, RECORDS[child.table], entry, number)
        for number in range(1, 2 * len(_EACH) + 1):
            step.keep_photo(photo_bytes(number))
    return filled


def photo_bytes(number: int) -> bytes:
    """Bytes that stand for a photograph; the file does not look into them."""
    return f"Dots of photograph {number}".encode()


def _fill_held(step: Step, filled: Filled, spec: RecordSpec, entry: Any, number: int) -> None:
    for child in spec.children:
        held = RECORDS[child.table]
        if child.many:
            for place in _EACH:
                # The second holder's records differ from the first one's.
                other = place + 2 * (number - 1)
                _add(step, filled, held, (f"{spec.table}_id", entry.id), other)
                filled[child.table][list(filled[child.table])[-1]]["position"] = place - 1
            continue
        part = getattr(entry, child.name)
        values = _values(held, number, filled)
        _set(step, filled, held, part.id, values)
        filled[child.table][str(part.id)][f"{spec.table}_id"] = entry.id
        _fill_held(step, filled, held, part, number)


def _set(step: Step, filled: Filled, spec: RecordSpec, record_id: int, values: Values) -> None:
    step.set(spec.table, record_id, **values)
    filled[spec.table][str(record_id)] = {"id": record_id, **values}


def _add(
    step: Step, filled: Filled, spec: RecordSpec, parent: tuple[str, int] | None, number: int
) -> None:
    values = _values(spec, number, filled)
    record_id = step.add(spec.table, parent[1] if parent else None, **values)
    held_by = dict([parent]) if parent else {}
    place = {"id": record_id, "position": number - 1}
    filled[spec.table][str(record_id)] = {**place, **held_by, **values}


def _values(spec: RecordSpec, number: int, filled: Filled) -> Values:
    return {
        field.name: _value(field, index, number, filled)
        for index, field in enumerate(spec.fields, start=1)
    }


def _value(field: FieldSpec, index: int, number: int, filled: Filled) -> Any:
    if field.sort == "ref":
        ids = [int(record_id) for record_id in filled[field.target]]
        return ids[(number + index) % len(ids)]
    if field.name == "sha256":
        return hashlib.sha256(photo_bytes(number)).hexdigest()
    if field.sort == "quantity":
        low = -1000.0 if field.minimum is None else field.minimum
        high = low + 1000.0 if field.maximum is None else field.maximum
        return low + (high - low) * (index % 7 + number) / 11.0
    if field.sort == "whole":
        return int(field.minimum or 0) + number + index % 3
    if field.sort == "choice":
        words = [word for word in field.choices if word != field.default]
        return words[(number + index) % len(words)]
    return {
        "flag": number == 1,
        "date": f"2026-11-{number + 20}",
        "long_text": f"{field.label} {number}\n=1+1; 'ñ' \"Ω\" ½ → Łódź",
    }.get(field.sort, f"{field.label} {number} °C µ 'ä' =A1")
