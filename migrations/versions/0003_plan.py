"""Third file format: recipes, wanted speeds on every basis, ratios of pairs, what bands rest on."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"

_FRUIT = ("fruit", "fruit_mass_kg", "fruit_diameter_m", "fruit_bulk_kg_m3")
_AMOUNT = ("throughput", "bins_1_s", "bin_mass_kg", "mass_flow_kg_s", "fruit_1_s", "culled")
_MOVED = _FRUIT + _AMOUNT
_BOUNDED = ("fruit_mass_kg", "fruit_diameter_m", "fruit_bulk_kg_m3", *_AMOUNT[1:])
# Wanted values, and the bounds of each.
_WANTED = {
    "wanted_m_s": ">= 0",
    "wanted_rad_s": ">= 0",
    "wanted_hz": ">= 0",
    "wanted_gap_m": ">= 0",
    "wanted_pitch_m": "> 0",
    "wanted_filled": "> 0 AND wanted_filled <= 1",
    "wanted_cover": "> 0 AND wanted_cover <= 1",
    "wanted_time_s": "> 0",
    "wanted_drift": "> 0 AND wanted_drift <= 10",
    "wanted_turns": ">= 0",
    "wanted_water_m_s": "> 0",
}
# Further columns of tables that are there: type, and bounds where they have any.
_FLOAT, _WHOLE, _TEXT = sa.Float, sa.Integer, sa.String
_FURTHER: dict[str, dict[str, tuple[Any, str]]] = {
    "supply": {"feeder_insulation": (_TEXT, ""), "feeder_method": (_TEXT, "")},
    "enclosure": {"area": (_TEXT, "")},
    "reference_input": {"accuracy": (_FLOAT, ">= 0 AND accuracy <= 1")},
    "flow": {"share": (_FLOAT, ">= 0 AND share <= 1")},
    "speed_reference": {
        "setting_share": (_FLOAT, ">= 0 AND setting_share <= 1"),
        "accuracy": (_FLOAT, ">= 0 AND accuracy <= 1"),
    },
    "drivetrain": {
        "diameter_within_m": (_FLOAT, ">= 0"),
        "wear_m": (_FLOAT, ">= 0"),
        "load_swing": (_FLOAT, ">= 0 AND load_swing <= 3"),
    },
    "process": {
        "packing": (_FLOAT, "> 0 AND packing <= 1"),
        "travel_factor": (_FLOAT, "> 0"),
        "exposure_s": (_FLOAT, "> 0"),
        "contact_factor": (_FLOAT, "> 0"),
        "pump_head_m": (_FLOAT, ">= 0"),
        "static_head_m": (_FLOAT, ">= 0"),
        "belt_slope_rad": (_FLOAT, "> 0"),
        "row_pitch_m": (_FLOAT, "> 0"),
        "fruit_per_row": (_WHOLE, ">= 1"),
        "size_from_m": (_FLOAT, ">= 0"),
        "size_to_m": (_FLOAT, ">= 0"),
        "cover_most": (_FLOAT, "> 0 AND cover_most <= 1"),
        "drop_out_m": (_FLOAT, ">= 0"),
        "drop_onto": (_TEXT, ""),
    },
    "station": {
        name: (_FLOAT, bounds)
        for name, bounds in _WANTED.items()
        if name not in ("wanted_m_s", "wanted_rad_s", "wanted_hz")
    },
}


def upgrade() -> None:
    """Fruit and throughput of the line become its first recipe; nothing that was entered is lost."""
    _recipe()
    _recipe_speed()
    _move_fruit()
    for table, columns in _FURTHER.items():
        with _rebuilt(table) as batch:
            for name, (kind, bounds) in columns.items():
                batch.add_column(sa.Column(name, kind()))
                if bounds:
                    check = op.f(f"ck_{table}_{name}_bounds")
                    batch.create_check_constraint(check, f"{name} {bounds}")
    _pair()


def _rebuilt(table: str) -> Any:
    # Rebuilt always, and with its counter: without it the ids of removed rows would come back.
    kept = {"sqlite_autoincrement": True}
    return op.batch_alter_table(table, recreate="always", table_kwargs=kept)


def _word(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.String(), nullable=False, server_default=sa.text("''"))


def _at_least(table: str, name: str, bounds: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(f"{name} {bounds}", name=op.f(f"ck_{table}_{name}_bounds"))


def _recipe() -> None:
    bounds = {
        "fruit_mass_kg": "> 0",
        "fruit_diameter_m": "> 0",
        "diameter_spread_m": ">= 0",
        "fruit_density_kg_m3": "> 0",
        "fruit_bulk_kg_m3": "> 0",
        "bins_1_s": ">= 0",
        "bin_mass_kg": "> 0",
        "mass_flow_kg_s": ">= 0",
        "fruit_1_s": ">= 0",
        "culled": ">= 0 AND culled <= 1",
    }
    names = list(bounds)
    op.create_table(
        "recipe",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        _word("name"),
        _word("fruit"),
        *(sa.Column(name, sa.Float()) for name in names[:5]),
        sa.Column("throughput", sa.String()),
        *(sa.Column(name, sa.Float()) for name in names[5:]),
        _word("notes"),
        sa.PrimaryKeyConstraint("id", name="pk_recipe"),
        sa.UniqueConstraint("name", name="uq_recipe_name"),
        *(_at_least("recipe", name, bound) for name, bound in bounds.items()),
        sqlite_autoincrement=True,
    )


def _recipe_speed() -> None:
    op.create_table(
        "recipe_speed",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("recipe_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("station_id", sa.Integer()),
        sa.Column("wanted", sa.String(), nullable=False, server_default=sa.text("'none'")),
        *(sa.Column(name, sa.Float()) for name in _WANTED),
        sa.PrimaryKeyConstraint("id", name="pk_recipe_speed"),
        sa.ForeignKeyConstraint(
            ["recipe_id"],
            ["recipe.id"],
            name="fk_recipe_speed_recipe_id_recipe",
            ondelete="RESTRICT",
        ),
        sa.ForeignKeyConstraint(
            ["station_id"],
            ["station.id"],
            name="fk_recipe_speed_station_id_station",
            ondelete="RESTRICT",
        ),
        sa.UniqueConstraint("recipe_id", "station_id", name="uq_recipe_speed_recipe_id_station_id"),
        *(_at_least("recipe_speed", name, bound) for name, bound in _WANTED.items()),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_recipe_speed_recipe_id", "recipe_speed", ["recipe_id"])


def _move_fruit() -> None:
    listed = ", ".join(_MOVED)
    entered = " OR ".join(
        f"{name} <> ''" if name == "fruit" else f"{name} IS NOT NULL" for name in _MOVED
    )
    op.execute(
        f"INSERT INTO recipe (position, name, {listed}) "
        f"SELECT 0, CASE fruit WHEN '' THEN 'Recipe 1' ELSE fruit END, {listed} "
        f"FROM line WHERE {entered}"
    )
    with _rebuilt("line") as batch:
        for name in _BOUNDED:
            batch.drop_constraint(op.f(f"ck_line_{name}_bounds"), type_="check")
        for name in _MOVED:
            batch.drop_column(name)


def _pair() -> None:
    with _rebuilt("pair") as batch:
        batch.add_column(
            sa.Column(
                "wanted_as", sa.String(), nullable=False, server_default=sa.text("'differential'")
            )
        )
        batch.add_column(sa.Column("wanted_differential", sa.Float()))
        batch.add_column(sa.Column("wanted_ratio", sa.Float()))
        batch.add_column(sa.Column("tolerance", sa.Float()))
        batch.add_column(
            sa.Column("one_signal", sa.Boolean(), nullable=False, server_default=sa.text("0"))
        )
        batch.create_check_constraint(
            op.f("ck_pair_wanted_differential_bounds"),
            "wanted_differential >= -2 AND wanted_differential <= 2",
        )
        batch.create_check_constraint(op.f("ck_pair_wanted_ratio_bounds"), "wanted_ratio > 0")
        batch.create_check_constraint(
            op.f("ck_pair_tolerance_bounds"), "tolerance > 0 AND tolerance <= 1"
        )
