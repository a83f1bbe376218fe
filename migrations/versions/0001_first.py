"""First file format: the line, its supplies, drive types and stations, and the history."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Everything of the first release; checks, readings and records come later."""
    _bus()
    _drive_type()
    _enclosure()
    _history()
    _instrument()
    _line()
    _person()
    _station()
    _supply()
    _cable()
    _controls()
    _digital_input()
    _drive()
    _drivetrain()
    _flow()
    _listed_setting()
    _motor()
    _output()
    _preset()
    _process()
    _reference_input()
    _speed_reference()
    _terminal()
    _setting()


def _bus() -> None:
    op.create_table(
        "bus",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("protocol", sa.String()),
        sa.Column("controller", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("terminal_plus", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("terminal_minus", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("terminal_common", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("speed_bd", sa.Integer()),
        sa.Column("parity", sa.String()),
        sa.Column(
            "terminated_at_controller", sa.Boolean(), nullable=False, server_default=sa.text("0")
        ),
        sa.Column(
            "terminated_at_last_drive", sa.Boolean(), nullable=False, server_default=sa.text("0")
        ),
        sa.Column("notes", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_bus"),
        sa.UniqueConstraint("name", name="uq_bus_name"),
        sa.CheckConstraint(
            "speed_bd >= 300 AND speed_bd <= 1000000", name=op.f("ck_bus_speed_bd_bounds")
        ),
        sqlite_autoincrement=True,
    )


def _drive_type() -> None:
    op.create_table(
        "drive_type",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("input_phases", sa.String()),
        sa.Column("input_voltage_min_v", sa.Float()),
        sa.Column("input_voltage_max_v", sa.Float()),
        sa.Column("doubles_voltage", sa.Boolean(), nullable=False, server_default=sa.text("0")),
        sa.Column("output_voltage_v", sa.Float()),
        sa.Column("rated_power_w", sa.Float()),
        sa.Column("rated_power_typed", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("output_current_a", sa.Float()),
        sa.Column("input_current_1ph_a", sa.Float()),
        sa.Column("input_current_3ph_a", sa.Float()),
        sa.Column("overload", sa.Float()),
        sa.Column("overload_time_s", sa.Float()),
        sa.Column("losses_w", sa.Float()),
        sa.Column("ambient_max_k", sa.Float()),
        sa.Column("frequency_max_hz", sa.Float()),
        sa.Column("protection", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("motor_cable_max_m", sa.Float()),
        sa.Column("discharge_wait_s", sa.Float()),
        sa.Column("reference_supply_v", sa.Float()),
        sa.Column("reference_supply_max_a", sa.Float()),
        sa.Column("frequency_step_hz", sa.Float()),
        sa.Column("notes", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_drive_type"),
        sa.UniqueConstraint("name", name="uq_drive_type_name"),
        sa.CheckConstraint("ambient_max_k >= 0", name=op.f("ck_drive_type_ambient_max_k_bounds")),
        sa.CheckConstraint(
            "discharge_wait_s >= 0", name=op.f("ck_drive_type_discharge_wait_s_bounds")
        ),
        sa.CheckConstraint(
            "frequency_max_hz > 0", name=op.f("ck_drive_type_frequency_max_hz_bounds")
        ),
        sa.CheckConstraint(
            "frequency_step_hz > 0", name=op.f("ck_drive_type_frequency_step_hz_bounds")
        ),
        sa.CheckConstraint(
            "input_current_1ph_a > 0", name=op.f("ck_drive_type_input_current_1ph_a_bounds")
        ),
        sa.CheckConstraint(
            "input_current_3ph_a > 0", name=op.f("ck_drive_type_input_current_3ph_a_bounds")
        ),
        sa.CheckConstraint(
            "input_voltage_max_v > 0", name=op.f("ck_drive_type_input_voltage_max_v_bounds")
        ),
        sa.CheckConstraint(
            "input_voltage_min_v > 0", name=op.f("ck_drive_type_input_voltage_min_v_bounds")
        ),
        sa.CheckConstraint("losses_w >= 0", name=op.f("ck_drive_type_losses_w_bounds")),
        sa.CheckConstraint(
            "motor_cable_max_m >= 0", name=op.f("ck_drive_type_motor_cable_max_m_bounds")
        ),
        sa.CheckConstraint(
            "output_current_a > 0", name=op.f("ck_drive_type_output_current_a_bounds")
        ),
        sa.CheckConstraint(
            "output_voltage_v > 0", name=op.f("ck_drive_type_output_voltage_v_bounds")
        ),
        sa.CheckConstraint(
            "overload >= 1 AND overload <= 5", name=op.f("ck_drive_type_overload_bounds")
        ),
        sa.CheckConstraint(
            "overload_time_s > 0", name=op.f("ck_drive_type_overload_time_s_bounds")
        ),
        sa.CheckConstraint("rated_power_w > 0", name=op.f("ck_drive_type_rated_power_w_bounds")),
        sa.CheckConstraint(
            "reference_supply_max_a > 0", name=op.f("ck_drive_type_reference_supply_max_a_bounds")
        ),
        sa.CheckConstraint(
            "reference_supply_v > 0", name=op.f("ck_drive_type_reference_supply_v_bounds")
        ),
        sqlite_autoincrement=True,
    )


def _enclosure() -> None:
    op.create_table(
        "enclosure",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("height_m", sa.Float()),
        sa.Column("width_m", sa.Float()),
        sa.Column("depth_m", sa.Float()),
        sa.Column("mounting", sa.String()),
        sa.Column("material", sa.String()),
        sa.Column("protection", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("ambient_max_k", sa.Float()),
        sa.Column("inside_max_k", sa.Float()),
        sa.Column("fan_flow_m3_s", sa.Float()),
        sa.Column("notes", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_enclosure"),
        sa.UniqueConstraint("name", name="uq_enclosure_name"),
        sa.CheckConstraint("ambient_max_k >= 0", name=op.f("ck_enclosure_ambient_max_k_bounds")),
        sa.CheckConstraint("depth_m > 0", name=op.f("ck_enclosure_depth_m_bounds")),
        sa.CheckConstraint("fan_flow_m3_s >= 0", name=op.f("ck_enclosure_fan_flow_m3_s_bounds")),
        sa.CheckConstraint("height_m > 0", name=op.f("ck_enclosure_height_m_bounds")),
        sa.CheckConstraint("inside_max_k >= 0", name=op.f("ck_enclosure_inside_max_k_bounds")),
        sa.CheckConstraint("width_m > 0", name=op.f("ck_enclosure_width_m_bounds")),
        sqlite_autoincrement=True,
    )


def _history() -> None:
    op.create_table(
        "history",
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
        sa.PrimaryKeyConstraint("id", name="pk_history"),
        sqlite_autoincrement=True,
    )


def _instrument() -> None:
    op.create_table(
        "instrument",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("serial", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("calibration_due", sa.String()),
        sa.Column("notes", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_instrument"),
        sqlite_autoincrement=True,
    )


def _line() -> None:
    op.create_table(
        "line",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("site", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("owner", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("unit_system", sa.String(), nullable=False, server_default=sa.text("'metric'")),
        sa.Column("wiring_rules", sa.String(), nullable=False, server_default=sa.text("'iec'")),
        sa.Column("language", sa.String(), nullable=False, server_default=sa.text("'en'")),
        sa.Column("paper", sa.String(), nullable=False, server_default=sa.text("'a4'")),
        sa.Column("fruit", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("fruit_mass_kg", sa.Float()),
        sa.Column("fruit_diameter_m", sa.Float()),
        sa.Column("fruit_bulk_kg_m3", sa.Float()),
        sa.Column("throughput", sa.String()),
        sa.Column("bins_1_s", sa.Float()),
        sa.Column("bin_mass_kg", sa.Float()),
        sa.Column("mass_flow_kg_s", sa.Float()),
        sa.Column("fruit_1_s", sa.Float()),
        sa.Column("culled", sa.Float()),
        sa.Column("lanes", sa.Integer()),
        sa.Column("notes", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_line"),
        sa.CheckConstraint("bin_mass_kg > 0", name=op.f("ck_line_bin_mass_kg_bounds")),
        sa.CheckConstraint("bins_1_s >= 0", name=op.f("ck_line_bins_1_s_bounds")),
        sa.CheckConstraint("culled >= 0 AND culled <= 1", name=op.f("ck_line_culled_bounds")),
        sa.CheckConstraint("fruit_1_s >= 0", name=op.f("ck_line_fruit_1_s_bounds")),
        sa.CheckConstraint("fruit_bulk_kg_m3 > 0", name=op.f("ck_line_fruit_bulk_kg_m3_bounds")),
        sa.CheckConstraint("fruit_diameter_m > 0", name=op.f("ck_line_fruit_diameter_m_bounds")),
        sa.CheckConstraint("fruit_mass_kg > 0", name=op.f("ck_line_fruit_mass_kg_bounds")),
        sa.CheckConstraint("lanes >= 1 AND lanes <= 100", name=op.f("ck_line_lanes_bounds")),
        sa.CheckConstraint("mass_flow_kg_s >= 0", name=op.f("ck_line_mass_flow_kg_s_bounds")),
        sqlite_autoincrement=True,
    )


def _person() -> None:
    op.create_table(
        "person",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("role", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("licence", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("phone", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_person"),
        sqlite_autoincrement=True,
    )


def _station() -> None:
    op.create_table(
        "station",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("tag", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("kind", sa.String(), nullable=False, server_default=sa.text("'other'")),
        sa.Column("turn", sa.String(), nullable=False, server_default=sa.text("'forward'")),
        sa.Column("lane", sa.Integer()),
        sa.Column("area", sa.String()),
        sa.Column("surroundings", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("wanted", sa.String(), nullable=False, server_default=sa.text("'none'")),
        sa.Column("wanted_m_s", sa.Float()),
        sa.Column("wanted_rad_s", sa.Float()),
        sa.Column("wanted_hz", sa.Float()),
        sa.Column("above_base", sa.Boolean(), nullable=False, server_default=sa.text("0")),
        sa.Column("notes", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_station"),
        sa.UniqueConstraint("tag", name="uq_station_tag"),
        sa.CheckConstraint("lane >= 1", name=op.f("ck_station_lane_bounds")),
        sa.CheckConstraint("wanted_hz >= 0", name=op.f("ck_station_wanted_hz_bounds")),
        sa.CheckConstraint("wanted_m_s >= 0", name=op.f("ck_station_wanted_m_s_bounds")),
        sa.CheckConstraint("wanted_rad_s >= 0", name=op.f("ck_station_wanted_rad_s_bounds")),
        sqlite_autoincrement=True,
    )


def _supply() -> None:
    op.create_table(
        "supply",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("kind", sa.String()),
        sa.Column("frequency_hz", sa.Float()),
        sa.Column("service_rating_a", sa.Float()),
        sa.Column("main_protection", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("prospective_fault_current_a", sa.Float()),
        sa.Column("feeder_length_m", sa.Float()),
        sa.Column("feeder_conductor_m2", sa.Float()),
        sa.Column("rcd_type", sa.String()),
        sa.Column("rcd_trip_a", sa.Float()),
        sa.Column("notes", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_supply"),
        sa.UniqueConstraint("name", name="uq_supply_name"),
        sa.CheckConstraint(
            "feeder_conductor_m2 > 0", name=op.f("ck_supply_feeder_conductor_m2_bounds")
        ),
        sa.CheckConstraint("feeder_length_m >= 0", name=op.f("ck_supply_feeder_length_m_bounds")),
        sa.CheckConstraint(
            "frequency_hz > 0 AND frequency_hz <= 400", name=op.f("ck_supply_frequency_hz_bounds")
        ),
        sa.CheckConstraint(
            "prospective_fault_current_a >= 0",
            name=op.f("ck_supply_prospective_fault_current_a_bounds"),
        ),
        sa.CheckConstraint("rcd_trip_a > 0", name=op.f("ck_supply_rcd_trip_a_bounds")),
        sa.CheckConstraint("service_rating_a > 0", name=op.f("ck_supply_service_rating_a_bounds")),
        sqlite_autoincrement=True,
    )


def _cable() -> None:
    op.create_table(
        "cable",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("run", sa.String(), nullable=False, server_default=sa.text("'motor'")),
        sa.Column("cable_type", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("conductor_m2", sa.Float()),
        sa.Column("earth_m2", sa.Float()),
        sa.Column("length_m", sa.Float()),
        sa.Column("screen", sa.String(), nullable=False, server_default=sa.text("'none'")),
        sa.Column("route", sa.String()),
        sa.PrimaryKeyConstraint("id", name="pk_cable"),
        sa.ForeignKeyConstraint(
            ["station_id"], ["station.id"], name="fk_cable_station_id_station", ondelete="RESTRICT"
        ),
        sa.CheckConstraint("conductor_m2 > 0", name=op.f("ck_cable_conductor_m2_bounds")),
        sa.CheckConstraint("earth_m2 > 0", name=op.f("ck_cable_earth_m2_bounds")),
        sa.CheckConstraint("length_m >= 0", name=op.f("ck_cable_length_m_bounds")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_cable_station_id", "cable", ["station_id"])


def _controls() -> None:
    op.create_table(
        "controls",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("start_mode", sa.String()),
        sa.Column("logic", sa.String()),
        sa.Column("stop_category", sa.String(), nullable=False, server_default=sa.text("'none'")),
        sa.Column("emergency_stop", sa.String()),
        sa.Column("restarts", sa.String(), nullable=False, server_default=sa.text("'unknown'")),
        sa.Column("notes", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_controls"),
        sa.ForeignKeyConstraint(
            ["station_id"],
            ["station.id"],
            name="fk_controls_station_id_station",
            ondelete="RESTRICT",
        ),
        sa.UniqueConstraint("station_id", name="uq_controls_station_id"),
        sqlite_autoincrement=True,
    )


def _digital_input() -> None:
    op.create_table(
        "digital_input",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("terminal", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("function", sa.String(), nullable=False, server_default=sa.text("'forward'")),
        sa.Column("contact", sa.String(), nullable=False, server_default=sa.text("'open'")),
        sa.Column("from_device", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("from_terminal", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("common_terminal", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_digital_input"),
        sa.ForeignKeyConstraint(
            ["station_id"],
            ["station.id"],
            name="fk_digital_input_station_id_station",
            ondelete="RESTRICT",
        ),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_digital_input_station_id", "digital_input", ["station_id"])


def _drive() -> None:
    op.create_table(
        "drive",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("drive_type_id", sa.Integer()),
        sa.Column("serial", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("firmware", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("enclosure_id", sa.Integer()),
        sa.Column("supply_id", sa.Integer()),
        sa.Column("supply_lines", sa.String()),
        sa.Column("protection", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("protection_a", sa.Float()),
        sa.Column("bus_id", sa.Integer()),
        sa.Column("bus_address", sa.Integer()),
        sa.Column("bus_place", sa.Integer()),
        sa.PrimaryKeyConstraint("id", name="pk_drive"),
        sa.ForeignKeyConstraint(
            ["bus_id"], ["bus.id"], name="fk_drive_bus_id_bus", ondelete="RESTRICT"
        ),
        sa.ForeignKeyConstraint(
            ["drive_type_id"],
            ["drive_type.id"],
            name="fk_drive_drive_type_id_drive_type",
            ondelete="RESTRICT",
        ),
        sa.ForeignKeyConstraint(
            ["enclosure_id"],
            ["enclosure.id"],
            name="fk_drive_enclosure_id_enclosure",
            ondelete="RESTRICT",
        ),
        sa.ForeignKeyConstraint(
            ["station_id"], ["station.id"], name="fk_drive_station_id_station", ondelete="RESTRICT"
        ),
        sa.ForeignKeyConstraint(
            ["supply_id"], ["supply.id"], name="fk_drive_supply_id_supply", ondelete="RESTRICT"
        ),
        sa.UniqueConstraint("station_id", name="uq_drive_station_id"),
        sa.CheckConstraint(
            "bus_address >= 1 AND bus_address <= 247", name=op.f("ck_drive_bus_address_bounds")
        ),
        sa.CheckConstraint(
            "bus_place >= 1 AND bus_place <= 247", name=op.f("ck_drive_bus_place_bounds")
        ),
        sa.CheckConstraint("protection_a > 0", name=op.f("ck_drive_protection_a_bounds")),
        sqlite_autoincrement=True,
    )


def _drivetrain() -> None:
    op.create_table(
        "drivetrain",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("gearbox", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("gear_ratio", sa.Float()),
        sa.Column("gear_efficiency", sa.Float()),
        sa.Column("driver_teeth", sa.Integer()),
        sa.Column("driven_teeth", sa.Integer()),
        sa.Column("surface", sa.String()),
        sa.Column("drum_diameter_m", sa.Float()),
        sa.Column("belt_thickness_m", sa.Float()),
        sa.Column("chain_teeth", sa.Integer()),
        sa.Column("chain_pitch_m", sa.Float()),
        sa.Column("load_kind", sa.String()),
        sa.Column("load_fraction", sa.Float()),
        sa.Column("pull_n", sa.Float()),
        sa.Column("inertia_kg_m2", sa.Float()),
        sa.Column("shaft_speed_max_rad_s", sa.Float()),
        sa.PrimaryKeyConstraint("id", name="pk_drivetrain"),
        sa.ForeignKeyConstraint(
            ["station_id"],
            ["station.id"],
            name="fk_drivetrain_station_id_station",
            ondelete="RESTRICT",
        ),
        sa.UniqueConstraint("station_id", name="uq_drivetrain_station_id"),
        sa.CheckConstraint(
            "belt_thickness_m >= 0", name=op.f("ck_drivetrain_belt_thickness_m_bounds")
        ),
        sa.CheckConstraint("chain_pitch_m > 0", name=op.f("ck_drivetrain_chain_pitch_m_bounds")),
        sa.CheckConstraint("chain_teeth >= 3", name=op.f("ck_drivetrain_chain_teeth_bounds")),
        sa.CheckConstraint("driven_teeth >= 1", name=op.f("ck_drivetrain_driven_teeth_bounds")),
        sa.CheckConstraint("driver_teeth >= 1", name=op.f("ck_drivetrain_driver_teeth_bounds")),
        sa.CheckConstraint(
            "drum_diameter_m > 0", name=op.f("ck_drivetrain_drum_diameter_m_bounds")
        ),
        sa.CheckConstraint(
            "gear_efficiency > 0 AND gear_efficiency <= 1",
            name=op.f("ck_drivetrain_gear_efficiency_bounds"),
        ),
        sa.CheckConstraint("gear_ratio > 0", name=op.f("ck_drivetrain_gear_ratio_bounds")),
        sa.CheckConstraint("inertia_kg_m2 >= 0", name=op.f("ck_drivetrain_inertia_kg_m2_bounds")),
        sa.CheckConstraint(
            "load_fraction >= 0 AND load_fraction <= 3",
            name=op.f("ck_drivetrain_load_fraction_bounds"),
        ),
        sa.CheckConstraint("pull_n >= 0", name=op.f("ck_drivetrain_pull_n_bounds")),
        sa.CheckConstraint(
            "shaft_speed_max_rad_s > 0", name=op.f("ck_drivetrain_shaft_speed_max_rad_s_bounds")
        ),
        sqlite_autoincrement=True,
    )


def _flow() -> None:
    op.create_table(
        "flow",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("from_station_id", sa.Integer()),
        sa.Column("to_station_id", sa.Integer()),
        sa.Column("kind", sa.String(), nullable=False, server_default=sa.text("'forward'")),
        sa.PrimaryKeyConstraint("id", name="pk_flow"),
        sa.ForeignKeyConstraint(
            ["from_station_id"],
            ["station.id"],
            name="fk_flow_from_station_id_station",
            ondelete="RESTRICT",
        ),
        sa.ForeignKeyConstraint(
            ["to_station_id"],
            ["station.id"],
            name="fk_flow_to_station_id_station",
            ondelete="RESTRICT",
        ),
        sqlite_autoincrement=True,
    )


def _listed_setting() -> None:
    op.create_table(
        "listed_setting",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("drive_type_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("code", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("meaning", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("role", sa.String(), nullable=False, server_default=sa.text("'none'")),
        sa.Column("unit", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("minimum", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("maximum", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("factory", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("options", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("register", sa.Integer()),
        sa.Column("register_scale", sa.Float()),
        sa.PrimaryKeyConstraint("id", name="pk_listed_setting"),
        sa.ForeignKeyConstraint(
            ["drive_type_id"],
            ["drive_type.id"],
            name="fk_listed_setting_drive_type_id_drive_type",
            ondelete="RESTRICT",
        ),
        sa.UniqueConstraint("drive_type_id", "code", name="uq_listed_setting_drive_type_id_code"),
        sa.CheckConstraint(
            "register >= 0 AND register <= 65535", name=op.f("ck_listed_setting_register_bounds")
        ),
        sa.CheckConstraint(
            "register_scale > 0", name=op.f("ck_listed_setting_register_scale_bounds")
        ),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_listed_setting_drive_type_id", "listed_setting", ["drive_type_id"])


def _motor() -> None:
    op.create_table(
        "motor",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("tag", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("standard", sa.String()),
        sa.Column("power_w", sa.Float()),
        sa.Column("power_typed", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("voltage_low_v", sa.Float()),
        sa.Column("connection_low", sa.String()),
        sa.Column("current_low_a", sa.Float()),
        sa.Column("voltage_high_v", sa.Float()),
        sa.Column("connection_high", sa.String()),
        sa.Column("current_high_a", sa.Float()),
        sa.Column("connected_for", sa.String()),
        sa.Column("frequency_hz", sa.Float()),
        sa.Column("speed_rad_s", sa.Float()),
        sa.Column("poles", sa.Integer()),
        sa.Column("power_factor", sa.Float()),
        sa.Column("efficiency", sa.Float()),
        sa.Column("service_factor", sa.Float()),
        sa.Column("duty", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("insulation_class", sa.String()),
        sa.Column("protection", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("cooling", sa.String()),
        sa.Column("thermal_sensor", sa.String()),
        sa.Column(
            "inverter_duty", sa.String(), nullable=False, server_default=sa.text("'unknown'")
        ),
        sa.Column("speed_max_rad_s", sa.Float()),
        sa.Column("serial", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_motor"),
        sa.ForeignKeyConstraint(
            ["station_id"], ["station.id"], name="fk_motor_station_id_station", ondelete="RESTRICT"
        ),
        sa.CheckConstraint("current_high_a > 0", name=op.f("ck_motor_current_high_a_bounds")),
        sa.CheckConstraint("current_low_a > 0", name=op.f("ck_motor_current_low_a_bounds")),
        sa.CheckConstraint(
            "efficiency > 0 AND efficiency <= 1", name=op.f("ck_motor_efficiency_bounds")
        ),
        sa.CheckConstraint(
            "frequency_hz > 0 AND frequency_hz <= 400", name=op.f("ck_motor_frequency_hz_bounds")
        ),
        sa.CheckConstraint("poles >= 2 AND poles <= 24", name=op.f("ck_motor_poles_bounds")),
        sa.CheckConstraint(
            "power_factor > 0 AND power_factor <= 1", name=op.f("ck_motor_power_factor_bounds")
        ),
        sa.CheckConstraint("power_w > 0", name=op.f("ck_motor_power_w_bounds")),
        sa.CheckConstraint(
            "service_factor >= 0.5 AND service_factor <= 2",
            name=op.f("ck_motor_service_factor_bounds"),
        ),
        sa.CheckConstraint("speed_max_rad_s > 0", name=op.f("ck_motor_speed_max_rad_s_bounds")),
        sa.CheckConstraint("speed_rad_s > 0", name=op.f("ck_motor_speed_rad_s_bounds")),
        sa.CheckConstraint("voltage_high_v > 0", name=op.f("ck_motor_voltage_high_v_bounds")),
        sa.CheckConstraint("voltage_low_v > 0", name=op.f("ck_motor_voltage_low_v_bounds")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_motor_station_id", "motor", ["station_id"])


def _output() -> None:
    op.create_table(
        "output",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False, server_default=sa.text("'relay'")),
        sa.Column("function", sa.String(), nullable=False, server_default=sa.text("'fault'")),
        sa.Column("terminal", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("common_terminal", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("to_device", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("to_terminal", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("to_common", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_output"),
        sa.ForeignKeyConstraint(
            ["station_id"], ["station.id"], name="fk_output_station_id_station", ondelete="RESTRICT"
        ),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_output_station_id", "output", ["station_id"])


def _preset() -> None:
    op.create_table(
        "preset",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("frequency_hz", sa.Float()),
        sa.PrimaryKeyConstraint("id", name="pk_preset"),
        sa.ForeignKeyConstraint(
            ["station_id"], ["station.id"], name="fk_preset_station_id_station", ondelete="RESTRICT"
        ),
        sa.CheckConstraint("frequency_hz >= 0", name=op.f("ck_preset_frequency_hz_bounds")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_preset_station_id", "preset", ["station_id"])


def _process() -> None:
    op.create_table(
        "process",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("brushes_forward", sa.Integer()),
        sa.Column("brushes_reverse", sa.Integer()),
        sa.Column("brush_pitch_m", sa.Float()),
        sa.Column("bed_width_m", sa.Float()),
        sa.Column("cup_pitch_m", sa.Float()),
        sa.Column("cup_lanes", sa.Integer()),
        sa.Column("cup_fill", sa.Float()),
        sa.Column("encoder_pulses", sa.Integer()),
        sa.Column("drop_latency_s", sa.Float()),
        sa.Column("view_length_m", sa.Float()),
        sa.Column("images_per_fruit", sa.Integer()),
        sa.Column("frames_hz", sa.Float()),
        sa.Column("flume_width_m", sa.Float()),
        sa.Column("flume_depth_m", sa.Float()),
        sa.Column("pump_flow_m3_s", sa.Float()),
        sa.Column("carrying_width_m", sa.Float()),
        sa.Column("carrying_length_m", sa.Float()),
        sa.PrimaryKeyConstraint("id", name="pk_process"),
        sa.ForeignKeyConstraint(
            ["station_id"],
            ["station.id"],
            name="fk_process_station_id_station",
            ondelete="RESTRICT",
        ),
        sa.UniqueConstraint("station_id", name="uq_process_station_id"),
        sa.CheckConstraint("bed_width_m > 0", name=op.f("ck_process_bed_width_m_bounds")),
        sa.CheckConstraint("brush_pitch_m > 0", name=op.f("ck_process_brush_pitch_m_bounds")),
        sa.CheckConstraint("brushes_forward >= 0", name=op.f("ck_process_brushes_forward_bounds")),
        sa.CheckConstraint("brushes_reverse >= 0", name=op.f("ck_process_brushes_reverse_bounds")),
        sa.CheckConstraint(
            "carrying_length_m > 0", name=op.f("ck_process_carrying_length_m_bounds")
        ),
        sa.CheckConstraint("carrying_width_m > 0", name=op.f("ck_process_carrying_width_m_bounds")),
        sa.CheckConstraint(
            "cup_fill >= 0 AND cup_fill <= 1", name=op.f("ck_process_cup_fill_bounds")
        ),
        sa.CheckConstraint("cup_lanes >= 1", name=op.f("ck_process_cup_lanes_bounds")),
        sa.CheckConstraint("cup_pitch_m > 0", name=op.f("ck_process_cup_pitch_m_bounds")),
        sa.CheckConstraint("drop_latency_s >= 0", name=op.f("ck_process_drop_latency_s_bounds")),
        sa.CheckConstraint("encoder_pulses >= 1", name=op.f("ck_process_encoder_pulses_bounds")),
        sa.CheckConstraint("flume_depth_m > 0", name=op.f("ck_process_flume_depth_m_bounds")),
        sa.CheckConstraint("flume_width_m > 0", name=op.f("ck_process_flume_width_m_bounds")),
        sa.CheckConstraint("frames_hz > 0", name=op.f("ck_process_frames_hz_bounds")),
        sa.CheckConstraint(
            "images_per_fruit >= 1", name=op.f("ck_process_images_per_fruit_bounds")
        ),
        sa.CheckConstraint("pump_flow_m3_s >= 0", name=op.f("ck_process_pump_flow_m3_s_bounds")),
        sa.CheckConstraint("view_length_m > 0", name=op.f("ck_process_view_length_m_bounds")),
        sqlite_autoincrement=True,
    )


def _reference_input() -> None:
    op.create_table(
        "reference_input",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("drive_type_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("terminal", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("common_terminal", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("signal", sa.String(), nullable=False, server_default=sa.text("'voltage'")),
        sa.Column("low_v", sa.Float()),
        sa.Column("high_v", sa.Float()),
        sa.Column("low_a", sa.Float()),
        sa.Column("high_a", sa.Float()),
        sa.Column("input_resistance_ohm", sa.Float()),
        sa.Column("resolution_bits", sa.Integer()),
        sa.Column("switch_position", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_reference_input"),
        sa.ForeignKeyConstraint(
            ["drive_type_id"],
            ["drive_type.id"],
            name="fk_reference_input_drive_type_id_drive_type",
            ondelete="RESTRICT",
        ),
        sa.UniqueConstraint("drive_type_id", "name", name="uq_reference_input_drive_type_id_name"),
        sa.CheckConstraint("high_a > 0", name=op.f("ck_reference_input_high_a_bounds")),
        sa.CheckConstraint("high_v > 0", name=op.f("ck_reference_input_high_v_bounds")),
        sa.CheckConstraint(
            "input_resistance_ohm > 0", name=op.f("ck_reference_input_input_resistance_ohm_bounds")
        ),
        sa.CheckConstraint("low_a >= 0", name=op.f("ck_reference_input_low_a_bounds")),
        sa.CheckConstraint(
            "resolution_bits >= 4 AND resolution_bits <= 32",
            name=op.f("ck_reference_input_resolution_bits_bounds"),
        ),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_reference_input_drive_type_id", "reference_input", ["drive_type_id"])


def _speed_reference() -> None:
    op.create_table(
        "speed_reference",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("station_id", sa.Integer(), nullable=False),
        sa.Column("source", sa.String()),
        sa.Column("device", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("terminal_plus", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("terminal_minus", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("terminal_supply", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("input_name", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("pot_ohm", sa.Float()),
        sa.Column("pot_tolerance", sa.Float()),
        sa.Column("pot_taper", sa.String()),
        sa.Column("pot_linearity", sa.Float()),
        sa.Column("low_v", sa.Float()),
        sa.Column("high_v", sa.Float()),
        sa.Column("low_a", sa.Float()),
        sa.Column("high_a", sa.Float()),
        sa.Column("source_ohm", sa.Float()),
        sa.Column("dac_bits", sa.Integer()),
        sa.Column("loop_supply_v", sa.Float()),
        sa.Column("loop_min_v", sa.Float()),
        sa.Column("loss_action", sa.String(), nullable=False, server_default=sa.text("'unknown'")),
        sa.Column("now_v", sa.Float()),
        sa.Column("now_a", sa.Float()),
        sa.Column("now_hz", sa.Float()),
        sa.Column("feedback", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("feedback_signal", sa.String()),
        sa.Column("feedback_unit", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("feedback_low", sa.Float()),
        sa.Column("feedback_high", sa.Float()),
        sa.Column("pid_setpoint", sa.Float()),
        sa.Column("pid_gain", sa.Float()),
        sa.Column("pid_integral_s", sa.Float()),
        sa.Column("pid_derivative_s", sa.Float()),
        sa.Column("notes", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_speed_reference"),
        sa.ForeignKeyConstraint(
            ["station_id"],
            ["station.id"],
            name="fk_speed_reference_station_id_station",
            ondelete="RESTRICT",
        ),
        sa.UniqueConstraint("station_id", name="uq_speed_reference_station_id"),
        sa.CheckConstraint(
            "dac_bits >= 4 AND dac_bits <= 24", name=op.f("ck_speed_reference_dac_bits_bounds")
        ),
        sa.CheckConstraint("high_a > 0", name=op.f("ck_speed_reference_high_a_bounds")),
        sa.CheckConstraint("high_v > 0", name=op.f("ck_speed_reference_high_v_bounds")),
        sa.CheckConstraint("loop_min_v >= 0", name=op.f("ck_speed_reference_loop_min_v_bounds")),
        sa.CheckConstraint(
            "loop_supply_v > 0", name=op.f("ck_speed_reference_loop_supply_v_bounds")
        ),
        sa.CheckConstraint("low_a >= 0", name=op.f("ck_speed_reference_low_a_bounds")),
        sa.CheckConstraint("now_a >= 0", name=op.f("ck_speed_reference_now_a_bounds")),
        sa.CheckConstraint("now_hz >= 0", name=op.f("ck_speed_reference_now_hz_bounds")),
        sa.CheckConstraint(
            "pid_derivative_s >= 0", name=op.f("ck_speed_reference_pid_derivative_s_bounds")
        ),
        sa.CheckConstraint("pid_gain >= 0", name=op.f("ck_speed_reference_pid_gain_bounds")),
        sa.CheckConstraint(
            "pid_integral_s >= 0", name=op.f("ck_speed_reference_pid_integral_s_bounds")
        ),
        sa.CheckConstraint(
            "pot_linearity >= 0 AND pot_linearity <= 1",
            name=op.f("ck_speed_reference_pot_linearity_bounds"),
        ),
        sa.CheckConstraint("pot_ohm > 0", name=op.f("ck_speed_reference_pot_ohm_bounds")),
        sa.CheckConstraint(
            "pot_tolerance >= 0 AND pot_tolerance <= 1",
            name=op.f("ck_speed_reference_pot_tolerance_bounds"),
        ),
        sa.CheckConstraint("source_ohm >= 0", name=op.f("ck_speed_reference_source_ohm_bounds")),
        sqlite_autoincrement=True,
    )


def _terminal() -> None:
    op.create_table(
        "terminal",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("drive_type_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("designation", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("role", sa.String(), nullable=False, server_default=sa.text("'other'")),
        sa.Column("meaning", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_terminal"),
        sa.ForeignKeyConstraint(
            ["drive_type_id"],
            ["drive_type.id"],
            name="fk_terminal_drive_type_id_drive_type",
            ondelete="RESTRICT",
        ),
        sa.UniqueConstraint(
            "drive_type_id", "designation", name="uq_terminal_drive_type_id_designation"
        ),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_terminal_drive_type_id", "terminal", ["drive_type_id"])


def _setting() -> None:
    op.create_table(
        "setting",
        sa.Column("id", sa.Integer(), primary_key=True),
        sa.Column("drive_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("code", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("shown", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.Column("value", sa.Float()),
        sa.Column("reason", sa.String(), nullable=False, server_default=sa.text("''")),
        sa.PrimaryKeyConstraint("id", name="pk_setting"),
        sa.ForeignKeyConstraint(
            ["drive_id"], ["drive.id"], name="fk_setting_drive_id_drive", ondelete="RESTRICT"
        ),
        sa.UniqueConstraint("drive_id", "code", name="uq_setting_drive_id_code"),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_setting_drive_id", "setting", ["drive_id"])
