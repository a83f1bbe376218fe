"""The tables of a line file, made from the declarations of `core.model`.

Nothing is declared twice: a field that `core.model` declares is a column here. What a released
file looks like is fixed by the migrations, not by this module; a test holds the two against each
other.
"""

from typing import Any

import sqlalchemy as sa

from core.model import RECORDS, FieldSpec, RecordSpec

# "LnBk" in the header of the file, so that it names itself.
APPLICATION_ID = 0x4C6E426B
FORMAT = 5
"""Number of the newest migration; kept in the header as ``user_version`` too."""

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
ROOT = "line"

metadata = sa.MetaData(naming_convention=NAMING)


def parent_column(spec: RecordSpec) -> str | None:
    """Name of the column that points to the record holding this one; None right below the line."""
    return f"{spec.parent}_id" if spec.parent not in ("", ROOT) else None


def is_single(spec: RecordSpec) -> bool:
    """Whether the record holding this kind always holds exactly one of it."""
    if not spec.parent:
        return True
    return any(c.table == spec.table and not c.many for c in RECORDS[spec.parent].children)


def _column(spec: FieldSpec) -> sa.Column[Any]:
    if spec.sort == "quantity":
        return sa.Column(spec.name, sa.Float())
    if spec.sort == "whole":
        return sa.Column(spec.name, sa.Integer())
    if spec.sort == "flag":
        return sa.Column(spec.name, sa.Boolean(), nullable=False, server_default=sa.text("0"))
    if spec.sort == "ref":
        target = sa.ForeignKey(f"{spec.target}.id", ondelete="RESTRICT")
        return sa.Column(spec.name, sa.Integer(), target)
    if spec.sort == "date" or (spec.sort == "choice" and spec.default is None):
        return sa.Column(spec.name, sa.String())
    return sa.Column(
        spec.name, sa.String(), nullable=False, server_default=sa.text(f"'{spec.default or ''}'")
    )


def _bounds(spec: FieldSpec) -> str | None:
    parts = []
    if spec.minimum is not None:
        parts.append(f"{spec.name} {'>' if spec.above else '>='} {spec.minimum:g}")
    if spec.maximum is not None:
        parts.append(f"{spec.name} <= {spec.maximum:.10g}")
    return " AND ".join(parts) or None


def _table(spec: RecordSpec) -> sa.Table:
    parts: list[Any] = [sa.Column("id", sa.Integer(), primary_key=True)]
    parent = parent_column(spec)
    if parent:
        owner = sa.ForeignKey(f"{spec.parent}.id", ondelete="RESTRICT")
        single = is_single(spec)
        parts.append(
            sa.Column(parent, sa.Integer(), owner, nullable=False, index=not single, unique=single)
        )
    if not is_single(spec):
        parts.append(sa.Column("position", sa.Integer(), nullable=False))
    for field in spec.fields:
        parts.append(_column(field))
        if field.is_number and (bounds := _bounds(field)):
            parts.append(sa.CheckConstraint(bounds, name=f"{field.name}_bounds"))
        if field.unique:
            parts.append(sa.UniqueConstraint(*([parent] if parent else []), field.name))
    return sa.Table(spec.table, metadata, *parts, sqlite_autoincrement=True)


TABLES: dict[str, sa.Table] = {name: _table(spec) for name, spec in RECORDS.items()}

HISTORY = sa.Table(
    "history",
    metadata,
    sa.Column("id", sa.Integer(), primary_key=True),
    sa.Column("at", sa.String(), nullable=False),
    sa.Column("person", sa.String(), nullable=False),
    sa.Column("step", sa.String(), nullable=False),
    sa.Column("table_name", sa.String(), nullable=False),
    sa.Column("record_id", sa.Integer(), nullable=False),
    sa.Column("place", sa.String(), nullable=False),
    sa.Column("field", sa.String(), nullable=False),
    sa.Column("old", sa.String()),
    sa.Column("new", sa.String()),
    sqlite_autoincrement=True,
)

FROZEN = sa.Table(
    "frozen_record",
    metadata,
    sa.Column("id", sa.Integer(), primary_key=True),
    sa.Column("kind", sa.String(), nullable=False),
    sa.Column("revision", sa.Integer(), nullable=False),
    sa.Column("at", sa.String(), nullable=False),
    sa.Column("person", sa.String(), nullable=False),
    sa.Column("reason", sa.String(), nullable=False),
    sa.Column("content", sa.String(), nullable=False),
    sa.Column("sha256", sa.String(), nullable=False),
    sa.UniqueConstraint("kind", "revision"),
    sqlite_autoincrement=True,
)
"""Frozen records of the line; nothing but `core.store.frozen` reads or writes them."""

PHOTO_CONTENT = sa.Table(
    "photo_content",
    metadata,
    sa.Column("id", sa.Integer(), primary_key=True),
    sa.Column("sha256", sa.String(), nullable=False),
    sa.Column("content", sa.LargeBinary(), nullable=False),
    sa.UniqueConstraint("sha256"),
    sqlite_autoincrement=True,
)
"""Bytes of photographs by their digest; nothing but `core.store.photos` reads or writes them."""
