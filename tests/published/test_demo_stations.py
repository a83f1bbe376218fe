"""All 28 stations of the two demo lines, recomputed from their plates, gears and wiring.

The figures come from the demo tables (data/demo_a.csv and demo_b.csv, with their notes), worked out
elsewhere. Source of each relation: 120 f / p; constant slip speed at constant flux; belts on their
middle line; one chain pitch per tooth; 0-10 V and 4-20 mA scaling (IEC 60381).
"""

import csv
import math
from functools import partial
from pathlib import Path

import pytest

from core.calc import drivetrain, motor, reference
from tests.published.checks import Check, every

DATA = Path(__file__).parent / "data"
RPM = math.pi / 30
TOLERANCE = 0.002  # the tables are rounded, and their notes state 0.2 %
# By the first letter of the station: ending of the size columns, their unit in m, column of the
# speed, its unit in m/s.
UNITS = {
    "A": ("in", 0.0254, "speed_at_set_fpm", 0.00508),
    "B": ("mm", 0.001, "speed_at_set_m_s", 1.0),
}
SIGNAL_SPANS = {"V": (0.0, 10.0, 1.0), "mA": (0.004, 0.020, 1e-3)}


def read_stations():
    for name in ("demo_a.csv", "demo_b.csv"):
        with (DATA / name).open(encoding="utf-8", newline="") as file:
            yield from csv.DictReader(file)


STATIONS = list(read_stations())
CARRYING = [row for row in STATIONS if row["kind"] not in ("pump", "fan")]


def on_each(stations):
    return pytest.mark.parametrize("row", stations, ids=[row["station_id"] for row in stations])


def motor_speed(row):
    hz, poles = float(row["nameplate_Hz"]), int(row["poles"])
    slip = motor.rated_slip_rad_s(float(row["nameplate_rpm"]) * RPM, hz, poles)
    return motor.speed_at_rad_s(
        float(row["set_Hz"]), poles, slip, float(row["slip_load_fraction"]), hz
    )


def shaft_speed(row):
    ratio = drivetrain.total_ratio(
        float(row["gear_ratio"]), int(row["sprocket_driver_z"]), int(row["sprocket_driven_z"])
    )
    return drivetrain.shaft_speed_rad_s(motor_speed(row), ratio)


def surface_speed(row, size, metres):
    if row["kind"] == "chain":
        pitch_m = float(row[f"conveyor_chain_pitch_{size}"]) * metres
        return drivetrain.chain_speed_m_s(
            shaft_speed(row), int(row["conveyor_sprocket_z"]), pitch_m
        )
    return drivetrain.surface_speed_m_s(
        shaft_speed(row),
        float(row[f"drum_or_roller_dia_{size}"]) * metres,
        float(row[f"belt_thickness_{size}"] or 0.0) * metres,
    )


def test_all_stations_are_here():
    assert len(STATIONS) == 28
    assert len(CARRYING) == 25
    assert len(CHECKS) == 28 + 28 + 25 + 28


def surface_speed_of(row):
    size, metres, *_ = UNITS[row["station_id"][0]]
    return surface_speed(row, size, metres)


def printed_surface_speed(row):
    *_, column, metres_per_second = UNITS[row["station_id"][0]]
    return float(row[column]) * metres_per_second


def signal_at_set(row):
    low, high, _unit = SIGNAL_SPANS[row["signal_unit"]]
    ends_hz = float(row["ref_low_Hz"]), float(row["ref_high_Hz"])
    return reference.signal_for_frequency(float(row["set_Hz"]), low, high, *ends_hz)


def printed_signal(row):
    return float(row["signal_at_set"]) * SIGNAL_SPANS[row["signal_unit"]][2]


def checks_of(rows, function, got, expected, unit):
    """One check for each station, named after it, within the tables' own rounding."""
    return [
        Check(
            function=function,
            case=f"demo station {row['station_id']}",
            got=partial(got, row),
            expected=expected(row),
            tolerance=TOLERANCE * abs(expected(row)) or 1e-9,
            unit=unit,
            source=f"demo line tables of the project, demo_{row['station_id'][0].lower()}.csv",
            status="by hand",
        )
        for row in rows
    ]


CHECKS = (
    *checks_of(
        STATIONS,
        motor.speed_at_rad_s,
        lambda row: motor_speed(row) / RPM,
        lambda row: float(row["motor_rpm_at_set"]),
        "r/min",
    ),
    *checks_of(
        STATIONS,
        drivetrain.shaft_speed_rad_s,
        lambda row: shaft_speed(row) / RPM,
        lambda row: float(row["shaft_rpm_at_set"]),
        "r/min",
    ),
    *checks_of(
        [row for row in CARRYING if row["kind"] != "chain"],
        drivetrain.surface_speed_m_s,
        surface_speed_of,
        printed_surface_speed,
        "m/s",
    ),
    *checks_of(
        [row for row in CARRYING if row["kind"] == "chain"],
        drivetrain.chain_speed_m_s,
        surface_speed_of,
        printed_surface_speed,
        "m/s",
    ),
    *(
        check
        for signal_unit, (_low, _high, scale) in SIGNAL_SPANS.items()
        for check in checks_of(
            [row for row in STATIONS if row["signal_unit"] == signal_unit],
            reference.signal_for_frequency,
            lambda row, scale=scale: signal_at_set(row) / scale,
            lambda row, scale=scale: printed_signal(row) / scale,
            signal_unit,
        )
    ),
)


@every(CHECKS)
def test_published_value(check):
    check.verify()


@on_each(STATIONS)
def test_poles(row):
    speed = float(row["nameplate_rpm"]) * RPM
    assert motor.poles_from_speed(speed, float(row["nameplate_Hz"])) == int(row["poles"])


@on_each(STATIONS)
def test_set_frequency_comes_back_from_the_shaft(row):
    hz, poles = float(row["nameplate_Hz"]), int(row["poles"])
    slip = motor.rated_slip_rad_s(float(row["nameplate_rpm"]) * RPM, hz, poles)
    speed = float(row["motor_rpm_at_set"]) * RPM
    load = float(row["slip_load_fraction"])
    frequency = motor.frequency_for_speed_hz(speed, poles, slip, load, hz)
    assert frequency == pytest.approx(float(row["set_Hz"]), rel=TOLERANCE)


@pytest.mark.parametrize(
    ("signal", "span", "ends_hz", "hz"),
    # faults planted in the demo lines, from their notes
    [
        (0.01632, (0.0, 0.020), (0.0, 60.0), 48.96),  # A05: 4-20 mA source, input left at 0-20 mA
        (2.40, (0.0, 10.0), (15.0, 60.0), 25.8),  # A08: ends of the potentiometer swapped
        (0.01453, (0.004, 0.020), (0.0, 50.0), 32.9),  # A11: top of the reference left at 50 Hz
        (8.10, (0.0, 10.0), (0.0, 50.0), 40.5),  # B11: the same
    ],
)
def test_frequency_of_the_planted_faults(signal, span, ends_hz, hz):
    frequency = reference.frequency_for_signal_hz(signal, *span, *ends_hz)
    assert frequency == pytest.approx(hz, rel=TOLERANCE)
