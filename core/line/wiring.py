"""Every conductor of the line: from where, to where, with number, colour, size and cable.

Nothing here is measured or sized; it is what the entries of the file say, put in the order in
which a station is wired. What is not entered stays empty, for the sheet to say so.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from core.model import Bus, Cable, DriveType, Line, Motor, Station
from core.model.choices import INPUT_FUNCTIONS, OUTPUT_FUNCTIONS
from core.tables import load_table

RUN_LETTERS = {
    "power_in": "P",
    "motor": "M",
    "reference": "R",
    "controls": "C",
    "outputs": "O",
    "bus": "B",
}
"""Letter of each run in a wire number: A01-R2 is the second reference wire of station A01."""


@dataclass(frozen=True, slots=True)
class End:
    """One end of a conductor; an empty terminal is one that was not entered."""

    device: str
    terminal: str


@dataclass(frozen=True, slots=True)
class Conductor:
    """One conductor, with the cable it runs in (None where no cable was entered)."""

    number: str
    station: str
    run: str
    purpose: str
    start: End
    end: End
    colour: str
    size_m2: float | None
    cable: Cable | None


@dataclass(frozen=True, slots=True)
class BusChain:
    """One bus as it is wired: the devices in order, and which ends carry a termination."""

    name: str
    devices: tuple[str, ...]
    terminated_first: bool
    terminated_last: bool


@dataclass(frozen=True, slots=True)
class Wiring:
    """All conductors of a line in the order of its stations, and its buses."""

    conductors: tuple[Conductor, ...]
    buses: tuple[BusChain, ...]


def wire_line(line: Line) -> Wiring:
    """The wiring of a whole line."""
    conductors: list[Conductor] = []
    for station in line.stations:
        conductors += wire_station(line, station)
    chains = []
    for bus in line.buses:
        members = _bus_members(line, bus)
        conductors += _bus_wires(line, bus, members)
        chains.append(_chain(bus, members))
    return Wiring(tuple(conductors), tuple(chains))


def wire_station(line: Line, station: Station) -> list[Conductor]:
    """The conductors of one station, without the bus, which belongs to the line."""
    drive_type = line.drive_type(station.drive.drive_type_id) or DriveType()
    colours = _colours(line.wiring_rules)
    found: list[Conductor] = []
    for run, wires in (
        ("power_in", _power_in(line, station, drive_type)),
        ("motor", _motor_leads(station, drive_type)),
        ("reference", _reference(station, drive_type)),
        ("controls", _controls(station, drive_type)),
        ("outputs", _outputs(station)),
    ):
        found += _numbered(station, run, wires, colours)
    return found


@dataclass(frozen=True, slots=True)
class _Wire:
    purpose: str
    colour_use: str
    start: End
    end: End
    earth: bool = False


def _drive(station: Station, terminal: str) -> End:
    return End(f"{station.tag} drive", terminal)


def _at(drive_type: DriveType, role: str) -> str:
    found = drive_type.terminal(role)
    return found.designation if found else ""


def _colours(rules: str) -> dict[str, str]:
    return {
        row["use"]: row["colour"] for row in load_table("wire_colours") if row["rules"] == rules
    }


def _power_in(line: Line, station: Station, drive_type: DriveType) -> Iterator[_Wire]:
    supply = line.supply(station.drive.supply_id)
    if supply is None or not station.drive.supply_lines:
        return
    source = station.drive.protection or supply.name
    for place, conductor in enumerate(station.drive.supply_lines.split(), start=1):
        use = "neutral" if conductor == "N" else f"line_{conductor[1:]}"
        yield _Wire(
            f"Power in, {conductor}",
            use,
            End(source, conductor),
            _drive(station, _at(drive_type, f"line_{place}")),
        )
    yield _Wire(
        "Protective earth",
        "earth",
        End(supply.name, "PE"),
        _drive(station, _at(drive_type, "earth")),
        earth=True,
    )


def _motor_leads(station: Station, drive_type: DriveType) -> Iterator[_Wire]:
    for motor in station.motors:
        device = _motor_name(station, motor)
        for role, mark in (("motor_u", "U"), ("motor_v", "V"), ("motor_w", "W")):
            terminal = _at(drive_type, role)
            other = terminal if terminal.startswith("T") else f"{mark}1"
            yield _Wire(
                f"Motor lead {terminal or mark}",
                "motor",
                _drive(station, terminal),
                End(device, other),
            )
        yield _Wire(
            "Motor earth",
            "earth",
            _drive(station, _at(drive_type, "earth")),
            End(device, "PE"),
            earth=True,
        )


def _motor_name(station: Station, motor: Motor) -> str:
    return f"{station.tag} motor {motor.tag}".strip()


def _reference(station: Station, drive_type: DriveType) -> Iterator[_Wire]:
    reference = station.reference
    if reference.source not in ("potentiometer", "voltage", "current", "dac", "pid"):
        return
    entry = drive_type.reference_input(reference.input_name)
    signal = entry.terminal if entry else ""
    common = (entry.common_terminal if entry else "") or _at(drive_type, "reference_common")
    device = reference.device or ("Feedback" if reference.source == "pid" else "Reference")
    if reference.source == "potentiometer":
        yield _Wire(
            "Potentiometer supply",
            "signal",
            End(device, reference.terminal_supply),
            _drive(station, _at(drive_type, "reference_supply")),
        )
    what = "Feedback" if reference.source == "pid" else "Reference"
    for purpose, own, theirs in (
        (f"{what} signal", reference.terminal_plus, signal),
        (f"{what} common", reference.terminal_minus, common),
    ):
        yield _Wire(purpose, "signal", End(device, own), _drive(station, theirs))


def _controls(station: Station, drive_type: DriveType) -> Iterator[_Wire]:
    commons: dict[str, str] = {}
    for entry in station.digital_inputs:
        commons.setdefault(entry.from_device, entry.common_terminal)
        yield _Wire(
            INPUT_FUNCTIONS[entry.function],
            "control_dc",
            End(entry.from_device, entry.from_terminal),
            _drive(station, entry.terminal),
        )
    sinks = station.controls.logic == "sink"
    role = "digital_common" if sinks else "control_supply"
    for device, terminal in commons.items():
        yield _Wire(
            "Common of the inputs" if sinks else "24 V to the inputs",
            "control_dc",
            End(device, terminal),
            _drive(station, _at(drive_type, role)),
        )


def _outputs(station: Station) -> Iterator[_Wire]:
    for entry in station.outputs:
        name = OUTPUT_FUNCTIONS[entry.function]
        use = "signal" if entry.kind == "analogue" else "control_dc"
        yield _Wire(
            name, use, _drive(station, entry.terminal), End(entry.to_device, entry.to_terminal)
        )
        yield _Wire(
            f"{name}, common",
            use,
            _drive(station, entry.common_terminal),
            End(entry.to_device, entry.to_common),
        )


def _numbered(
    station: Station, run: str, wires: Iterable[_Wire], colours: dict[str, str]
) -> list[Conductor]:
    cable = station.cable(run)
    return [
        Conductor(
            number=f"{station.tag}-{RUN_LETTERS[run]}{number}",
            station=station.tag,
            run=run,
            purpose=wire.purpose,
            start=wire.start,
            end=wire.end,
            colour=colours[wire.colour_use],
            size_m2=_size(cable, wire),
            cable=cable,
        )
        for number, wire in enumerate(wires, start=1)
    ]


def _size(cable: Cable | None, wire: _Wire) -> float | None:
    if cable is None:
        return None
    return cable.earth_m2 or cable.conductor_m2 if wire.earth else cable.conductor_m2


def _bus_members(line: Line, bus: Bus) -> list[Station]:
    members = [station for station in line.stations if station.drive.bus_id == bus.id]
    return sorted(members, key=lambda station: (station.drive.bus_place or 1_000, station.tag))


def _bus_wires(line: Line, bus: Bus, members: Sequence[Station]) -> list[Conductor]:
    colours = _colours(line.wiring_rules)
    found: list[Conductor] = []
    ends = {
        "plus": End(bus.controller, bus.terminal_plus),
        "minus": End(bus.controller, bus.terminal_minus),
        "common": End(bus.controller, bus.terminal_common),
    }
    for station in members:
        drive_type = line.drive_type(station.drive.drive_type_id) or DriveType()
        wires = []
        for part, start in list(ends.items()):
            end = _drive(station, _at(drive_type, f"bus_{part}"))
            wires.append(_Wire(f"{bus.name}, {part}", "signal", start, end))
            ends[part] = end
        found += _numbered(station, "bus", wires, colours)
    return found


def _chain(bus: Bus, members: Sequence[Station]) -> BusChain:
    names = [bus.controller, *(f"{station.tag} drive" for station in members)]
    return BusChain(
        bus.name, tuple(names), bus.terminated_at_controller, bus.terminated_at_last_drive
    )
