"""From the rows of a file to the graph of the line.

Rows come by plain column selects, one select per table, and are put together by their parent's
id: no object mapper stands between, so a line of thousands of stations loads in the time that
its rows take.
"""

import dataclasses
from collections import defaultdict
from collections.abc import Callable, Sequence
from typing import Any

import sqlalchemy as sa

from core.collector import without_collector
from core.model import RECORDS, Line, RecordSpec
from core.store.faults import DamagedError
from core.store.schema import ROOT, TABLES, is_single, parent_column

# SQLite takes a bounded number of values in one statement.
_MOST_IDS = 500
_Built = list[tuple[int | None, Any]]


def _rows(
    conn: sa.Connection, spec: RecordSpec, by: str, ids: Sequence[int] | None
) -> Sequence[Sequence[Any]]:
    table = TABLES[spec.table]
    parent = parent_column(spec)
    columns: list[sa.ColumnElement[Any]] = [
        table.c[parent] if parent else sa.null(),
        table.c.id,
    ]
    columns += [table.c[field.name] for field in spec.fields]
    question = sa.select(*columns).order_by(*_in_order(spec))
    if ids is None:
        return conn.execute(question).all()
    found: list[Sequence[Any]] = []
    for start in range(0, len(ids), _MOST_IDS):
        part = ids[start : start + _MOST_IDS]
        found += conn.execute(question.where(table.c[by].in_(part))).all()
    return found


def _in_order(spec: RecordSpec) -> list[sa.ColumnElement[Any]]:
    table = TABLES[spec.table]
    return [table.c.id] if is_single(spec) else [table.c.position, table.c.id]


def _read(conn: sa.Connection, spec: RecordSpec, by: str, ids: Sequence[int] | None) -> _Built:
    rows = _rows(conn, spec, by, ids)
    own_ids = None if ids is None else [row[1] for row in rows]
    getters = [_children(conn, child.table, child.many, own_ids) for child in spec.children]
    cls = spec.cls
    if not getters:
        return [(row[0], cls(*row[1:])) for row in rows]
    try:
        return [(row[0], cls(*row[1:], *(get(row[1]) for get in getters))) for row in rows]
    except KeyError as error:
        raise DamagedError(f"part of {spec.table} {error} is missing") from error


def _children(
    conn: sa.Connection, table: str, many: bool, parent_ids: Sequence[int] | None
) -> Callable[[int], Any]:
    spec = RECORDS[table]
    built = _read(conn, spec, parent_column(spec) or "id", parent_ids)
    if not many:
        return dict(built).__getitem__
    grouped: dict[int | None, list[Any]] = defaultdict(list)
    for parent_id, entry in built:
        grouped[parent_id].append(entry)
    return lambda parent_id: tuple(grouped.get(parent_id, ()))


def read_line(conn: sa.Connection) -> Line:
    """The whole line of a file.

    Raises
    ------
    DamagedError
        A row is missing that every file, or every record of its kind, has.
    """
    with without_collector():
        spec = RECORDS[ROOT]
        head = conn.execute(sa.select(TABLES[ROOT])).one_or_none()
        if head is None:
            raise DamagedError("the row of the line is missing")
        parts = [
            tuple(entry for _, entry in _read(conn, RECORDS[child.table], "id", None))
            for child in spec.children
        ]
        return Line(*(head._mapping[name] for name in _head_columns(spec)), *parts)


def reread(conn: sa.Connection, line: Line, touched: dict[str, set[int]]) -> Line:
    """The line after a step, with only the touched parts read again.

    Parameters
    ----------
    conn : sqlalchemy.Connection
        Open on the file.
    line : Line
        As it was before.
    touched : dict
        Ids of touched records by table, for the line itself and the tables right below it.
    """
    spec = RECORDS[ROOT]
    changed: dict[str, Any] = {}
    if ROOT in touched:
        head = conn.execute(sa.select(TABLES[ROOT])).one()
        changed = {name: head._mapping[name] for name in _head_columns(spec)}
    for child in spec.children:
        if child.table in touched:
            before = {entry.id: entry for entry in getattr(line, child.name)}
            fresh = _read(conn, RECORDS[child.table], "id", sorted(touched[child.table]))
            before.update((entry.id, entry) for _, entry in fresh)
            own_id = TABLES[child.table].c.id
            order = conn.execute(sa.select(own_id).order_by(*_in_order(RECORDS[child.table])))
            changed[child.name] = tuple(before[entry_id] for entry_id in order.scalars())
    whole: Line = dataclasses.replace(line, **changed)  # type: ignore[type-var]
    return whole


def _head_columns(spec: RecordSpec) -> list[str]:
    return ["id", *(field.name for field in spec.fields)]
