"""A whole line into an empty file, record by record with the ids that it has."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from core.model import RECORDS, Line, RecordSpec
from core.store.connection import make_engine
from core.store.photos import put_content
from core.store.schema import ROOT, TABLES, is_single, parent_column


def fill_file(path: Path, line: Line, photos: Mapping[str, bytes]) -> None:
    """Write a line and its photographs, by their digest, over the bare one of a fresh file."""
    engine = make_engine(path)
    try:
        with engine.begin() as conn:
            write_line(conn, line)
            for content in photos.values():
                put_content(conn, content)
    finally:
        engine.dispose()


def write_line(conn: sa.Connection, line: Line) -> None:
    """Write a line over the bare one of a fresh file.

    Parameters
    ----------
    conn : sqlalchemy.Connection
        Open on a file that holds nothing but the row of its line; references are checked at the
        end of the transaction.
    line : Line
        From a frozen record, or from another file; its ids are kept. What never was in a file, as
        a setting that was read at a drive for the first time, has the id 0 and gets one here.
    """
    conn.exec_driver_sql("PRAGMA defer_foreign_keys=ON")
    conn.execute(sa.delete(TABLES[ROOT]))
    rows = list(_rows(RECORDS[ROOT], line, None, 0))
    # Those without an id come last, or they might take one that another row has.
    for table, row in sorted(rows, key=lambda held: held[1]["id"] == 0):
        values = row if row["id"] else {name: row[name] for name in row if name != "id"}
        conn.execute(sa.insert(TABLES[table]).values(**values))


def _rows(
    spec: RecordSpec, record: Any, parent_id: int | None, position: int
) -> Iterator[tuple[str, dict[str, Any]]]:
    row: dict[str, Any] = {"id": record.id}
    row |= {field.name: getattr(record, field.name) for field in spec.fields}
    if parent := parent_column(spec):
        row[parent] = parent_id
    if not is_single(spec):
        row["position"] = position
    yield spec.table, row
    for child in spec.children:
        held = getattr(record, child.name)
        for place, entry in enumerate(held if child.many else (held,)):
            yield from _rows(RECORDS[child.table], entry, record.id, place)
