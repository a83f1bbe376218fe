"""The guards of every connection to a line file."""

import sqlite3
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa

from core.store.connection import connect, make_engine, scalar


def pragmas(path: Path, **options: Any) -> dict[str, Any]:
    engine = make_engine(path, **options)
    names = ("foreign_keys", "synchronous", "locking_mode", "journal_mode", "trusted_schema")
    try:
        with engine.connect() as conn:
            return {name: conn.exec_driver_sql(f"PRAGMA {name}").scalar() for name in names}
    finally:
        engine.dispose()


def test_writer_enforces_references_locks_and_syncs_fully(path: Path) -> None:
    assert pragmas(path) == {
        "foreign_keys": 1,
        "synchronous": 3,  # EXTRA: the folder entry is synced as well
        "locking_mode": "exclusive",
        "journal_mode": "delete",
        "trusted_schema": 0,
    }


def test_migration_does_not_enforce_references(path: Path) -> None:
    assert pragmas(path, foreign_keys=False)["foreign_keys"] == 0


def test_reader_cannot_write(path: Path) -> None:
    engine = make_engine(path, mode="ro")
    try:
        with pytest.raises(sa.exc.OperationalError, match="readonly"), engine.begin() as conn:
            conn.exec_driver_sql("UPDATE line SET name = 'x'")
    finally:
        engine.dispose()


def test_missing_file_is_not_made_by_looking_at_it(tmp_path: Path) -> None:
    for mode in ("rw", "ro"):
        with pytest.raises(sqlite3.OperationalError, match="unable to open"):
            connect(tmp_path / "missing", mode=mode)
    assert list(tmp_path.iterdir()) == []


def test_writer_locks_at_once_and_not_at_its_first_change(path: Path) -> None:
    engine = make_engine(path)
    try:
        with engine.connect():
            other = connect(path, mode="ro")
            with pytest.raises(sqlite3.OperationalError, match="locked"):
                scalar(other, "SELECT count(*) FROM line")
            other.close()
    finally:
        engine.dispose()


def half(conn: sa.Connection) -> None:
    conn.exec_driver_sql("CREATE TABLE half (a)")
    conn.exec_driver_sql("ALTER TABLE station ADD COLUMN b")
    raise ZeroDivisionError


def test_failing_transaction_takes_changes_of_the_tables_back_too(path: Path) -> None:
    engine = make_engine(path)
    try:
        with pytest.raises(ZeroDivisionError), engine.begin() as conn:
            half(conn)
        with engine.begin() as conn:
            tables = conn.exec_driver_sql("SELECT name FROM sqlite_master").scalars().all()
            columns = conn.exec_driver_sql("PRAGMA table_info(station)").all()
    finally:
        engine.dispose()
    assert "half" not in tables
    assert "b" not in [column[1] for column in columns]


def test_connection_that_is_refused_is_closed(path: Path) -> None:
    holder = make_engine(path)
    refused: list[sqlite3.Connection] = []
    with pytest.MonkeyPatch.context() as patch, holder.connect():
        patch.setattr(
            "core.store.connection.connect",
            lambda *args, **more: refused.append(connect(*args, **more)) or refused[-1],
        )
        other = make_engine(path)
        with pytest.raises(sa.exc.OperationalError, match="locked"):
            other.connect()
    holder.dispose()
    with pytest.raises(sqlite3.ProgrammingError, match="closed"):
        refused[0].execute("SELECT 1")
