"""Connections to a line file with the guards that a document needs.

Measured traps behind each line: the driver must not open transactions itself (a failing step
would leave its half behind); foreign keys are enforced except while migrating (a rebuilt table
would take its children along); the exclusive lock takes hold with the first transaction and is
freed by the system when the process dies; with the rollback journal all that is committed is in
the one file, so a plain copy of it by another program is whole.
"""

import os
import sqlite3
from pathlib import Path
from typing import Any
from urllib.parse import quote

import sqlalchemy as sa
from sqlalchemy.pool import StaticPool

LOCK_WAIT_S = 0.4


def _address(path: Path, mode: str) -> str:
    return f"file:{quote(os.fsencode(path.resolve()))}?mode={mode}"


def connect(path: Path, *, mode: str = "rw") -> sqlite3.Connection:
    """A bare connection to an existing file (``rw``, ``ro``) or a new one (``rwc``)."""
    raw = sqlite3.connect(
        _address(path, mode),
        uri=True,
        timeout=LOCK_WAIT_S,
        isolation_level=None,
        check_same_thread=False,
    )
    raw.execute("PRAGMA trusted_schema=OFF")
    return raw


def _guard(raw: sqlite3.Connection, mode: str, foreign_keys: bool) -> None:
    raw.execute(f"PRAGMA foreign_keys={'ON' if foreign_keys else 'OFF'}")
    if mode == "ro":
        return
    # On the way from PERSIST to DELETE, and only while others may lock the file, SQLite takes away
    # the journal that a killed program left beside it.
    raw.execute("PRAGMA journal_mode=PERSIST")
    raw.execute("PRAGMA journal_mode=DELETE")
    raw.execute("PRAGMA locking_mode=EXCLUSIVE")
    raw.execute("PRAGMA synchronous=EXTRA")
    # Exclusive mode takes hold at the first exclusive transaction, not at the pragma.
    raw.execute("BEGIN EXCLUSIVE")
    raw.execute("COMMIT")


def make_engine(path: Path, *, mode: str = "rw", foreign_keys: bool = True) -> sa.Engine:
    """Engine over one connection, with real transactions and, by default, enforced references."""

    def open_guarded() -> sqlite3.Connection:
        raw = connect(path, mode=mode)
        try:
            _guard(raw, mode, foreign_keys)
        except BaseException:
            raw.close()
            raise
        return raw

    engine = sa.create_engine("sqlite://", creator=open_guarded, poolclass=StaticPool)

    @sa.event.listens_for(engine, "begin")
    def _begin(connection: sa.Connection) -> None:
        connection.exec_driver_sql("BEGIN" if mode == "ro" else "BEGIN IMMEDIATE")

    return engine


def scalar(raw: sqlite3.Connection, question: str) -> Any:
    """The one value that a question gives."""
    return raw.execute(question).fetchone()[0]
