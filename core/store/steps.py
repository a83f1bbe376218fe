"""A named step: one transaction, one undo entry, one record of what changed."""

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa

from core.errors import InputError
from core.model import RECORDS, FieldSpec
from core.store.photos import put_content
from core.store.schema import ROOT, TABLES, is_single, parent_column

Row = dict[str, Any]
Top = tuple[str, int]
"""Table and id of a record."""


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
        # Both spare a long import a question for every row.
        self._seen: set[Top] = set()
        self._last_positions: dict[tuple[str, int | None], int] = {}

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

        Raises
        ------
        InputError
            A value was refused, is used already where it must be unique, or the record that is
            to hold the new one is not there.
        """
        spec = RECORDS[table]
        row: Row = {field.name: field.default for field in spec.fields}
        row.update(self._checked(table, values))
        if parent := parent_column(spec):
            row[parent] = self._present(spec.parent, parent_id or 0)
        if not is_single(spec):
            row["position"] = self._next_position(table, parent_id)
        self._check_unique(table, row, row, 0)
        inserted = self._conn.execute(_insert(table), row)
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
        row = self.row(table, record_id)
        parent_id = row[parent] if parent else None
        positions = self._positions(table, parent_id)
        order = [brother for brother in positions if brother != record_id]
        order.insert(max(0, min(place, len(order))), record_id)
        for position, brother in enumerate(order):
            old = positions[brother]
            if old != position:
                self._apply(Change(table, brother, {"position": old}, {"position": position}))

    def keep_photo(self, content: bytes) -> str:
        """Keep the bytes of a photograph, and give the digest by which a record names them.

        They are no change of the line: undo leaves them, so that redo finds them.
        """
        return put_content(self._conn, content)

    def row(self, table: str, record_id: int) -> Row:
        """All columns of one record as they stand inside the step."""
        found = self._conn.execute(_select(table), {"wanted": record_id}).one_or_none()
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
            self._seen.discard((change.table, change.record_id))
        elif change.before is None:
            self._conn.execute(_insert(change.table), change.after)
        else:
            self._conn.execute(sa.update(table).where(here).values(**change.after))
        self.changes.append(change)

    def _checked(self, table: str, values: Mapping[str, Any]) -> Row:
        checked = {name: RECORDS[table].field(name).check(value) for name, value in values.items()}
        for name, value in checked.items():
            field = RECORDS[table].field(name)
            if field.sort == "ref" and value is not None:
                self._present(field.target, value)
        return checked

    def _positions(self, table: str, parent_id: int | None) -> dict[int, int]:
        """Position of each brother by its id, in their order."""
        held = TABLES[table].c
        question = self._beside(table, parent_id, held.id, held.position)
        found = self._conn.execute(question.order_by(held.position, held.id))
        return {row.id: row.position for row in found}

    def _next_position(self, table: str, parent_id: int | None) -> int:
        # One after the last, not their count: a removed record leaves its position empty.
        here = (table, parent_id)
        if here not in self._last_positions:
            last = self._beside(table, parent_id, sa.func.max(TABLES[table].c.position))
            found = self._conn.execute(last).scalar()
            self._last_positions[here] = -1 if found is None else int(found)
        self._last_positions[here] += 1
        return self._last_positions[here]

    def _present(self, table: str, record_id: int) -> int:
        if (table, record_id) not in self._seen:
            self.row(table, record_id)
            self._seen.add((table, record_id))
        return record_id

    def _beside(
        self, table: str, parent_id: int | None, *columns: sa.ColumnElement[Any]
    ) -> sa.Select[Any]:
        parent = parent_column(RECORDS[table])
        question = sa.select(*columns)
        return question.where(TABLES[table].c[parent] == parent_id) if parent else question

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
        return called(top, self.row(top, top_id))

    def top_of(self, table: str, record_id: int) -> Top:
        """The record right below the line that holds this one; the line itself for the line."""
        return climb(self, {}, (table, record_id))

    def holder_of(self, table: str, record_id: int) -> Top:
        """The record that holds this one."""
        parent = parent_column(RECORDS[table])
        assert parent is not None
        return RECORDS[table].parent, int(self.row(table, record_id)[parent])


def _taken(label: str, field: FieldSpec, value: str) -> InputError:
    return field.refusal(f"'{value}'", f"Another {label.lower()} has it already; choose another.")


@functools.cache
def _select(table: str) -> sa.Select[Any]:
    held = TABLES[table]
    return sa.select(held).where(held.c.id == sa.bindparam("wanted"))


@functools.cache
def _insert(table: str) -> sa.Insert:
    return sa.insert(TABLES[table])


def called(table: str, row: Row) -> str:
    """What the user calls a record: its tag, its name, or what kind of thing it is."""
    return str(row.get("tag") or row.get("name") or RECORDS[table].label.lower())


def climb(step: Step, holders: dict[Top, Top], here: Top) -> Top:
    """The record right below the line that holds one; ``holders`` keeps what was looked up."""
    while parent_column(RECORDS[here[0]]):
        if here not in holders:
            holders[here] = step.holder_of(*here)
        here = holders[here]
    return here
