"""Two buses of a line that are plugged in at the same place: nobody knows which drive replies."""

import dataclasses

from core.model import Bus
from core.readback import read_drives
from tests.core.readback.lines import line_of, station
from tests.simulated_drives import SerialBus, TcpBus, drive_of


def two_buses(protocol, second_address):
    """Two stations, each on a bus of its own."""
    one, other = station(1), station(2, bus_id=2, bus_address=second_address)
    line = line_of(one, other, protocol=protocol)
    more = dataclasses.replace(line.buses[0], id=2, name="second bus")
    assert isinstance(more, Bus)
    return dataclasses.replace(line, buses=(*line.buses, more))


def test_one_address_on_two_buses_at_one_port_is_not_asked():
    line = two_buses("modbus_rtu", 1)
    with SerialBus([drive_of(line, line.stations[0])]) as bus:
        found = read_drives(line, {1: bus.link, 2: bus.link})
    assert {entry.state for entry in found.entries} == {"not_read"}
    assert any("S01 and S02: which of them replies?" in entry.reason for entry in found.entries)
    assert bus.requests == []


def test_one_address_on_two_buses_at_one_host_is_not_asked():
    line = two_buses("modbus_tcp", 1)
    with TcpBus([drive_of(line, line.stations[0])]) as bus:
        found = read_drives(line, {1: bus.link, 2: {1: bus.link}})
    assert {entry.state for entry in found.entries} == {"not_read"}
    assert bus.requests == []


def test_other_addresses_at_one_port_are_asked():
    line = two_buses("modbus_rtu", 2)
    with SerialBus([drive_of(line, held) for held in line.stations]) as bus:
        found = read_drives(line, {1: bus.link, 2: bus.link})
    assert {entry.station_id for entry in found.entries if entry.state == "read"} == {1, 2}
