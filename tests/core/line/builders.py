"""Small lines for the tests, put together without a file."""

import dataclasses
import math
from typing import Any

from core.model import (
    Drive,
    Drivetrain,
    DriveType,
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

LISTED = (
    ListedSetting(1, "hz-max", "highest frequency", "frequency_max", "Hz", "0", "400", "60.00"),
    ListedSetting(2, "hz-min", "lowest frequency", "frequency_min", "Hz", "0", "400", "0.00"),
    ListedSetting(
        3, "ref-low", "hertz at the bottom", "hz_at_reference_low", "Hz", "0", "400", "0"
    ),
    ListedSetting(
        4, "ref-high", "hertz at the top", "hz_at_reference_high", "Hz", "0", "400", "60.00"
    ),
    ListedSetting(
        5,
        "ref-range",
        "range of the current input",
        "reference_range",
        options="0 = 0-10 V; 1 = 0-20 mA; 2 = 4-20 mA",
        factory="0",
    ),
)
INPUTS = (
    ReferenceInput(1, "V in", "X1:3", "X1:4", "voltage", 0.0, 10.0, input_resistance_ohm=100e3),
    ReferenceInput(
        2, "mA in", "X1:5", "X1:4", "current", low_a=0.0, high_a=0.020, input_resistance_ohm=250.0
    ),
)
TERMINALS = tuple(
    Terminal(number, designation, role)
    for number, (designation, role) in enumerate(
        [
            ("L1", "line_1"),
            ("L2/N", "line_2"),
            ("PE", "earth"),
            ("U", "motor_u"),
            ("V", "motor_v"),
            ("W", "motor_w"),
            ("X1:1", "reference_supply"),
            ("X1:3", "reference_in"),
            ("X1:4", "reference_common"),
            ("X1:6", "control_supply"),
            ("X1:7", "digital_in"),
            ("X1:8", "digital_common"),
            ("X2:1", "bus_plus"),
            ("X2:2", "bus_minus"),
            ("X2:3", "bus_common"),
        ],
        start=1,
    )
)
DRIVE_TYPE = DriveType(
    1,
    "small drive",
    reference_supply_v=10.0,
    terminals=TERMINALS,
    reference_inputs=INPUTS,
    listed_settings=LISTED,
)
PLATE = Motor(
    1,
    "M1",
    power_w=1491.4,
    voltage_low_v=230.0,
    voltage_high_v=460.0,
    current_low_a=6.4,
    connected_for="low",
    frequency_hz=60.0,
    speed_rad_s=1740.0 * RPM,
)


def settings(**shown: float) -> tuple[Setting, ...]:
    """Entered settings by code (``_`` for ``-``)."""
    return tuple(
        Setting(number, code.replace("_", "-"), f"{value:g}", float(value))
        for number, (code, value) in enumerate(shown.items(), start=1)
    )


def station(**changes: Any) -> Station:
    """A station with a 2 hp motor on a 60 Hz drive, told by a voltage of 0-10 V."""
    plain = Station(
        1,
        "ST01",
        "Belt",
        "belt",
        motors=(PLATE,),
        drive=Drive(
            1,
            1,
            supply_id=1,
            supply_lines="L1 N",
            settings=settings(hz_max=60, hz_min=0, ref_low=0, ref_high=60, ref_range=0),
        ),
        reference=SpeedReference(1, "voltage", "PLC", "4", "5", "", "V in", low_v=0.0, high_v=10.0),
        drivetrain=Drivetrain(
            1, gear_ratio=20.0, surface="drum", drum_diameter_m=0.1, load_fraction=0.0
        ),
    )
    return dataclasses.replace(plain, **changes)


def line(*stations: Station, **changes: Any) -> Line:
    """A line of these stations with one drive type and one supply."""
    supply = Supply(1, "shed", "3ph_400y_230", 50.0)
    plain = Line(1, "Test", supplies=(supply,), drive_types=(DRIVE_TYPE,), stations=stations)
    return dataclasses.replace(plain, **changes)
