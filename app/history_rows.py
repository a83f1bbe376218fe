"""The history of a line file in the words of its fields."""

import datetime
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from app import field_text
from core.model import RECORDS, FieldSpec, Line
from core.store import HistoryRow

ADDED, REMOVED = "added", "removed"
_POSITION = "position"
# The number behind a keypad value follows from the value itself and would tell it twice; so does
# the size of a photograph from its content.
_FOLLOWS = {
    ("setting", "value"),
    ("photo", "width_px"),
    ("photo", "height_px"),
    ("photo", "size_bytes"),
}
# These come and go with the record that holds them.
_SINGLE = {child.table for spec in RECORDS.values() for child in spec.children if not child.many}


@dataclass(frozen=True, slots=True)
class ShownChange:
    """One change as the page shows it; ``haystack`` is all of it in lower case, for finding."""

    when: str
    who: str
    step: str
    where: str
    what: str
    before: str
    after: str
    haystack: str

    @property
    def texts(self) -> tuple[str, ...]:
        """The columns in their order."""
        return self.when, self.who, self.step, self.where, self.what, self.before, self.after


def shown_changes(rows: Iterable[HistoryRow], line: Line) -> list[ShownChange]:
    """Tell changes in the unit system of the line and the local time, in the order given."""
    rows = list(rows)
    codes = dict(_codes(rows, line))
    told = []
    for row in rows:
        if (row.table, row.field) in _FOLLOWS:
            continue
        sides = _sides(row, line) if row.table in RECORDS else ("", _frozen(row.new))
        if sides is None:
            continue
        before, after = sides
        texts = (local_time(row.at), row.person, row.step, row.place, _what(row, codes))
        haystack = "\n".join((*texts, before, after)).casefold()
        told.append(ShownChange(*texts, before, after, haystack))
    return told


def local_time(utc: str) -> str:
    """A stored moment (ISO 8601, UTC) by the clock of this machine.

    Examples
    --------
    >>> local_time("2026-11-25T12:00:00.000+00:00")[:4]
    '2026'
    """
    return datetime.datetime.fromisoformat(utc).astimezone().strftime("%Y-%m-%d %H:%M:%S")


def _codes(rows: Iterable[HistoryRow], line: Line) -> Iterator[tuple[int, str]]:
    """The code of each drive setting by its id, of removed ones too."""
    for row in rows:
        if row.table == "setting" and not row.field:
            yield row.record_id, json.loads(row.new or row.old or "{}").get("code", "")
    for station in line.stations:
        for setting in station.drive.settings:
            yield setting.id, setting.code


def _sides(row: HistoryRow, line: Line) -> tuple[str, str] | None:
    """A change before and after; None where there is nothing to tell."""
    before, after = _told(row, row.old, line), _told(row, row.new, line)
    if row.field:
        return before, after
    if row.table in _SINGLE and not before and not after:
        return None
    return (before, REMOVED) if row.new is None else (ADDED, after)


def _frozen(new: str | None) -> str:
    """What the history tells of a frozen record: why, and the beginning of its hash."""
    told = json.loads(new or "{}")
    if not isinstance(told, dict):
        return str(told)
    return f"{told.get('reason', '')}, SHA-256 {str(told.get('sha256', ''))[:16]}"


def _what(row: HistoryRow, codes: Mapping[int, str]) -> str:
    if row.table not in RECORDS:
        return "Frozen record"
    record = RECORDS[row.table].label
    if row.table == "setting":
        record = f"{record} {codes.get(row.record_id, '')}".rstrip()
    return f"{record}: {_label(row)}" if row.field else record


def _label(row: HistoryRow) -> str:
    if row.field == _POSITION:
        return "Place in the list"
    spec = _spec(row.table, row.field)
    if spec is None:
        return row.field
    if spec.sort == "typed":
        return f"{RECORDS[row.table].field(spec.label).label}, as typed"
    return spec.label


def _told(row: HistoryRow, stored: str | None, line: Line) -> str:
    value = None if stored is None else json.loads(stored)
    if row.field == _POSITION:
        return "" if value is None else str(value + 1)
    if row.field:
        return _shown(_spec(row.table, row.field), value, line)
    return ", ".join(_contents(row.table, value or {}, line))


def _contents(table: str, values: Mapping[str, Any], line: Line) -> Iterator[str]:
    """The fields of an added or removed record that hold something of their own."""
    for spec in RECORDS[table].fields:
        value = values.get(spec.name)
        followed = spec.sort == "typed" or (table, spec.name) in _FOLLOWS
        if value in (None, "", spec.default) or followed:
            continue
        yield f"{spec.label} {_shown(spec, value, line)}"


def _spec(table: str, name: str) -> FieldSpec | None:
    return next((spec for spec in RECORDS[table].fields if spec.name == name), None)


def _shown(spec: FieldSpec | None, value: Any, line: Line) -> str:
    if value is None:
        return ""
    if spec is None:
        return str(value)
    # A record that was referred to may be gone by now; its number is all that is left of it.
    return field_text.shown(spec, value, line) or (f"no. {value}" if spec.sort == "ref" else "")
