"""A named step: one transaction, one undo entry, one record of what changed."""

import datetime
import json
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa

from core.errors import InputError
from core.model import RECORDS, FieldSpec
from core.store.schema import HISTORY, ROOT, TABLES, is_single, parent_column

Row = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Change:
    """What happened to one row: the touched columns before and after; None where it was not."""

    table: str
    record_id: int
    before: Row | None
    after: Row | None

    def reversed(self) -> "Change":
        """The change that takes this one back."""
        return Change(self.table, self.record_id, self.after, self.before)


@dataclass(frozen=True, slots=True)
class Changes:
    """What one step touched, told to every view so that each can decide whether to draw again."""

    step: str
    tables: frozenset[str]
    touched: Mapping[str, frozenset[int]]

    @property
    def station_ids(self) -> frozenset[int]:
        """Stations of which anything changed, removed ones included."""
        return self.touched.get("station", frozenset())


class Step:
    """Writes rows inside one transaction and remembers each change.

    Handed out by `LineFile.step`; the only way to write to a line file.
    """

    def __init__(self, conn: sa.Connection, name: str) -> None:
        self.name = name
        self.changes: list[Change] = []
        self.touched: dict[str, set[int]] = {}
        self._conn = conn

    def set(self, table: str, record_id: int, **values: Any) -> None:
        """Give fields of one record new values; unchanged ones are passed over.

        Raises
        ------
        InputError
            A value was refused by its declaration, or is used already where it must be unique.
        """
        before = self.row(table, record_id)
        checked = self._checked(table, values)
        changed = {name: value for name, value in checked.items() if before[name] != value}
        if not changed:
            return
        self._check_unique(table, {**before, **changed}, changed, record_id)
        old = {name: before[name] for name in changed}
        self._apply(Change(table, record_id, old, changed))

    def add(
        self, table: str, parent_id: int | None = None, at: int | None = None, **values: Any
    ) -> int:
        """Add a record, with the single records that it holds; gives its id.

        ``at`` is its place among its brothers, from 0; without it the record comes last.
        """
        spec = RECORDS[table]
        row: Row = {field.name: field.default for field in spec.fields}
        row.update(self._checked(table, values))
        if parent := parent_column(spec):
            row[parent] = parent_id
        if not is_single(spec):
            row["position"] = len(self._brothers(table, parent_id))
        self._check_unique(table, row, row, 0)
        inserted = self._conn.execute(sa.insert(TABLES[table]).values(**row))
        assert inserted.inserted_primary_key is not None
        record_id = int(inserted.inserted_primary_key[0])
        self.changes.append(Change(table, record_id, None, {"id": record_id, **row}))
        for child in spec.children:
            if not child.many:
                self.add(child.table, record_id)
        if at is not None:
            self.move(table, record_id, at)
        return record_id

    def remove(self, table: str, record_id: int) -> None:
        """Remove a record with all that it holds.

        Raises
        ------
        InputError
            Another record still refers to it.
        """
        self._refuse_if_used(table, record_id)
        for child in RECORDS[table].children:
            column = parent_column(RECORDS[child.table])
            assert column is not None
            held = TABLES[child.table]
            found = self._conn.execute(sa.select(held.c.id).where(held.c[column] == record_id))
            for held_id in found.scalars().all():
                self.remove(child.table, held_id)
        self._apply(Change(table, record_id, self.row(table, record_id), None))

    def move(self, table: str, record_id: int, place: int) -> None:
        """Put a record at another place, from 0, among its brothers."""
        parent = parent_column(RECORDS[table])
        parent_id = self.row(table, record_id)[parent] if parent else None
        order = [brother for brother in self._brothers(table, parent_id) if brother != record_id]
        order.insert(max(0, min(place, len(order))), record_id)
        for position, brother in enumerate(order):
            old = self.row(table, brother)["position"]
            if old != position:
                self._apply(Change(table, brother, {"position": old}, {"position": position}))

    def row(self, table: str, record_id: int) -> Row:
        """All columns of one record as they stand inside the step."""
        found = self._conn.execute(
            sa.select(TABLES[table]).where(TABLES[table].c.id == record_id)
        ).one_or_none()
        if found is None:
            raise InputError(
                "Nothing was changed.",
                f"There is no {RECORDS[table].label.lower()} {record_id} any more.",
                "Choose one that is there.",
            )
        return dict(found._mapping)

    def replay(self, changes: list[Change]) -> None:
        """Apply changes as they are, for undo and redo."""
        for change in changes:
            self._apply(change)

    def _apply(self, change: Change) -> None:
        table = TABLES[change.table]
        here = table.c.id == change.record_id
        if change.after is None:
            self._conn.execute(sa.delete(table).where(here))
        elif change.before is None:
            self._conn.execute(sa.insert(table).values(**change.after))
        else:
            self._conn.execute(sa.update(table).where(here).values(**change.after))
        self.changes.append(change)

    def _checked(self, table: str, values: Mapping[str, Any]) -> Row:
        spec = RECORDS[table]
        return {name: spec.field(name).check(value) for name, value in values.items()}

    def _brothers(self, table: str, parent_id: int | None) -> list[int]:
        held = TABLES[table]
        question = sa.select(held.c.id).order_by(held.c.position)
        if parent := parent_column(RECORDS[table]):
            question = question.where(held.c[parent] == parent_id)
        return list(self._conn.execute(question).scalars())

    def _check_unique(self, table: str, row: Row, changed: Row, record_id: int) -> None:
        spec = RECORDS[table]
        held = TABLES[table]
        parent = parent_column(spec)
        for field in spec.fields:
            if not field.unique or field.name not in changed:
                continue
            if row[field.name] in (None, ""):
                raise field.refusal("nothing", f"Every {spec.label.lower()} needs its own.")
            question = sa.select(held.c.id).where(held.c[field.name] == row[field.name])
            if parent:
                question = question.where(held.c[parent] == row[parent])
            if any(other != record_id for other in self._conn.execute(question).scalars()):
                raise _taken(spec.label, field, row[field.name])

    def _refuse_if_used(self, table: str, record_id: int) -> None:
        for spec in RECORDS.values():
            for field in spec.fields:
                if field.sort != "ref" or field.target != table:
                    continue
                held = TABLES[spec.table]
                used = (
                    self._conn.execute(sa.select(held.c.id).where(held.c[field.name] == record_id))
                    .scalars()
                    .all()
                )
                if used:
                    places = sorted({self.place(spec.table, user) for user in used})
                    raise InputError(
                        f"The {RECORDS[table].label.lower()} was not removed.",
                        f"It is still used by {', '.join(places)}.",
                        "Choose another one there first.",
                    )

    def place(self, table: str, record_id: int) -> str:
        """Where a record stands, in the user's words: its station's tag or its own name."""
        top, top_id = self.top_of(table, record_id)
        if top == ROOT:
            return "line"
        row = self.row(top, top_id)
        return str(row.get("tag") or row.get("name") or RECORDS[top].label.lower())

    def top_of(self, table: str, record_id: int, row: Row | None = None) -> tuple[str, int]:
        """The record right below the line that holds this one; ``row`` for a removed record."""
        while parent := parent_column(RECORDS[table]):
            found = row if row is not None else self.row(table, record_id)
            table, record_id, row = RECORDS[table].parent, int(found[parent]), None
        return table, record_id


def _taken(label: str, field: FieldSpec, value: str) -> InputError:
    return field.refusal(f"'{value}'", f"Another {label.lower()} has it already; choose another.")


def touched_by(step: Step) -> dict[str, set[int]]:
    """Ids of the records right below the line that a step touched, by table."""
    held_by: dict[tuple[str, int], tuple[str, int]] = {}
    for change in step.changes:
        row = change.before if change.after is None else change.after
        parent = parent_column(RECORDS[change.table])
        if parent and row and parent in row:
            key = (change.table, change.record_id)
            held_by[key] = (RECORDS[change.table].parent, int(row[parent]))
    touched: dict[str, set[int]] = defaultdict(set)
    for change in step.changes:
        table, record_id = change.table, change.record_id
        while RECORDS[table].parent not in ("", ROOT):
            known = held_by.get((table, record_id))
            if known is None:
                known = step.top_of(table, record_id)
            table, record_id = known
        touched[table].add(record_id)
    return dict(touched)


def write_history(step: Step, conn: sa.Connection, person: str) -> None:
    """Write who changed what from what to what, one row for each field."""
    now = datetime.datetime.now(datetime.UTC).isoformat(timespec="milliseconds")
    rows: list[Row] = []
    for change in step.changes:
        head = {
            "at": now,
            "person": person,
            "step": step.name,
            "table_name": change.table,
            "record_id": change.record_id,
            "place": _place_or_blank(step, change),
        }
        for field, old, new in _differences(change):
            rows.append({**head, "field": field, "old": old, "new": new})
    if rows:
        conn.execute(sa.insert(HISTORY), rows)


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
