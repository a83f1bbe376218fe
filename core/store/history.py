"""Who changed what, when, from what and to what; and in which record a change happened."""

import datetime
import json
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa

from core.errors import InputError
from core.model import RECORDS
from core.store.schema import HISTORY, parent_column
from core.store.steps import Change, Row, Step, Top, called, climb


@dataclass(frozen=True, slots=True)
class HistoryRow:
    """One field of one record, changed by one person at one time.

    ``old`` and ``new`` are JSON: of the field's value, or of the whole record (``field`` is then
    empty) where it was added or removed.
    """

    at: str
    person: str
    step: str
    table: str
    record_id: int
    place: str
    field: str
    old: str | None
    new: str | None


def tops_of(step: Step) -> list[Top]:
    """For each change of a step, the record right below the line that it happened in."""
    holders: dict[Top, Top] = {}
    for change in step.changes:
        row = change.before if change.after is None else change.after
        parent = parent_column(RECORDS[change.table])
        if parent and row and parent in row:
            holder = (RECORDS[change.table].parent, int(row[parent]))
            holders[change.table, change.record_id] = holder
    return [climb(step, holders, (change.table, change.record_id)) for change in step.changes]


def touched_by(tops: Iterable[Top]) -> dict[str, set[int]]:
    """Ids of the touched records right below the line, and of the line itself, by table."""
    touched: dict[str, set[int]] = defaultdict(set)
    for table, record_id in tops:
        touched[table].add(record_id)
    return dict(touched)


def write_history(step: Step, conn: sa.Connection, person: str, tops: Sequence[Top]) -> None:
    """Write who changed what from what to what, one row for each field."""
    now = datetime.datetime.now(datetime.UTC).isoformat(timespec="milliseconds")
    places = _places(step, tops)
    rows: list[Row] = []
    for change, top in zip(step.changes, tops, strict=True):
        head = {
            "at": now,
            "person": person,
            "step": step.name,
            "table_name": change.table,
            "record_id": change.record_id,
            "place": places[top],
        }
        for field, old, new in _differences(change):
            rows.append({**head, "field": field, "old": old, "new": new})
    if rows:
        conn.execute(sa.insert(HISTORY), rows)


def _places(step: Step, tops: Iterable[Top]) -> dict[Top, str]:
    gone = {(c.table, c.record_id): c.before for c in step.changes if c.after is None}
    places = {}
    for top in set(tops):
        try:
            places[top] = step.place(*top)
        except InputError:
            places[top] = called(top[0], gone.get(top) or {})
    return places


def _differences(change: Change) -> list[tuple[str, str | None, str | None]]:
    if change.before is None or change.after is None:
        return [("", _row_json(change.before), _row_json(change.after))]
    return [(name, _json(change.before[name]), _json(change.after[name])) for name in change.after]


def _json(value: Any) -> str | None:
    return None if value is None else json.dumps(value, ensure_ascii=False)


def _row_json(row: Row | None) -> str | None:
    told = {name: value for name, value in (row or {}).items() if value not in (None, "")}
    return None if row is None else _json(told)


def _place_or_blank(step: Step, change: Change) -> str:
    try:
        return step.place(change.table, change.record_id)
    except InputError:
        row = change.before or {}
        return str(row.get("tag") or row.get("name") or "")


def read_history(conn: sa.Connection, newest: int) -> list[HistoryRow]:
    """The newest rows, newest first."""
    columns = [column for column in HISTORY.c if column.name != "id"]
    question = sa.select(*columns).order_by(HISTORY.c.id.desc()).limit(newest)
    return [HistoryRow(*row) for row in conn.execute(question)]
