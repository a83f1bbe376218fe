"""The traps of a migration on SQLite, each sprung on a real file in the program's own machinery."""

import contextlib
import sqlite3
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.operations import Operations
from alembic.runtime.migration import MigrationContext

from core.errors import LineFileError
from core.store import LineFile, migrating, schema
from core.store.connection import make_engine
from tests.core.store.guards import NextFormat, ask, differences, folder_bytes, rows_of, statements

RENAME_STATION_COLUMN = """
    with op.batch_alter_table("station", table_kwargs={"sqlite_autoincrement": True}) as batch:
        batch.alter_column("area", new_column_name="zone", existing_type=sa.String())
"""


def rename_station_column(path: Path, *, foreign_keys: bool) -> None:
    engine = make_engine(path, foreign_keys=foreign_keys)
    try:
        with engine.begin() as conn:
            steps = Operations(MigrationContext.configure(conn))
            with steps.batch_alter_table("station") as batch:
                batch.alter_column("area", new_column_name="zone", existing_type=sa.String())
    finally:
        engine.dispose()


def test_rebuilt_table_keeps_the_rows_that_refer_to_it(
    filled: Path, next_format: NextFormat
) -> None:
    next_format.add(RENAME_STATION_COLUMN)
    before, areas = rows_of(filled), ask(filled, "SELECT area FROM station")
    migrating.run_migrations(filled)
    after = rows_of(filled)
    assert len(before["motor"]) == 4
    for table in set(before) - {"alembic_version"}:
        assert after[table] == before[table], table
    assert ask(filled, "SELECT zone FROM station") == areas


def test_rebuild_with_references_enforced_is_loud_and_loses_nothing(filled: Path) -> None:
    """Without our guard the rule RESTRICT still stops it; a cascade would take the motors."""
    before = rows_of(filled)
    with pytest.raises(sa.exc.IntegrityError):
        rename_station_column(filled, foreign_keys=True)
    assert rows_of(filled) == before


def test_rebuild_under_our_guard_works_outside_of_a_migration_too(filled: Path) -> None:
    rename_station_column(filled, foreign_keys=False)
    assert len(ask(filled, "SELECT id FROM motor")) == 4


def test_references_cannot_be_switched_off_inside_a_transaction(path: Path) -> None:
    """Hence they are switched before the first BEGIN, when the connection is made."""
    for wanted in (True, False):
        engine = make_engine(path, foreign_keys=wanted)
        try:
            with engine.begin() as conn:
                conn.exec_driver_sql(f"PRAGMA foreign_keys={'OFF' if wanted else 'ON'}")
                state = conn.exec_driver_sql("PRAGMA foreign_keys").scalar()
        finally:
            engine.dispose()
        assert bool(state) is wanted


def test_migration_that_fails_halfway_leaves_nothing(filled: Path, next_format: NextFormat) -> None:
    next_format.add(
        """
    op.add_column("station", sa.Column("colour", sa.String()))
    op.create_table("half", sa.Column("id", sa.Integer(), primary_key=True))
    op.execute("UPDATE station SET name = 'spoilt'")
    op.execute("INSERT INTO nowhere VALUES (1)")
"""
    )
    before = filled.read_bytes()
    with pytest.raises(sa.exc.OperationalError, match="nowhere"):
        migrating.run_migrations(filled)
    assert filled.read_bytes() == before


def test_half_done_migration_would_stay_without_our_transaction(filled: Path) -> None:
    """The trap itself, with the driver's own way of beginning transactions."""
    with contextlib.closing(sqlite3.connect(filled)) as raw:
        raw.execute("ALTER TABLE station ADD COLUMN colour VARCHAR")
        with pytest.raises(sqlite3.OperationalError):
            raw.execute("INSERT INTO nowhere VALUES (1)")
        raw.rollback()
    assert "colour" in [row[1] for row in ask(filled, "PRAGMA table_info(station)")]


def test_our_check_finds_a_unique_constraint_that_a_rename_swallowed(
    filled: Path, next_format: NextFormat, monkeypatch: pytest.MonkeyPatch
) -> None:
    next_format.add(
        """
    with op.batch_alter_table("person", table_kwargs={"sqlite_autoincrement": True}) as batch:
        batch.alter_column("phone", new_column_name="telephone", existing_type=sa.String())
        batch.create_unique_constraint("uq_person_telephone", ["telephone"])
"""
    )
    migrating.run_migrations(filled)
    assert "uq_person_telephone" not in str(statements(filled)["person"])
    wanted = sa.MetaData(naming_convention=schema.NAMING)
    for table in schema.metadata.tables.values():
        table.to_metadata(wanted)
    person = wanted.tables["person"]
    telephone = sa.Column("telephone", sa.String(), nullable=False, server_default=sa.text("''"))
    wanted.remove(person)
    kept = [column._copy() for column in person.columns if column.name != "phone"]
    unique = sa.UniqueConstraint("telephone", name="uq_person_telephone")
    sa.Table("person", wanted, *kept, telephone, unique, sqlite_autoincrement=True)
    monkeypatch.setattr(schema, "metadata", wanted)
    assert [found[0] for found in differences(filled)] == ["add_constraint"]


def test_our_check_finds_a_rebuild_that_forgot_to_keep_ids_apart(
    filled: Path, next_format: NextFormat
) -> None:
    before = statements(filled)["station"]
    next_format.add(
        """
    with op.batch_alter_table("station", recreate="always") as batch:
        batch.alter_column("lane", existing_type=sa.Integer())
"""
    )
    migrating.run_migrations(filled)
    assert differences(filled) == []  # Alembic does not see it,
    assert statements(filled)["station"] != before  # the statements do.


def test_our_check_finds_an_unnamed_constraint(filled: Path, next_format: NextFormat) -> None:
    next_format.add(
        """
    op.create_table(
        "gadget", sa.Column("id", sa.Integer(), primary_key=True), sa.Column("a", sa.Integer()),
        sa.UniqueConstraint("a"),
    )
"""
    )
    migrating.run_migrations(filled)
    assert any(part.startswith("UNIQUE") for part in statements(filled)["gadget"])


def test_a_file_stopped_at_a_revision_carries_its_number(tmp_path: Path) -> None:
    path = tmp_path / "first.linebook"
    migrating.run_migrations(path, "0001")
    head = path.read_bytes()[:100]
    assert int.from_bytes(head[60:64], "big") == 1


def test_migrating_twice_does_nothing_the_second_time(filled: Path) -> None:
    before = rows_of(filled)
    migrating.run_migrations(filled)
    assert rows_of(filled) == before


def test_scripts_are_found_from_any_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "migrations").mkdir()
    monkeypatch.chdir(tmp_path)
    LineFile.create(tmp_path / "a.linebook").close()
    assert sorted(folder_bytes(tmp_path)) == ["a.linebook"]


def test_failing_migration_is_told_in_a_sentence(filled: Path, next_format: NextFormat) -> None:
    next_format.add('    op.execute("INSERT INTO nowhere VALUES (1)")')
    with pytest.raises(LineFileError, match="was not upgraded") as refused:
        LineFile.open(filled)
    assert "unchanged" in refused.value.fix
