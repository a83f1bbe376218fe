"""Doubles and buses."""

import dataclasses

import pytest

from tests.core.line.findings.sound import (
    BUS,
    TYPE,
    fires,
    keyed,
    line,
    numbered,
    quiet,
    settings,
)


def test_serial_number_twice_fires():
    entry = fires("serial-number-twice", line(numbered(1), numbered(2, drive={"serial": " d-1 "})))
    assert "ST1 (drive) and ST2 (drive)" in entry.says("metric")
    assert entry.tag == "ST2"
    assert fires("serial-number-twice", line(numbered(1), numbered(2, motor={"serial": "M-1"})))


def test_serial_number_twice_quiet():
    quiet("serial-number-twice", line(numbered(1), numbered(2)))
    # A drive and a motor may share a number; no number is no number.
    quiet("serial-number-twice", line(numbered(1), numbered(2, drive={"serial": "M-1"})))
    bare = [numbered(n, drive={"serial": ""}, motor={"serial": " "}) for n in (1, 2)]
    quiet("serial-number-twice", line(*bare))


def test_bus_address_twice_fires():
    held = line(numbered(1), numbered(2, drive={"bus_address": 1}))
    entry = fires("bus-address-twice", held)
    assert "address 1 is used by ST1 and ST2" in entry.says("metric")


def test_bus_address_twice_quiet():
    quiet("bus-address-twice", line(numbered(1), numbered(2)))
    other = dataclasses.replace(BUS, id=2, name="bus 2")
    two = line(numbered(1), numbered(2, drive={"bus_address": 1, "bus_id": 2}))
    quiet("bus-address-twice", dataclasses.replace(two, buses=(BUS, other)))


def test_bus_address_missing_fires():
    entry = fires("bus-address-missing", line(numbered(1, drive={"bus_address": None})))
    assert (entry.tag, entry.place.field) == ("ST1", "bus_address")


def test_bus_address_missing_quiet():
    quiet("bus-address-missing", line())
    quiet("bus-address-missing", line(numbered(1, drive={"bus_address": None, "bus_id": None})))


def test_bus_address_not_as_set_fires():
    entry = fires("bus-address-not-as-set", line(keyed(place=7)))
    assert "Bus address 1 is entered, setting place shows 7." in entry.says("metric")


def test_bus_address_not_as_set_quiet():
    quiet("bus-address-not-as-set", line())
    quiet("bus-address-not-as-set", line(keyed(place=None)))


def test_bus_settings_mixed_fires():
    entry = fires("bus-settings-mixed", line(keyed(baud=9600)))
    assert "runs at 19200 Bd; baud of this drive shows 9600 (9600 Bd)" in entry.says("metric")
    assert "even parity; parity of this drive" in fires(
        "bus-settings-mixed", line(keyed(parity=0))
    ).says("metric")


def test_bus_settings_mixed_quiet():
    quiet("bus-settings-mixed", line())
    quiet(
        "bus-settings-mixed",
        line(numbered(1, drive={"bus_id": None, "settings": settings(baud=9600)})),
    )


@pytest.mark.parametrize(
    ("code", "words", "fits"),
    [
        ("baud", "19.2 kBd", True),
        ("baud", "19 200 bit/s", True),
        ("baud", "9.6 kBd", False),
        ("baud", "119200 Bd", False),
        ("parity", "8E1", True),
        ("parity", "8N2", False),
        ("parity", "no parity, 2 stop bits", False),
    ],
)
def test_bus_settings_are_read_as_lists_word_them(code, words, fits):
    listed = tuple(
        dataclasses.replace(entry, options=f"4 = {words}") if entry.code == code else entry
        for entry in TYPE.listed_settings
    )
    held = line(keyed(**{code: 4}), kind={"listed_settings": listed})
    (quiet if fits else fires)("bus-settings-mixed", held)


def test_no_parity_is_none():
    listed = tuple(
        dataclasses.replace(entry, options="4 = no parity") if entry.code == "parity" else entry
        for entry in TYPE.listed_settings
    )
    none = dataclasses.replace(BUS, parity="none")
    quiet(
        "bus-settings-mixed", line(keyed(parity=4), kind={"listed_settings": listed}, buses=(none,))
    )


def bus(**changes):
    return line(buses=(dataclasses.replace(BUS, **changes),))


def test_bus_not_terminated_fires():
    entry = fires("bus-not-terminated", bus(terminated_at_last_drive=False))
    assert "is not terminated at the last drive." in entry.says("metric")
    neither = bus(terminated_at_last_drive=False, terminated_at_controller=False)
    assert "the controller and the last drive" in fires("bus-not-terminated", neither).says("us")


def test_bus_not_terminated_quiet():
    quiet("bus-not-terminated", bus())
    quiet("bus-not-terminated", bus(protocol="modbus_tcp", terminated_at_last_drive=False))


def many(number, **kind):
    return line(*[numbered(n) for n in range(1, number + 1)], kind=kind)


def test_bus_too_many_loads_fires():
    # 32 drives and the controller: 33 unit loads.
    entry = fires("bus-too-many-loads", many(32))
    assert "33 devices, the controller included, are 33 unit loads; a segment carries 32" in (
        entry.says("metric")
    )


def test_bus_too_many_loads_quiet():
    quiet("bus-too-many-loads", many(31))
    # 1 + 32 * 0.125 = 5 unit loads.
    quiet("bus-too-many-loads", many(32, unit_load=0.125))


def test_bus_place_twice_fires():
    held = line(numbered(1), numbered(2, drive={"bus_place": 1}))
    entry = fires("bus-place-twice", held)
    assert entry.level == "advice"
    assert "place 1 in the chain is used by ST1 and ST2" in entry.says("metric")


def test_bus_place_twice_quiet():
    quiet("bus-place-twice", line(numbered(1), numbered(2)))
