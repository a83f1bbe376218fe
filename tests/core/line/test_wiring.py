"""Every conductor of a station, from where to where, with its number and colour."""

import dataclasses

from core.line import wire_line
from core.model import Bus, Cable, Controls, DigitalInput, Drive, Output, SpeedReference
from tests.core.line.builders import DRIVE_TYPE, line, station


def wires(made, run):
    return [wire for wire in wire_line(made).conductors if wire.run == run]


def test_single_phase_power_in_by_iec_colours():
    power = wires(line(station()), "power_in")
    assert [(w.number, w.end.terminal, w.colour) for w in power] == [
        ("ST01-P1", "L1", "brown"),
        ("ST01-P2", "L2/N", "blue"),
        ("ST01-P3", "PE", "green-yellow"),
    ]
    assert power[0].start.device == "shed"


def test_two_hot_lines_by_nec_colours():
    held = dataclasses.replace(station().drive, supply_lines="L1 L2")
    power = wires(line(station(drive=held), wiring_rules="nec"), "power_in")
    assert [w.colour for w in power] == ["black", "red", "green"]


def test_motor_leads_and_earth_run_from_drive_to_motor():
    leads = wires(line(station()), "motor")
    assert [(w.start.terminal, w.end.terminal) for w in leads] == [
        ("U", "U1"),
        ("V", "V1"),
        ("W", "W1"),
        ("PE", "PE"),
    ]
    assert {w.end.device for w in leads} == {"ST01 motor M1"}


def test_potentiometer_has_three_wires_and_a_voltage_two():
    pot = SpeedReference(1, "potentiometer", "RP1", "2", "1", "3", "V in", pot_ohm=10e3)
    three = wires(line(station(reference=pot)), "reference")
    assert [(w.start.terminal, w.end.terminal) for w in three] == [
        ("3", "X1:1"),
        ("2", "X1:3"),
        ("1", "X1:4"),
    ]
    assert len(wires(line(station()), "reference")) == 2


def test_keypad_reference_has_no_wire():
    assert wires(line(station(reference=SpeedReference(1, "keypad"))), "reference") == []


def test_source_logic_brings_24_v_to_the_device_and_sink_logic_the_common():
    inputs = (DigitalInput(1, "X1:7", "forward", "open", "S1", "14", "13"),)
    for logic, terminal in (("source", "X1:6"), ("sink", "X1:8")):
        made = station(controls=Controls(1, "two_wire", logic), digital_inputs=inputs)
        run = wires(line(made), "controls")
        assert [w.end.terminal for w in run] == ["X1:7", terminal]
        assert run[1].start.terminal == "13"


def test_output_has_its_wire_and_its_common():
    made = station(outputs=(Output(1, "relay", "fault", "X3:1", "X3:2", "H1", "1", "2"),))
    assert [(w.start.terminal, w.end.terminal) for w in wires(line(made), "outputs")] == [
        ("X3:1", "1"),
        ("X3:2", "2"),
    ]


def test_size_and_cable_come_from_the_run_and_the_earth_has_its_own_size():
    cable = Cable(1, "motor", "4 G", 2.5e-6, 4e-6, 12.0, "drive")
    leads = wires(line(station(cables=(cable,))), "motor")
    assert [w.size_m2 for w in leads] == [2.5e-6, 2.5e-6, 2.5e-6, 4e-6]
    assert leads[0].cable is cable


def test_what_was_not_entered_stays_empty():
    bare = station(drive=Drive(1, None, supply_id=1, supply_lines="L1 N"))
    power = wires(line(bare, drive_types=()), "power_in")
    assert [w.end.terminal for w in power] == ["", "", ""]
    assert {w.size_m2 for w in power} == {None}


def test_bus_goes_from_the_controller_along_the_chain():
    bus = Bus(1, "field bus", controller="K1", terminal_plus="A", terminated_at_last_drive=True)
    first, second = (
        station(
            id=number,
            tag=f"ST0{number}",
            drive=dataclasses.replace(station().drive, bus_id=1, bus_place=3 - number),
        )
        for number in (1, 2)
    )
    made = line(first, second, buses=(bus,))
    plus = [w for w in wires(made, "bus") if w.purpose.endswith("plus")]
    assert [(w.start.device, w.end.device) for w in plus] == [
        ("K1", "ST02 drive"),
        ("ST02 drive", "ST01 drive"),
    ]
    (chain,) = wire_line(made).buses
    assert chain.devices == ("K1", "ST02 drive", "ST01 drive")
    assert (chain.terminated_first, chain.terminated_last) == (False, True)


def test_wire_numbers_are_unique_on_the_line():
    stations = [
        station(id=number, tag=f"ST{number:02d}", motors=station().motors * 2)
        for number in range(1, 30)
    ]
    numbers = [w.number for w in wire_line(line(*stations)).conductors]
    assert len(numbers) == len(set(numbers)) == 29 * (3 + 8 + 2)


def test_terminals_come_from_the_drive_type():
    assert {w.end.terminal for w in wires(line(station()), "reference")} <= {
        entry.designation for entry in DRIVE_TYPE.terminals
    }
