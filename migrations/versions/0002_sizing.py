"""Second file format: what sizing, findings and pairs need."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Cables say how they lie, drives how they are protected; pairs and accepted findings come."""
    _acceptance()
    _drive_type()
    _line()
    _supply()
    _cable()
    _drive()
    _motor()
    _pair()


def _rebuilt(table: str) -> Any:
    # Rebuilt always, and with its counter: without it the ids of removed rows would come back.
    kept = {"sqlite_autoincrement": True}
    return op.batch_alter_table(table, recreate="always", table_kwargs=kept)


def _acceptance() -> None:
    op.create_table(
        "acceptance",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("mark", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("finding", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("place", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("person", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("reason", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("day", sa.String()),
        sa.PrimaryKeyConstraint("id", name="pk_acceptance"),
        sa.UniqueConstraint("mark", name="uq_acceptance_mark"),
        sqlite_autoincrement=True,
    )


def _drive_type() -> None:
    with _rebuilt("drive_type") as batch:
        batch.add_column(sa.Column("input_frequency_min_hz", sa.Float()))
        batch.add_column(sa.Column("input_frequency_max_hz", sa.Float()))
        batch.add_column(sa.Column("derated_1ph", sa.Float()))
        batch.add_column(sa.Column("protection_max_a", sa.Float()))
        batch.add_column(sa.Column("terminals_for", sa.String()))
        batch.add_column(sa.Column("leakage_a", sa.Float()))
        batch.add_column(
            sa.Column("line_choke", sa.Boolean(), nullable=False, server_default=sa.text("0"))
        )
        batch.add_column(
            sa.Column("brake_chopper", sa.Boolean(), nullable=False, server_default=sa.text("0"))
        )
        batch.add_column(sa.Column("bus_capacitance_f", sa.Float()))
        batch.add_column(sa.Column("bus_trip_v", sa.Float()))
        batch.add_column(sa.Column("unit_load", sa.Float()))
        batch.create_check_constraint(
            op.f("ck_drive_type_bus_capacitance_f_bounds"), "bus_capacitance_f > 0"
        )
        batch.create_check_constraint(op.f("ck_drive_type_bus_trip_v_bounds"), "bus_trip_v > 0")
        batch.create_check_constraint(
            op.f("ck_drive_type_derated_1ph_bounds"), "derated_1ph >= 0 AND derated_1ph <= 1"
        )
        batch.create_check_constraint(
            op.f("ck_drive_type_input_frequency_max_hz_bounds"), "input_frequency_max_hz >= 0"
        )
        batch.create_check_constraint(
            op.f("ck_drive_type_input_frequency_min_hz_bounds"), "input_frequency_min_hz >= 0"
        )
        batch.create_check_constraint(op.f("ck_drive_type_leakage_a_bounds"), "leakage_a >= 0")
        batch.create_check_constraint(
            op.f("ck_drive_type_protection_max_a_bounds"), "protection_max_a > 0"
        )
        batch.create_check_constraint(
            op.f("ck_drive_type_unit_load_bounds"), "unit_load >= 0 AND unit_load <= 4"
        )


def _line() -> None:
    with _rebuilt("line") as batch:
        batch.add_column(sa.Column("altitude_m", sa.Float()))


def _supply() -> None:
    with _rebuilt("supply") as batch:
        batch.add_column(sa.Column("demand", sa.Float()))
        batch.add_column(sa.Column("other_load_a", sa.Float()))
        batch.add_column(sa.Column("drop_max", sa.Float()))
        batch.create_check_constraint(
            op.f("ck_supply_demand_bounds"), "demand >= 0 AND demand <= 1"
        )
        batch.create_check_constraint(
            op.f("ck_supply_drop_max_bounds"), "drop_max >= 0 AND drop_max <= 0.2"
        )
        batch.create_check_constraint(op.f("ck_supply_other_load_a_bounds"), "other_load_a >= 0")


def _cable() -> None:
    with _rebuilt("cable") as batch:
        batch.add_column(sa.Column("insulation", sa.String()))
        batch.add_column(sa.Column("method", sa.String()))
        batch.add_column(sa.Column("ambient_k", sa.Float()))
        batch.add_column(sa.Column("company", sa.Integer()))
        batch.create_check_constraint(op.f("ck_cable_ambient_k_bounds"), "ambient_k >= 0")
        batch.create_check_constraint(
            op.f("ck_cable_company_bounds"), "company >= 1 AND company <= 60"
        )


def _drive() -> None:
    with _rebuilt("drive") as batch:
        batch.add_column(sa.Column("protection_kind", sa.String()))
        batch.add_column(
            sa.Column("brake_resistor", sa.Boolean(), nullable=False, server_default=sa.text("0"))
        )


def _motor() -> None:
    with _rebuilt("motor") as batch:
        batch.add_column(sa.Column("frequency_min_hz", sa.Float()))
        batch.add_column(sa.Column("inertia_kg_m2", sa.Float()))
        batch.add_column(
            sa.Column("own_overload", sa.Boolean(), nullable=False, server_default=sa.text("0"))
        )
        batch.create_check_constraint(
            op.f("ck_motor_frequency_min_hz_bounds"), "frequency_min_hz >= 0"
        )
        batch.create_check_constraint(op.f("ck_motor_inertia_kg_m2_bounds"), "inertia_kg_m2 > 0")


def _pair() -> None:
    op.create_table(
        "pair",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("first_station_id", sa.Integer()),
        sa.Column("second_station_id", sa.Integer()),
        sa.Column("notes", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_pair"),
        sa.ForeignKeyConstraint(
            ["first_station_id"],
            ["station.id"],
            name="fk_pair_first_station_id_station",
            ondelete="RESTRICT",
        ),
        sa.ForeignKeyConstraint(
            ["second_station_id"],
            ["station.id"],
            name="fk_pair_second_station_id_station",
            ondelete="RESTRICT",
        ),
        sa.UniqueConstraint("name", name="uq_pair_name"),
        sqlite_autoincrement=True,
    )
