"""A small line for the tests of the sheets, made by hand; every value is invented."""

from dataclasses import replace
from typing import Any

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
    Output,
    Preset,
    ReferenceInput,
    Setting,
    SpeedReference,
    Station,
    Supply,
    Terminal,
)

_TERMINALS = (
    ("X0:L1", "line_1"),
    ("X0:N", "line_2"),
    ("X0:PE", "earth"),
    ("U", "motor_u"),
    ("V", "motor_v"),
    ("W", "motor_w"),
    ("X1:1", "reference_supply"),
    ("X1:2", "reference_in"),
    ("X1:3", "reference_common"),
    ("X2:1", "control_supply"),
    ("X2:2", "digital_in"),
    ("X2:3", "digital_in"),
    ("X3:1", "relay_common"),
    ("X3:2", "relay_open"),
    ("X4:1", "bus_plus"),
    ("X4:2", "bus_minus"),
)
_SETTINGS = (
    ("hz-max", "Maximum frequency", "frequency_max", "Hz", "0", "400", "50.0", ""),
    ("hz-min", "Minimum frequency", "frequency_min", "Hz", "0", "400", "0.0", ""),
    ("ramp-up", "Acceleration time", "ramp_up", "s", "0", "600", "10.0", ""),
    ("ramp-down", "Deceleration time", "ramp_down", "s", "0", "600", "10.0", ""),
    (
        "ref-range",
        "Range of the reference input",
        "reference_range",
        "",
        "",
        "",
        "0",
        "0=0-10 V;1=0-20 mA;2=4-20 mA",
    ),
    ("motor-a", "Motor rated current", "motor_current", "A", "0", "50", "2.2", ""),
)


def drive_type() -> DriveType:
    """A drive type with terminals, a reference input and six listed settings."""
    return DriveType(
        id=1,
        name="230 V 0.75 kW",
        input_phases="1",
        rated_power_w=750.0,
        output_current_a=4.2,
        discharge_wait_s=300.0,
        reference_supply_v=10.0,
        terminals=tuple(
            Terminal(number, name, role) for number, (name, role) in enumerate(_TERMINALS, 1)
        ),
        reference_inputs=(
            ReferenceInput(
                1,
                "In 1",
                "X1:2",
                "X1:3",
                "voltage",
                low_v=0.0,
                high_v=10.0,
                input_resistance_ohm=100e3,
            ),
        ),
        listed_settings=tuple(
            ListedSetting(number, code, meaning, role, unit, low, high, factory, options)
            for number, (code, meaning, role, unit, low, high, factory, options) in enumerate(
                _SETTINGS, 1
            )
        ),
    )


def station(number: int, **more: Any) -> Station:
    """A station with everything entered but what ``more`` says otherwise."""
    tag = f"B{number:02d}"
    values: dict[str, Any] = {
        "id": number,
        "tag": tag,
        "name": f"Brush bed {number}",
        "kind": "brush_bed",
        "area": "washdown",
        "wanted": "shaft",
        "wanted_rad_s": 10.0,
        "motors": (_motor(number),),
        "drive": Drive(
            id=number,
            drive_type_id=1,
            serial=f"S-{number:04d}",
            firmware="1.2",
            enclosure_id=1,
            supply_id=1,
            supply_lines="L1 N",
            protection=f"F{number}",
            protection_a=16.0,
            bus_id=1,
            bus_address=number,
            bus_place=number,
            settings=(
                Setting(1, "hz-max", "60.0", 60.0, "belt runs faster"),
                Setting(2, "hz-min", "0.0", 0.0, ""),
                Setting(3, "ref-range", "0", 0.0, "potentiometer"),
                Setting(4, "secret", "7", None, "was in the drive"),
            ),
        ),
        "reference": SpeedReference(
            id=number,
            source="potentiometer",
            device=f"RP{number}",
            terminal_plus="2",
            terminal_minus="1",
            terminal_supply="3",
            input_name="In 1",
            pot_ohm=10e3,
            pot_taper="linear",
            now_v=5.0,
        ),
        "presets": (Preset(1, "Creep", 8.0),),
        "controls": Controls(1, "two_wire", "source", "1", "supply_contactor", "no"),
        "digital_inputs": (
            DigitalInput(1, "X2:2", "forward", "open", "SB1", "13", "14"),
            DigitalInput(2, "X2:3", "reset", "open", "SB1", "23", "14"),
        ),
        "outputs": (Output(1, "relay", "fault", "X3:2", "X3:1", "HL1", "1", "2"),),
        "drivetrain": Drivetrain(
            id=1,
            gearbox="worm",
            gear_ratio=15.0,
            surface="drum",
            drum_diameter_m=0.12,
            load_fraction=0.6,
        ),
        "cables": (
            Cable(1, "power_in", "3G1.5", 1.5e-6, 1.5e-6, 12.0, "none", "power"),
            Cable(2, "motor", "4G1.5 screened", 1.5e-6, 1.5e-6, 25.0, "both", "motor"),
            Cable(3, "reference", "3x0.5 screened", 0.5e-6, None, 20.0, "drive", "own"),
        ),
    }
    return Station(**{**values, **more})


def _motor(number: int) -> Motor:
    return Motor(
        id=number,
        standard="iec",
        power_w=559.274904,
        power_typed="3/4 hp",
        voltage_low_v=230.0,
        connection_low="delta",
        current_low_a=3.1,
        voltage_high_v=400.0,
        connection_high="star",
        current_high_a=1.8,
        connected_for="low",
        frequency_hz=50.0,
        speed_rad_s=146.607657,  # 1400 rpm
        power_factor=0.74,
        efficiency=0.72,
        insulation_class="F",
        cooling="own_fan",
    )


def line(count: int = 3, **more: Any) -> Line:
    """A line of some brush beds on one supply and one bus; the last one is hardly entered."""
    entries = tuple(station(number) for number in range(1, count + 1))
    bare = Station(id=count + 1, tag="X99", name="Not looked at yet")
    values: dict[str, Any] = {
        "id": 1,
        "name": "Test line",
        "site": "Nowhere",
        "owner": "A. N. Other",
        "supplies": (Supply(1, "Shed service", "1ph_230", 50.0),),
        "enclosures": (Enclosure(1, "Panel 1"),),
        "buses": (
            Bus(
                1,
                "Bus 1",
                "modbus_rtu",
                "Line controller",
                "D+",
                "D-",
                "",
                terminated_at_controller=True,
            ),
        ),
        "drive_types": (drive_type(),),
        "stations": (*entries, bare),
    }
    return Line(**{**values, **more})


def with_station(base: Line, **more: Any) -> Line:
    """The line with other values in its first station."""
    first = replace(base.stations[0], **more)
    return replace(base, stations=(first, *base.stations[1:]))
