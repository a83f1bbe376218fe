"""What feeds the drive: each rule fires on one wrong entry and is quiet on the right one."""

import pytest

from tests.core.line.findings.sound import change, fires, line, quiet

THREE = {"supply_lines": "L1 L2 L3"}


def test_supply_phases_fires():
    entry = fires("supply-phases", line(change(drive=THREE)))
    assert entry.level == "blocker"
    assert "takes one phase; it is fed from L1, L2 and L3" in entry.says("metric")
    entry = fires("supply-phases", line(kind={"input_phases": "3"}))
    assert "takes three phases; it is fed from L1 and N" in entry.says("metric")


def test_supply_phases_quiet():
    quiet("supply-phases", line())
    quiet("supply-phases", line(change(drive=THREE), kind={"input_phases": "3"}))
    quiet("supply-phases", line(change(drive=THREE), kind={"input_phases": "1_or_3"}))
    # A three-phase drive whose maker states what it gives on one phase may be fed so.
    quiet("supply-phases", line(kind={"input_phases": "3", "derated_1ph": 0.5}))


def test_three_phase_drive_on_one_phase_fires():
    # Half of 4.2 A is 2.1 A; the motor asks 3.1 A.
    kind = {"input_phases": "3", "derated_1ph": 0.5}
    entry = fires("three-phase-drive-on-one-phase", line(kind=kind))
    assert entry.values == pytest.approx({"allowed_a": 2.1, "rated_a": 4.2, "motors_a": 3.1})


def test_three_phase_drive_on_one_phase_quiet():
    # Half of 6.4 A is 3.2 A.
    kind = {"input_phases": "3", "derated_1ph": 0.5, "output_current_a": 6.4}
    quiet("three-phase-drive-on-one-phase", line(kind=kind))


def test_supply_voltage_fires():
    # L1 N of a 480Y/277 V supply is 277 V, above 253 V; of 208Y/120 V it is 120 V, below 200 V.
    entry = fires("supply-voltage", line(supply={"kind": "3ph_480y_277"}))
    assert "fed with 277 V; drive type S drive takes at most 253 V" in entry.says("us")
    entry = fires("supply-voltage", line(supply={"kind": "3ph_208y_120"}))
    assert "fed with 120 V; drive type S drive takes at least 200 V" in entry.says("us")


def test_supply_voltage_quiet():
    # 208 V between two lines of 208Y/120 V lies in 200 to 253 V.
    quiet("supply-voltage", line())
    two = change(drive={"supply_lines": "L1 L2"})
    quiet("supply-voltage", line(two, supply={"kind": "3ph_208y_120"}))


def test_supply_voltage_with_one_end_of_the_range_entered_tells_that_end():
    held = line(kind={"input_voltage_max_v": None}, supply={"kind": "3ph_208y_120"})
    assert fires("supply-voltage", held).values["limit_v"] == 200.0
    quiet("supply-voltage", line(kind={"input_voltage_min_v": None, "input_voltage_max_v": None}))


def test_supply_frequency_fires():
    entry = fires("supply-frequency", line(kind={"input_frequency_min_hz": 57.0}))
    assert "has 50 Hz; drive type S drive takes at least 57 Hz" in entry.says("metric")


def test_supply_frequency_quiet():
    quiet("supply-frequency", line(supply={"frequency_hz": 60.0}))
    quiet("supply-frequency", line(supply={"frequency_hz": None}))


def test_lines_not_of_supply_fires():
    entry = fires("lines-not-of-supply", line(supply={"kind": "1ph_240"}))
    assert "1-phase 240 V, two-wire; a drive cannot be fed from L1 and N" in entry.says("metric")


def test_lines_not_of_supply_quiet():
    held = line(change(drive={"supply_lines": "L1 L2"}), supply={"kind": "1ph_240"})
    quiet("lines-not-of-supply", held)
