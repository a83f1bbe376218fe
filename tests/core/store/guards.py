"""What the tests of the file ask of it, apart from the code under test."""

import contextlib
import importlib
import re
import shutil
import sqlite3
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext

import migrations
from core.store import migrating, opening, schema

Tables = dict[str, list[tuple[Any, ...]]]


def rows_of(path: Path) -> Tables:
    """All rows of all tables, read by plain sqlite3."""
    with contextlib.closing(sqlite3.connect(path)) as raw:
        names = [row[0] for row in raw.execute("SELECT name FROM sqlite_master WHERE type='table'")]
        return {
            name: raw.execute(f'SELECT * FROM "{name}" ORDER BY 1').fetchall() for name in names
        }


def ask(path: Path, question: str) -> list[tuple[Any, ...]]:
    """What plain sqlite3 answers to a question."""
    with contextlib.closing(sqlite3.connect(path)) as raw:
        return raw.execute(question).fetchall()


def folder_bytes(folder: Path) -> dict[str, bytes]:
    """Name and content of every file in a folder."""
    return {entry.name: entry.read_bytes() for entry in folder.iterdir() if entry.is_file()}


def statements(path: Path) -> dict[str, set[str]]:
    """Each table and index of a file as the set of its parts, without quotes and blanks."""
    found = ask(path, "SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL")
    return {
        name: {_plain(part) for part in re.split(r",\s*\n|\(\s*\n|\n\)", sql) if part.strip()}
        for name, sql in found
        if name not in ("alembic_version", "sqlite_sequence")
    }


def _plain(part: str) -> str:
    # A table that was rebuilt has its empty defaults in brackets.
    part = part.replace("('')", "''").replace('"', "")
    return " ".join(part.replace("(", " ( ").replace(")", " ) ").split())


def differences(path: Path) -> list[Any]:
    """How the tables of a file differ from those that the program declares."""
    engine = sa.create_engine("sqlite://", creator=lambda: sqlite3.connect(path))
    try:
        with engine.connect() as conn:
            options = {"compare_type": True, "compare_server_default": True}
            context = MigrationContext.configure(conn, opts=options)
            return list(compare_metadata(context, schema.metadata))
    finally:
        engine.dispose()


class NextFormat:
    """Makes the program believe that one more migration exists, kept in a folder of its own."""

    def __init__(self, folder: Path, patch: pytest.MonkeyPatch) -> None:
        self.folder = folder / "migrations"
        self._patch = patch
        source = Path(migrations.__file__).parent
        shutil.copytree(source, self.folder, ignore=shutil.ignore_patterns("__pycache__"))

    def add(self, body: str) -> None:
        """Let the next migration consist of these lines."""
        number = schema.FORMAT + 1
        head, indented = "import sqlalchemy as sa\nfrom alembic import op\n", body.strip("\n")
        script = (
            f'"""A next format."""\n\n{head}\nrevision = "{number:04d}"\n'
            f'down_revision = "{schema.FORMAT:04d}"\n\n\ndef upgrade() -> None:\n{indented}\n'
        )
        (self.folder / "versions" / f"{number:04d}_next.py").write_text(script, encoding="utf-8")
        importlib.invalidate_caches()
        for module in (schema, opening, migrating):
            self._patch.setattr(module, "FORMAT", number)
        self._patch.setattr("core.store.linefile.FORMAT", number)
        self._patch.setattr(migrations, "__file__", str(self.folder / "__init__.py"))
