"""Limits of motor and driven part, cooling, insulation, torque."""

import pytest

from tests.core.line.findings.sound import RPM, change, fires, keyed, line, quiet


def test_above_rated_frequency_fires():
    # 50 of 60 Hz: torque falls to 83.3 %.
    entry = fires("above-rated-frequency", line(keyed(hz_max=60)))
    assert entry.values["torque_share"] == pytest.approx(0.8333, abs=1e-4)


def test_above_rated_frequency_quiet():
    quiet("above-rated-frequency", line())
    quiet("above-rated-frequency", line(change(keyed(hz_max=60), above_base=True)))
    # A 60 Hz motor's everyday top is 60 Hz.
    quiet("above-rated-frequency", line(change(keyed(hz_max=60), motor={"frequency_hz": 60.0})))


def test_motor_too_fast_fires():
    # 4 poles at 100 Hz: 3000 rpm above 2700 rpm.
    entry = fires("motor-too-fast", line(change(keyed(hz_max=100), above_base=True)))
    assert entry.level == "blocker"
    assert entry.values["top_rad_s"] == pytest.approx(3000 * RPM)
    assert "turns 3000 rpm; it may turn 2700 rpm" in entry.says("metric")


def test_motor_too_fast_quiet():
    # 90 Hz: 2700 rpm.
    quiet("motor-too-fast", line(change(keyed(hz_max=90), above_base=True)))


def test_driven_part_too_fast_fires():
    # 1500/20 = 75 rpm at 50 Hz; allowed 60 rpm: 50 * 60/75 = 40 Hz.
    held = change(drivetrain={"shaft_speed_max_rad_s": 60 * RPM})
    entry = fires("driven-part-too-fast", line(held))
    assert entry.values["reach_hz"] == pytest.approx(40.0)
    assert "turns 75 rpm; it may turn 60 rpm" in entry.says("us")


def test_driven_part_too_fast_quiet():
    quiet("driven-part-too-fast", line(change(drivetrain={"shaft_speed_max_rad_s": 75 * RPM})))


def test_too_slow_to_cool_fires():
    # Rule of thumb: 70 % at 12.5 Hz, 85 % at 25 Hz; 80 % lies at 12.5 + 12.5 * 10/15 = 20.83 Hz.
    held = change(keyed(hz_min=18), drivetrain={"load_fraction": 0.8})
    entry = fires("too-slow-to-cool", line(held))
    assert entry.level == "advice"
    assert entry.values["cooled_from_hz"] == pytest.approx(20.833, abs=0.001)
    assert "rule of thumb" in entry.says("metric")


def test_too_slow_to_cool_quiet():
    heavy = {"load_fraction": 0.8}
    quiet("too-slow-to-cool", line(change(keyed(hz_min=21), drivetrain=heavy)))
    # The knob cannot go below the bottom of its reference.
    quiet("too-slow-to-cool", line(change(keyed(hz_min=0, low=21), drivetrain=heavy)))
    forced = change(keyed(hz_min=5), motor={"cooling": "forced"}, drivetrain=heavy)
    quiet("too-slow-to-cool", line(forced))
    fan = {"load_fraction": 1.0, "load_kind": "quadratic"}
    quiet("too-slow-to-cool", line(change(keyed(hz_min=5), drivetrain=fan)))


def high(length, duty):
    return change(
        motor={"connected_for": "high", "inverter_duty": duty}, motor_cable={"length_m": length}
    )


def test_voltage_peaks_fires():
    # 10 m is beyond 1.6e8 * 0.1e-6 / 2 = 8 m: 2 * 400 * √2 = 1131 V against 1000 V.
    entry = fires("voltage-peaks", line(high(10.0, "unknown")))
    assert entry.values["peak_v"] == pytest.approx(1131.4, abs=0.1)
    assert "not known to suit inverter feed" in entry.says("metric")
    assert "not suited to" in fires("voltage-peaks", line(high(10.0, "no"))).says("metric")


def test_voltage_peaks_quiet():
    quiet("voltage-peaks", line(high(10.0, "yes")))
    # 6 m: 565.7 * (1 + 6/8) = 990 V.
    quiet("voltage-peaks", line(high(6.0, "no")))
    # 230 V: 2 * 230 * √2 = 651 V.
    quiet("voltage-peaks", line(change(motor={"inverter_duty": "no"})))
    # A voltage that the standard does not know ends no program.
    quiet("voltage-peaks", line(change(motor={"voltage_low_v": 690.0, "inverter_duty": "no"})))


def test_torque_short_fires():
    # A fan at 60 of 50 Hz asks 0.9 * 1.44 = 1.296 of 0.833.
    fan = {"load_fraction": 0.9, "load_kind": "quadratic"}
    entry = fires("torque-short", line(change(keyed(hz_max=60), above_base=True, drivetrain=fan)))
    assert entry.values["asked_share"] == pytest.approx(1.296)
    assert entry.values["given_share"] == pytest.approx(0.8333, abs=1e-4)
    # More than rated torque is short at any frequency.
    assert fires("torque-short", line(change(drivetrain={"load_fraction": 1.1})))


def test_torque_short_quiet():
    # A belt asks its 80 % at 60 Hz too, and 83.3 % is there.
    belt = {"load_fraction": 0.8}
    quiet("torque-short", line(change(keyed(hz_max=60), above_base=True, drivetrain=belt)))
    # With 400 V at 87 Hz full torque is there up to 87 Hz.
    fast = change(keyed(hz_max=87, hertz=87, volts=400), above_base=True)
    quiet("torque-short", line(change(fast, drivetrain={"load_fraction": 1.0})))
