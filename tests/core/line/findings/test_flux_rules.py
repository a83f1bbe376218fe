"""Voltage per hertz of the settings against the motor as it is connected."""

import pytest

from tests.core.line.findings.sound import change, fires, keyed, line, quiet

ON_400 = {
    "input_phases": "3",
    "input_voltage_min_v": 360.0,
    "input_voltage_max_v": 440.0,
    "output_voltage_v": 400.0,
}


def on_400(held):
    return line(change(held, drive={"supply_lines": "L1 L2 L3"}), kind=ON_400)


def test_motor_flux_fires():
    # Delta links for 230 V on a drive set to 400 V at 50 Hz: (400/50)/(230/50) = 1.739.
    entry = fires("motor-flux", on_400(keyed(volts=400)))
    assert entry.level == "blocker"
    assert entry.values["flux_share"] == pytest.approx(1.7391, abs=1e-4)
    assert "400 V at 50 Hz; the motor as connected (delta) wants 230 V" in entry.says("metric")


def test_motor_flux_quiet():
    star = change(keyed(volts=400), motor={"connected_for": "high"})
    quiet("motor-flux", on_400(star))
    # 250 V is 8.7 % above; the drive gives no more than its 230 V anyway.
    quiet("motor-flux", line(keyed(volts=250)))


def test_motor_flux_quiet_where_a_delta_motor_runs_to_87_hz_on_400_v():
    # 400/87 = 4.598 V/Hz against 230/50 = 4.6 V/Hz: full flux, more speed.
    held = on_400(keyed(volts=400, hertz=87, hz_max=87))
    quiet("motor-flux", held)
    quiet("motor-weak", held)


def test_motor_weak_fires():
    # Star links for 400 V on a 230 V drive: 230/400 = 0.575.
    entry = fires("motor-weak", line(change(motor={"connected_for": "high"})))
    assert entry.values["flux_share"] == pytest.approx(0.575)
    assert "(star)" in entry.says("us")


def test_motor_weak_quiet():
    # 208/230 = 0.904 is still above 90 %.
    quiet("motor-weak", line(keyed(volts=208)))


def test_output_voltage_fires():
    # 230 V reach 400 V/50 Hz up to 50 * 230/400 = 28.75 Hz.
    entry = fires("output-voltage", line(change(motor={"connected_for": "high"})))
    assert entry.values == pytest.approx({"output_v": 230, "plate_v": 400, "weak_from_hz": 28.75})


def test_output_voltage_of_a_120_v_class_depends_on_doubling():
    supply = {"kind": "3ph_208y_120"}
    # 120 V of 230 V; weak from 50 * 120/230 = 26.09 Hz.
    entry = fires("output-voltage", line(supply=supply))
    assert entry.values["weak_from_hz"] == pytest.approx(26.087, abs=1e-3)
    quiet("output-voltage", line(supply=supply, kind={"doubles_voltage": True}))


def test_output_voltage_quiet():
    quiet("output-voltage", line())


def test_output_voltage_high_fires():
    unset = [entry for entry in line().drive_types[0].listed_settings if entry.code != "volts"]
    kind = {**ON_400, "listed_settings": tuple(unset)}
    held = change(keyed(volts=None), drive={"supply_lines": "L1 L2 L3"})
    entry = fires("output-voltage-high", line(held, kind=kind))
    assert entry.level == "blocker"
    # 400/230 = 1.739
    assert entry.values["flux_share"] == pytest.approx(1.7391, abs=1e-4)


def test_output_voltage_high_quiet():
    unset = [entry for entry in line().drive_types[0].listed_settings if entry.code != "volts"]
    kind = {"listed_settings": tuple(unset)}
    quiet("output-voltage-high", line(keyed(volts=None), kind=kind))
    # With the motor voltage set, the other rules judge the flux.
    quiet("output-voltage-high", on_400(keyed(volts=230)))
