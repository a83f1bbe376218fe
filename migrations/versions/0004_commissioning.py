"""Fourth file format: checks, calibration, frozen records, and how a bus register is read."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Results of checks and frozen records come; listed settings say what their register holds."""
    _own_check()
    _check_result()
    _calibration_point()
    _frozen_record()
    _listed_setting()
    with _rebuilt("setting") as batch:
        batch.add_column(_word("origin", "entered"))
    with _rebuilt("bus") as batch:
        batch.add_column(_word("port"))


def _rebuilt(table: str) -> Any:
    # Rebuilt always, and with its counter: without it the ids of removed rows would come back.
    kept = {"sqlite_autoincrement": True}
    return op.batch_alter_table(table, recreate="always", table_kwargs=kept)


def _word(name: str, default: str = "") -> sa.Column[Any]:
    return sa.Column(name, sa.String(), nullable=False, server_default=sa.text(f"'{default}'"))


def _refers(table: str, name: str, target: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        [name], [f"{target}.id"], name=f"fk_{table}_{name}_{target}", ondelete="RESTRICT"
    )


def _own_check() -> None:
    op.create_table(
        "own_check",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        _word("name"),
        _word("stage", "coupled"),
        _word("applies_to", "station"),
        _word("form", "yes_no"),
        sa.Column("kind", sa.String()),
        sa.Column("low", sa.Float()),
        sa.Column("high", sa.Float()),
        _word("how"),
        sa.PrimaryKeyConstraint("id", name="pk_own_check"),
        sa.UniqueConstraint("name", name="uq_own_check_name"),
        sqlite_autoincrement=True,
    )


def _check_result() -> None:
    op.create_table(
        "check_result",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        _word("name"),
        sa.Column("station_id", sa.Integer()),
        _word("answer", "open"),
        sa.Column("value", sa.Float()),
        _word("shown"),
        sa.Column("temperature_k", sa.Float()),
        _word("reason"),
        _word("instrument"),
        _word("person"),
        _word("done_at"),
        sa.PrimaryKeyConstraint("id", name="pk_check_result"),
        _refers("check_result", "station_id", "station"),
        sa.CheckConstraint("temperature_k >= 0", name=op.f("ck_check_result_temperature_k_bounds")),
        sqlite_autoincrement=True,
    )


def _calibration_point() -> None:
    bounds = {
        "share": "share >= 0 AND share <= 1",
        "frequency_hz": "frequency_hz >= 0",
        "speed_m_s": "speed_m_s >= 0",
    }
    op.create_table(
        "calibration_point",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("station_id", sa.Integer()),
        _word("state", "found"),
        _word("direction", "up"),
        sa.Column("share", sa.Float()),
        sa.Column("frequency_hz", sa.Float()),
        sa.Column("speed_m_s", sa.Float()),
        _word("instrument"),
        _word("person"),
        _word("done_at"),
        sa.PrimaryKeyConstraint("id", name="pk_calibration_point"),
        _refers("calibration_point", "station_id", "station"),
        *(
            sa.CheckConstraint(bound, name=op.f(f"ck_calibration_point_{name}_bounds"))
            for name, bound in bounds.items()
        ),
        sqlite_autoincrement=True,
    )


def _frozen_record() -> None:
    op.create_table(
        "frozen_record",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("at", sa.String(), nullable=False),
        sa.Column("person", sa.String(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("content", sa.String(), nullable=False),
        sa.Column("sha256", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_frozen_record"),
        sa.UniqueConstraint("kind", "revision", name="uq_frozen_record_kind_revision"),
        sqlite_autoincrement=True,
    )


def _listed_setting() -> None:
    with _rebuilt("listed_setting") as batch:
        batch.add_column(_word("register_form", "u16"))
        batch.add_column(_word("register_words", "high_first"))
        batch.add_column(sa.Column("register_first_bit", sa.Integer()))
        batch.add_column(sa.Column("register_bits", sa.Integer()))
        batch.add_column(_word("register_table", "holding"))
        batch.create_check_constraint(
            op.f("ck_listed_setting_register_first_bit_bounds"),
            "register_first_bit >= 0 AND register_first_bit <= 31",
        )
        batch.create_check_constraint(
            op.f("ck_listed_setting_register_bits_bounds"),
            "register_bits >= 1 AND register_bits <= 32",
        )
