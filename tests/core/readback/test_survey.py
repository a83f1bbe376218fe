"""Before a reading: what a bus can tell of, where it is plugged in, how patiently to ask."""

import pytest

from core.errors import InputError
from core.model import Bus, DriveType
from core.readback import RtuLink, TcpLink, links_to, patience_of, survey
from core.readback.bus import NO_ADDRESS, NO_BUS, OTHER_PROTOCOL
from core.readback.survey import NO_LIST, NO_REGISTERS
from tests.core.readback.lines import KIND, LISTED, line_of, station


def of(line):
    return {reach.station.tag: reach for reach in survey(line)}


def test_each_station_says_how_many_of_its_settings_have_a_register():
    reach = of(line_of(station(1), station(2, ("own", "x"))))
    # Nine settings in the list, eight with a register; "own" is entered, but in no list.
    assert (reach["S01"].with_register, reach["S01"].settings, reach["S01"].obstacle) == (8, 9, "")
    assert (reach["S02"].with_register, reach["S02"].settings) == (8, 10)
    assert reach["S01"].bus.name == "field bus"


def test_every_obstacle_is_named_before_anything_is_asked():
    bare = DriveType(2, "by hand only", listed_settings=LISTED[-1:])
    line = line_of(
        station(1, bus_id=None),
        station(2, bus_address=None),
        station(3, drive_type_id=2),
        station(4, drive_type_id=None),
        station(5, bus_address=6),
        station(6),
        drive_types=(KIND, bare),
    )
    reach = of(line)
    assert reach["S01"].obstacle == NO_BUS
    assert reach["S02"].obstacle == NO_ADDRESS
    assert reach["S03"].obstacle == NO_REGISTERS
    assert reach["S04"].obstacle == NO_LIST
    assert "S05 and S06" in reach["S05"].obstacle
    assert reach["S05"].obstacle == reach["S06"].obstacle
    assert of(line_of(station(1), protocol="other"))["S01"].obstacle == OTHER_PROTOCOL


SERIAL = Bus(1, "shed", "modbus_rtu", speed_bd=19200, parity="even")
NETWORK = Bus(2, "hall", "modbus_tcp")


def test_a_bus_has_one_link_or_one_for_each_drive():
    assert links_to(SERIAL, " COM5 ") == RtuLink("COM5", 19200, "even")
    assert links_to(NETWORK, "192.0.2.7:1502") == TcpLink("192.0.2.7", 1502)
    assert links_to(NETWORK, "3 = 192.0.2.13; 4=192.0.2.14:1502,") == {
        3: TcpLink("192.0.2.13", 502),
        4: TcpLink("192.0.2.14", 1502),
    }


@pytest.mark.parametrize("where", ["x = 192.0.2.1", "0 = a", "248 = a", "3 = a; 3 = b", "3=a; b"])
def test_an_address_that_is_none_or_stands_twice_is_refused(where):
    with pytest.raises(InputError, match="bus address of its own"):
        links_to(NETWORK, where)


def test_a_host_that_is_none_is_refused():
    with pytest.raises(InputError, match="is no host"):
        links_to(NETWORK, "3 = ")


def test_patience_is_typed_with_any_unit():
    found = patience_of("200 ms", "5", "metric")
    assert (found.reply_s, found.attempts) == (pytest.approx(0.2), 5)
    assert patience_of("0,5", "1", "us").reply_s == 0.5


@pytest.mark.parametrize(
    ("reply", "attempts"),
    [("0", "3"), ("11 s", "3"), ("-1 s", "3"), ("soon", "3"), ("1 m", "3")]
    + [("1 s", times) for times in ("0", "11", "2.5", "some", "")],
)
def test_no_patience_and_endless_patience_are_refused(reply, attempts):
    with pytest.raises(InputError):
        patience_of(reply, attempts, "metric")
