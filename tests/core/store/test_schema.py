"""The tables that the program declares, and those that its migrations make."""

import re
import sqlite3
from pathlib import Path

import pytest
import sqlalchemy as sa

from core.errors import InputError
from core.model import RECORDS, FieldSpec
from core.store import schema
from tests.core.store.guards import ask, differences, statements

NUMBERS = [
    pytest.param(table, field, id=f"{table}.{field.name}")
    for table, spec in RECORDS.items()
    for field in spec.fields
    if field.is_number
]


def test_migrations_make_the_declared_tables(path: Path) -> None:
    assert differences(path) == []


def test_migrated_file_has_the_very_statements_of_a_file_made_from_the_models(
    path: Path, tmp_path: Path
) -> None:
    fresh = tmp_path / "fresh.sqlite"
    engine = sa.create_engine("sqlite://", creator=lambda: sqlite3.connect(fresh))
    schema.metadata.create_all(engine)
    engine.dispose()
    made, declared = statements(path), statements(fresh)
    assert sum(part.count("CHECK") for parts in made.values() for part in parts) > 50
    assert made == declared


def test_columns_stand_in_the_declared_order(path: Path) -> None:
    for name, table in schema.metadata.tables.items():
        found = [row[1] for row in ask(path, f"PRAGMA table_info({name})")]
        assert sorted(found) == sorted(column.name for column in table.columns)
        assert found[0] == "id"


def test_every_declared_constraint_has_a_name() -> None:
    for table in schema.metadata.tables.values():
        for constraint in table.constraints:
            assert constraint.name, f"{table.name}: {constraint}"
            assert str(constraint.name).split("_")[0] in ("pk", "fk", "uq", "ck")


def test_every_constraint_in_the_file_has_a_name(path: Path) -> None:
    for table, sql in ask(path, "SELECT name, sql FROM sqlite_master WHERE type='table'"):
        if table == "sqlite_sequence":
            continue
        # The key itself is the one that SQLite wants unnamed, and that no migration ever drops.
        sql = sql.replace("id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT", "")
        unnamed = re.sub(r'CONSTRAINT "?\w+"? (PRIMARY|FOREIGN|UNIQUE|CHECK)', "", sql)
        left = re.findall(r"\b(?:PRIMARY KEY|FOREIGN KEY|REFERENCES|UNIQUE|CHECK)\b", unnamed)
        # What a named foreign key leaves behind is its own REFERENCES.
        assert [word for word in left if word != "REFERENCES"] == []
        assert left.count("REFERENCES") == sql.count("FOREIGN KEY")
        for index in ask(path, f"PRAGMA index_list({table})"):
            if index[3] == "c":
                assert index[1].startswith("ix_")


def test_references_refuse_instead_of_taking_children_along(path: Path) -> None:
    kept = 0
    for table in schema.metadata.tables:
        for reference in ask(path, f"PRAGMA foreign_key_list({table})"):
            assert reference[6] == "RESTRICT"
            kept += 1
    assert kept > 15


def test_every_number_is_a_float_of_the_oldest_name() -> None:
    """`Double`, which newer SQLAlchemy makes of a bare float, would differ for ever."""
    for name, spec in RECORDS.items():
        for field in spec.fields:
            if field.sort == "quantity":
                assert type(schema.TABLES[name].c[field.name].type) is sa.Float


def test_float_columns_are_named_float_in_the_file(path: Path) -> None:
    for name, spec in RECORDS.items():
        named = {row[1]: row[2] for row in ask(path, f"PRAGMA table_info({name})")}
        for field in spec.fields:
            if field.sort == "quantity":
                assert named[field.name] == "FLOAT"


@pytest.mark.parametrize(("table", "field"), NUMBERS)
def test_file_and_declaration_agree_on_bounds(table: str, field: FieldSpec, path: Path) -> None:
    """A value just inside and just outside each bound is judged alike by both."""
    checks = [
        constraint.sqltext.text
        for constraint in schema.TABLES[table].constraints
        if isinstance(constraint, sa.CheckConstraint)
        and str(constraint.name) == f"ck_{table}_{field.name}_bounds"
    ]
    condition = checks[0] if checks else "1"
    for bound in (field.minimum, field.maximum):
        if bound is None:
            continue
        step = 1 if field.sort == "whole" else max(1e-6, abs(bound) * 1e-6)
        for value in (bound - step, bound, bound + step):
            in_file = ask(path, f"SELECT {condition} FROM (SELECT {value!r} AS {field.name})")
            assert bool(in_file[0][0]) == _taken(field, value), f"{field.name} = {value}"


def _taken(field: FieldSpec, value: float) -> bool:
    try:
        field.check(value)
    except InputError:
        return False
    return True


def test_file_names_itself_and_its_format(path: Path) -> None:
    head = path.read_bytes()[:100]
    assert head[68:72] == b"LnBk"
    assert int.from_bytes(head[60:64], "big") == schema.FORMAT


def test_newest_migration_has_the_number_of_the_format(path: Path) -> None:
    assert ask(path, "SELECT version_num FROM alembic_version") == [(f"{schema.FORMAT:04d}",)]


def test_uniqueness_is_kept_by_the_file_itself(filled: Path) -> None:
    with pytest.raises(sqlite3.IntegrityError, match=r"UNIQUE constraint failed: station\.tag"):
        ask(filled, "UPDATE station SET tag = 'same'")


def test_single_records_have_one_holder_each(filled: Path) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="UNIQUE"):
        ask(filled, "INSERT INTO drive (station_id) SELECT station_id FROM drive")
