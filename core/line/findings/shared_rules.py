"""Findings that only the line as a whole can give: doubles, buses, pairs of one kind."""

import re
from collections import defaultdict
from collections.abc import Iterator

from core.calc.bus import unit_load_fit
from core.line.findings.base import Place, Value
from core.line.findings.view import LineFound, LineView, line_rule
from core.line.settings import in_force
from core.model import Bus, Drive, Motor, Station

_PARITY_WORDS = {
    "none": ("none", "noparity", "no", "8n1", "8n2", "off"),
    "even": ("even", "8e1"),
    "odd": ("odd", "8o1"),
}


@line_rule(
    key="serial-number-twice",
    level="fault",
    says="Serial number {serial} is entered at {tags}.",
    follows="After a swap nobody can tell which drive or motor stands where.",
    mend="Read the number from the plate again.",
    source="common practice",
)
def serial_number_twice(whole: LineView) -> Iterator[LineFound]:
    """One serial number at two drives or two motors."""
    for part in ("drive", "motor"):
        held: dict[str, list[tuple[Station, Drive | Motor]]] = defaultdict(list)
        for station in whole.line.stations:
            records = (station.drive,) if part == "drive" else station.motors
            for record in records:
                if record.serial.strip():
                    held[record.serial.strip().casefold()].append((station, record))
        for places in held.values():
            if len(places) > 1:
                tags = " and ".join(f"{station.tag} ({part})" for station, _ in places)
                station, record = places[1]
                values: dict[str, Value] = {"serial": record.serial.strip(), "tags": tags}
                yield station, Place(part, record.id, "serial"), values


def _members(whole: LineView, bus: Bus) -> list[Station]:
    return [station for station in whole.line.stations if station.drive.bus_id == bus.id]


@line_rule(
    key="bus-address-twice",
    level="fault",
    says="Bus {bus}: address {address} is used by {tags}.",
    follows="Two drives answer at once; neither can be read.",
    mend="Give every drive its own address.",
    source="Modbus over serial line, 2.2: one address, one device",
)
def bus_address_twice(whole: LineView) -> Iterator[LineFound]:
    """Two drives with one address."""
    for bus in whole.line.buses:
        held: dict[int, list[Station]] = defaultdict(list)
        for station in _members(whole, bus):
            if station.drive.bus_address is not None:
                held[station.drive.bus_address].append(station)
        for address, stations in held.items():
            if len(stations) > 1:
                tags = " and ".join(station.tag for station in stations)
                place = Place("drive", stations[1].drive.id, "bus_address")
                yield (
                    stations[1],
                    place,
                    {"bus": bus.name, "address": str(address), "tags": tags},
                )


@line_rule(
    key="bus-address-missing",
    level="fault",
    says="Bus {bus}: the drive has no address.",
    follows="It cannot be read or told its speed.",
    mend="Set an address from 1 to 247 and enter it.",
    source="Modbus over serial line, 2.2",
)
def bus_address_missing(whole: LineView) -> Iterator[LineFound]:
    """A drive on a bus without an address."""
    for bus in whole.line.buses:
        for station in _members(whole, bus):
            if station.drive.bus_address is None:
                yield station, Place("drive", station.drive.id, "bus_address"), {"bus": bus.name}


@line_rule(
    key="bus-address-not-as-set",
    level="fault",
    says="Bus address {address} is entered, setting {code} shows {shown}.",
    follows="The wrong drive is read, or none.",
    mend="Bring both to one address.",
    source="common practice",
)
def bus_address_not_as_set(whole: LineView) -> Iterator[LineFound]:
    """The entered address differs from the drive's own setting."""
    for entry in whole.stations:
        address = entry.station.drive.bus_address
        setting = in_force(entry.station, entry.drive_type, "bus_address")
        if address is None or setting is None or not setting.entered:
            continue
        if setting.value is not None and round(setting.value) != address:
            yield (
                entry.station,
                Place("setting", entry.station.drive.id, setting.code),
                {"address": str(address), "code": setting.code, "shown": setting.shown},
            )


@line_rule(
    key="bus-settings-mixed",
    level="fault",
    says="Bus {bus} runs at {wanted}; {code} of this drive shows {shown}.",
    follows="The drive does not hear the controller, and may disturb the others.",
    mend="Set {code} to {wanted}.",
    source="Modbus over serial line, 2.4: one speed and parity for all",
)
def bus_settings_mixed(whole: LineView) -> Iterator[LineFound]:
    """A drive whose speed or parity differs from its bus."""
    buses = {bus.id: bus for bus in whole.line.buses}
    for entry in whole.stations:
        bus = buses.get(entry.station.drive.bus_id or 0)
        if bus is None:
            continue
        wanted = {"bus_speed": str(bus.speed_bd or ""), "bus_parity": bus.parity or ""}
        for role, word in wanted.items():
            setting = in_force(entry.station, entry.drive_type, role)
            if setting is None or not word or _says(setting.meaning, setting.shown, word):
                continue
            yield (
                entry.station,
                Place("setting", entry.station.drive.id, setting.code),
                {
                    "bus": bus.name,
                    "wanted": f"{word} Bd" if role == "bus_speed" else f"{word} parity",
                    "code": setting.code,
                    "shown": f"{setting.shown} ({setting.meaning})",
                },
            )


def _says(meaning: str, shown: str, word: str) -> bool:
    """Whether a setting's words mean this speed or parity, however the list writes them."""
    plain = meaning.casefold().replace(" ", "").replace("\u202f", "").replace("'", "")
    if word in _PARITY_WORDS:
        return any(same in plain for same in _PARITY_WORDS[word])
    numbers = re.findall(r"\d+(?:[.,]\d+)?", plain.replace(",", "") + f" {shown}")
    in_kilo = f"{int(word) / 1000:g}"
    return word in numbers or (in_kilo in re.findall(r"[\d.]+(?=k)", plain))


@line_rule(
    key="bus-not-terminated",
    level="fault",
    says="Bus {bus} is not terminated at {ends}.",
    follows="Reflections spoil messages, more so with speed and length.",
    mend="Put 120 to 150 Ω across the pair at both ends of the chain, and nowhere else.",
    source="Modbus over serial line, 3.4.5; EIA-485",
)
def bus_not_terminated(whole: LineView) -> Iterator[LineFound]:
    """A serial bus that lacks a termination at one end or both."""
    for bus in whole.line.buses:
        if bus.protocol != "modbus_rtu" or not _members(whole, bus):
            continue
        ends = []
        if not bus.terminated_at_controller:
            ends.append("the controller")
        if not bus.terminated_at_last_drive:
            ends.append("the last drive")
        if ends:
            place = Place("bus", bus.id, "terminated_at_controller")
            yield None, place, {"bus": bus.name, "ends": " and ".join(ends)}


@line_rule(
    key="bus-too-many-loads",
    level="fault",
    says="Bus {bus}: {number} devices, the controller included, are {loads} unit loads; a segment "
    "carries {most}.",
    follows="The lines do not swing far enough; messages are lost.",
    mend="Use a repeater, or devices of a fraction of a unit load, and enter their fraction.",
    source="EIA-485: 32 unit loads; 1 where the drive type tells none",
)
def bus_too_many_loads(whole: LineView) -> Iterator[LineFound]:
    """More unit loads than a segment carries; the controller counts as one."""
    for held in whole.line.buses:
        if held.protocol != "modbus_rtu":
            continue
        loads = [1.0]
        for entry in whole.stations:
            if entry.station.drive.bus_id == held.id:
                stated = entry.drive_type.unit_load if entry.drive_type else None
                loads.append(1.0 if stated is None else stated)
        fit = unit_load_fit(tuple(loads))
        if not fit.fits:
            yield (
                None,
                Place("bus", held.id, "name"),
                {
                    "bus": held.name,
                    "number": str(len(loads)),
                    "loads": f"{fit.needed:.4g}",
                    "most": f"{fit.available:.4g}",
                },
            )


@line_rule(
    key="bus-place-twice",
    level="advice",
    says="Bus {bus}: place {place} in the chain is used by {tags}.",
    follows="The wiring schedule cannot tell their order.",
    mend="Number the drives in the order in which the cable runs.",
    source="common practice",
)
def bus_place_twice(whole: LineView) -> Iterator[LineFound]:
    """Two drives at one place of the chain."""
    for bus in whole.line.buses:
        held: dict[int, list[Station]] = defaultdict(list)
        for station in _members(whole, bus):
            if station.drive.bus_place is not None:
                held[station.drive.bus_place].append(station)
        for number, stations in held.items():
            if len(stations) > 1:
                yield (
                    stations[1],
                    Place("drive", stations[1].drive.id, "bus_place"),
                    {
                        "bus": bus.name,
                        "place": str(number),
                        "tags": " and ".join(station.tag for station in stations),
                    },
                )
