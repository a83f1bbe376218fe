"""A line without any finding, and what tests need to spoil it and to look at what is said.

One station: 0.75 kW 230/400 V motor in delta on a single-phase 230 V drive, told by 4-20 mA.
Every value is invented.
"""

import dataclasses
import math
import re
from typing import Any

from core.line import compute_line
from core.line.findings import LEVELS, Finding, find
from core.model import (
    Bus,
    Cable,
    Controls,
    DigitalInput,
    Drive,
    Drivetrain,
    DriveType,
    Enclosure,
    Line,
    ListedSetting,
    Motor,
    ReferenceInput,
    Setting,
    SpeedReference,
    Station,
    Supply,
    Terminal,
)

RPM = math.pi / 30.0
MM2 = 1e-6


def _listed(*rows: str) -> tuple[ListedSetting, ...]:
    # code | role | unit | minimum | maximum | factory | options
    return tuple(
        ListedSetting(number, code, code, role, unit, low, high, factory, options)
        for number, row in enumerate(rows, start=1)
        for code, role, unit, low, high, factory, options in [
            [cell.strip() for cell in row.split("|")]
        ]
    )


LISTED = _listed(
    "volts | motor_voltage | V | 100 | 250 | 230 |",
    "hertz | motor_frequency | Hz | 25 | 120 | 50 |",
    "amps | motor_current | A | 0.5 | 8 | 3.1 |",
    "speed | motor_speed | rpm | 300 | 7200 | 1440 |",
    "limit | overload_current | A | 0.5 | 8 | 3.1 |",
    "hz-max | frequency_max | Hz | 10 | 120 | 50 |",
    "hz-min | frequency_min | Hz | 0 | 60 | 0 |",
    "up | ramp_up | s | 0.1 | 600 | 10 |",
    "down | ramp_down | s | 0.1 | 600 | 10 |",
    "from | reference_source ||||0| 0 = keypad; 1 = reference input; 2 = presets; 3 = bus",
    "range | reference_range ||||0| 0 = 0-10 V; 1 = 0-20 mA; 2 = 4-20 mA; 3 = 0-5 V; 4 = 2-10 V",
    "low | hz_at_reference_low | Hz | 0 | 120 | 0 |",
    "high | hz_at_reference_high | Hz | 0 | 120 | 50 |",
    "lost | loss_action ||||0| 0 = nothing; 1 = stop on the ramp",
    "run | command_source ||||0| 0 = keypad; 1 = digital inputs; 2 = bus",
    "stop | stop_mode ||||0| 0 = on the ramp; 1 = coast",
    "again | restart_after_power ||||0| 0 = no; 1 = yes",
    "place | bus_address || 1 | 247 | 1 |",
    "baud | bus_speed ||||9600| 9600 = 9600 Bd; 19200 = 19200 Bd",
    "parity | bus_parity ||||0| 0 = none; 1 = even; 2 = odd",
)
SHOWN = {
    "volts": 230,
    "hertz": 50,
    "amps": 3.1,
    "speed": 1440,
    "limit": 3.1,
    "hz-max": 50,
    "hz-min": 20,
    "up": 3,
    "down": 3,
    "from": 1,
    "range": 2,
    "low": 0,
    "high": 50,
    "lost": 1,
    "run": 1,
    "stop": 0,
    "again": 0,
    "place": 1,
    "baud": 19200,
    "parity": 1,
}
TO_SI = {"speed": RPM}
TYPE = DriveType(
    1,
    "S drive",
    input_phases="1",
    input_voltage_min_v=200.0,
    input_voltage_max_v=253.0,
    input_frequency_min_hz=47.0,
    input_frequency_max_hz=63.0,
    output_voltage_v=230.0,
    output_current_a=4.2,
    input_current_1ph_a=9.0,
    overload=1.5,
    losses_w=44.0,
    ambient_max_k=323.15,
    protection="IP20",
    motor_cable_max_m=50.0,
    reference_supply_v=10.0,
    reference_supply_max_a=0.010,
    protection_max_a=16.0,
    leakage_a=0.0035,
    bus_capacitance_f=820e-6,
    bus_trip_v=400.0,
    terminals=(Terminal(1, "X1", "reference_in"), Terminal(2, "X2", "digital_in")),
    reference_inputs=(
        ReferenceInput(1, "mA", "X1", "X9", "current", None, None, 0.0, 0.020, 250.0),
        ReferenceInput(2, "V", "X1", "X9", "voltage", 0.0, 10.0, None, None, 200e3),
    ),
    listed_settings=LISTED,
)
MOTOR = Motor(
    1,
    "M1",
    power_w=750.0,
    voltage_low_v=230.0,
    connection_low="delta",
    current_low_a=3.1,
    voltage_high_v=400.0,
    connection_high="star",
    current_high_a=1.8,
    connected_for="low",
    frequency_hz=50.0,
    speed_rad_s=1440.0 * RPM,
    power_factor=0.78,
    efficiency=0.78,
    protection="IP55",
    cooling="own_fan",
    inverter_duty="yes",
    speed_max_rad_s=2700.0 * RPM,
    inertia_kg_m2=0.0018,
    serial="M-1",
)
SUPPLY = Supply(
    1,
    "hall",
    "3ph_400y_230",
    50.0,
    service_rating_a=63.0,
    feeder_conductor_m2=16 * MM2,
    rcd_type="b",
    rcd_trip_a=0.3,
    drop_max=0.05,
)
ENCLOSURE = Enclosure(
    1, "panel", 1.0, 0.8, 0.3, "single_wall", "painted_steel", "IP54", None, 305.15, 323.15, 0.0
)
BUS = Bus(
    1,
    "bus 1",
    "modbus_rtu",
    "LC1",
    speed_bd=19200,
    parity="even",
    terminated_at_controller=True,
    terminated_at_last_drive=True,
)
CABLES = (
    Cable(1, "power_in", "", 2.5 * MM2, 2.5 * MM2, 20.0, "none", "power", "pvc", "B2", 308.15, 2),
    Cable(2, "motor", "", 1.5 * MM2, 1.5 * MM2, 10.0, "both", "motor"),
    Cable(3, "reference", "", 0.75 * MM2, None, 10.0, "drive", "own"),
)


def settings(**changes: float | None) -> tuple[Setting, ...]:
    """The entered settings, changed by code (``_`` for ``-``); None leaves one out."""
    shown = {**SHOWN, **{code.replace("_", "-"): value for code, value in changes.items()}}
    return tuple(
        Setting(number, code, f"{value:g}", value * TO_SI.get(code, 1.0))
        for number, (code, value) in enumerate(shown.items(), start=1)
        if value is not None
    )


def _station() -> Station:
    drive = Drive(1, 1, "D-1", "", 1, 1, "L1 N", "C 16", 16.0, "breaker_c", bus_id=1)
    reference = SpeedReference(
        1, "current", "LC1", input_name="mA", low_a=0.004, high_a=0.020, loss_action="stop"
    )
    return Station(
        1,
        "ST1",
        "Belt",
        "belt",
        area="washdown",
        wanted="frequency",
        wanted_hz=40.0,
        motors=(MOTOR,),
        drive=dataclasses.replace(drive, bus_address=1, bus_place=1, settings=settings()),
        # 40 of 50 Hz: 4 mA + 0.8 * 16 mA = 16.8 mA.
        reference=dataclasses.replace(reference, loop_supply_v=24.0, loop_min_v=12.0, now_a=0.0168),
        controls=Controls(1, "three_wire", "source", "1", "supply_contactor", "no"),
        digital_inputs=(
            DigitalInput(1, "X2", "start", "open"),
            DigitalInput(2, "X3", "stop", "closed"),
        ),
        drivetrain=Drivetrain(
            1,
            gear_ratio=20.0,
            surface="drum",
            drum_diameter_m=0.1,
            load_kind="constant_torque",
            load_fraction=0.5,
            inertia_kg_m2=0.2,
            shaft_speed_max_rad_s=100.0 * RPM,
        ),
        cables=CABLES,
    )


STATION = _station()


def change(held: Station = STATION, **parts: Any) -> Station:
    """A station with fields changed; a dict changes fields of the part, not the part itself.

    ``motor``, ``power_in``, ``motor_cable`` and ``reference_cable`` reach into the tuples.
    """
    for name, given in parts.items():
        if name == "motor":
            held = dataclasses.replace(
                held, motors=(dataclasses.replace(held.motors[0], **given), *held.motors[1:])
            )
        elif name in ("power_in", "motor_cable", "reference_cable"):
            run = name.removesuffix("_cable")
            cables = tuple(
                dataclasses.replace(each, **given) if each.run == run else each
                for each in held.cables
            )
            held = dataclasses.replace(held, cables=cables)
        elif isinstance(given, dict):
            held = dataclasses.replace(
                held, **{name: dataclasses.replace(getattr(held, name), **given)}
            )
        else:
            held = dataclasses.replace(held, **{name: given})
    return held


def keyed(**shown: float | None) -> Station:
    """The sound station with settings changed at its keypad."""
    return change(drive={"settings": settings(**shown)})


def line(*stations: Station, kind: Any = None, supply: Any = None, **changes: Any) -> Line:
    """The sound line with these stations; ``kind`` and ``supply`` are changes to those records."""
    plain = Line(
        1,
        "Sound",
        wiring_rules="iec",
        supplies=(dataclasses.replace(SUPPLY, **(supply or {})),),
        enclosures=(ENCLOSURE,),
        buses=(BUS,),
        drive_types=(dataclasses.replace(TYPE, **(kind or {})),),
        stations=stations or (STATION,),
    )
    return dataclasses.replace(plain, **changes)


def numbered(number: int, **parts: Any) -> Station:
    """Another station like the sound one, with its own ids, tag, serials, address and place."""
    own = change(
        id=number,
        tag=f"ST{number}",
        motor={"id": number, "serial": f"M-{number}"},
        drive={
            "id": number,
            "serial": f"D-{number}",
            "bus_address": number,
            "bus_place": number,
            "settings": settings(place=number),
        },
    )
    return change(own, **parts)


def found(held: Line, key: str) -> list[Finding]:
    """The findings of one rule on a line."""
    return [entry for entry in find(compute_line(held)).found if entry.key == key]


def fires(key: str, held: Line) -> Finding:
    """The one finding of a rule on a line; its words are looked at on the way."""
    entries = found(held, key)
    assert len(entries) == 1, [entry.says("metric") for entry in entries]
    check_words(entries[0])
    return entries[0]


def quiet(key: str, held: Line) -> None:
    """Nothing of a rule on a line."""
    assert found(held, key) == []


def check_words(entry: Finding) -> None:
    """A finding reads as sentences in both unit systems."""
    assert entry.level in LEVELS
    assert entry.rule.source
    for system in ("metric", "us"):
        for told in (entry.says(system), entry.follows(system), entry.mend(system)):
            assert not re.search(r"[{}]|  |None|\bnan\b|\.\.| ,| ;", told), told
            assert told[0].isupper() or told[0].isdigit(), told
            assert told.endswith("."), told
            assert len(told.split()) > 2, told
