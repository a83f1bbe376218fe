"""From the rows of a file to the graph of the line.

Rows come by one plain select per table, and are put together by their parent's id: neither an
object mapper nor a compiler of statements stands between, so a line of thousands of stations
loads in the time that its rows take, and a small one is there at once.
"""

import dataclasses
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import sqlalchemy as sa

from core.collector import without_collector
from core.model import RECORDS, Line, RecordSpec
from core.store.faults import DamagedError
from core.store.schema import ROOT, is_single, parent_column

# SQLite takes a bounded number of values in one statement.
_MOST_IDS = 500
_Built = list[tuple[int | None, Any]]


def _select(spec: RecordSpec, condition: str = "") -> str:
    """The statement for the rows of a table: id of the parent, own id, fields.

    Names stand in brackets, since SQLite takes a name in double quotes that it does not know for
    a text.
    """
    parent = parent_column(spec)
    names = ", ".join(f"[{name}]" for name in ("id", *(field.name for field in spec.fields)))
    first = f"[{parent}]" if parent else "NULL"
    return f"SELECT {first}, {names} FROM [{spec.table}] {condition} ORDER BY {_order(spec)}"


def _order(spec: RecordSpec) -> str:
    return "id" if is_single(spec) else "position, id"


def _rows(
    conn: sa.Connection, spec: RecordSpec, by: str, ids: Sequence[int] | None
) -> Sequence[Sequence[Any]]:
    if ids is None:
        return _with_flags(spec, conn.exec_driver_sql(_select(spec)))
    found: list[Sequence[Any]] = []
    for start in range(0, len(ids), _MOST_IDS):
        part = tuple(ids[start : start + _MOST_IDS])
        condition = f"WHERE [{by}] IN ({', '.join('?' * len(part))})"
        found += _with_flags(spec, conn.exec_driver_sql(_select(spec, condition), part))
    return found


def _with_flags(spec: RecordSpec, rows: Iterable[Sequence[Any]]) -> Sequence[Sequence[Any]]:
    """The rows with yes and no where SQLite keeps 1 and 0."""
    flags = [at for at, field in enumerate(spec.fields, start=2) if field.sort == "flag"]
    if not flags:
        return list(rows)
    changed = [list(row) for row in rows]
    for row in changed:
        for at in flags:
            row[at] = bool(row[at])
    return changed


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
        heads = _rows(conn, spec, "id", None)
        if len(heads) != 1:
            raise DamagedError("the row of the line is missing")
        parts = [
            tuple(entry for _, entry in _read(conn, RECORDS[child.table], "id", None))
            for child in spec.children
        ]
        return Line(*heads[0][1:], *parts)


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
        [head] = _rows(conn, spec, "id", None)
        changed = dict(zip(("id", *(field.name for field in spec.fields)), head[1:], strict=True))
    for child in spec.children:
        if child.table in touched:
            before = {entry.id: entry for entry in getattr(line, child.name)}
            fresh = _read(conn, RECORDS[child.table], "id", sorted(touched[child.table]))
            before.update((entry.id, entry) for _, entry in fresh)
            in_order = f"SELECT id FROM [{child.table}] ORDER BY {_order(RECORDS[child.table])}"
            ids = conn.exec_driver_sql(in_order).scalars()
            changed[child.name] = tuple(before[entry_id] for entry_id in ids)
    whole: Line = dataclasses.replace(line, **changed)  # type: ignore[type-var]
    return whole
